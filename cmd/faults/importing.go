package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"loosebox/exam/intake"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// The spreadsheet of the trial: many rows, at most as many as are taken, and nearly the most bytes.
const (
	mostRows  = 10_000
	tableFile = "table.csv"
	tableMap  = `
visit: {by: Ann, routine: tpr-recheck}
columns:
  horse: {is: horse name}
  kind: {is: kind}
  day: {is: date}
  pulse: heart.rate
  words: {note: from the yard's book}
`
)

// makeTable writes the spreadsheet: ten visits to each horse.
func makeTable(file string, rows int) error {
	var b bytes.Buffer
	b.WriteString("horse,kind,day,pulse,words\n")
	room := (intake.MaxBytes - 64) / mostRows
	for i := range rows - 1 {
		row := fmt.Sprintf("Horse %d,horse,%s,%d,", i/10, noon().AddDate(0, 0, -i%10).Format(time.DateOnly), 30+i%12)
		b.WriteString(row + strings.Repeat("quiet ", (room-len(row)-1)/6) + "\n")
	}
	return os.WriteFile(file, b.Bytes(), 0o600)
}

// importTable is the child: it imports the spreadsheet, and reports when it begins to write and when it has written.
func importTable(dir string, out io.Writer) error {
	m, err := intake.ReadMap(strings.NewReader(tableMap), "map.yaml", steps.Table())
	if err != nil {
		return err
	}
	table, err := os.Open(filepath.Join(filepath.Dir(dir), tableFile))
	if err != nil {
		return err
	}
	visits, err := m.Apply(table, tableFile)
	if err := errors.Join(err, table.Close()); err != nil {
		return err
	}
	var batch []storage.Imported
	for _, group := range intake.ByHorse(visits) {
		one := storage.Imported{Horse: group.Horse}
		for _, v := range group.Visits {
			one.Entries = append(one.Entries, v.Entries)
		}
		batch = append(batch, one)
	}
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(out, "begins"); err != nil {
		return err
	}
	if err := errors.Join(r.Import(context.Background(), batch), r.Close()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, "written")
	return err
}

// tryImport kills an import of 10 MB in the middle, then lets it run to its end: all
// of its visits are in the record, or none.
func tryImport(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing"}
	if err := makeTable(filepath.Join(dir, tableFile), r.rows); err != nil {
		return o, err
	}
	rnd := chance(r, 7)
	var took []time.Duration
	none := 0
	for i := range max(r.others/4, 1) {
		place := filepath.Join(dir, fmt.Sprint(i))
		written, err := importOnce(place, time.Duration(1+rnd.IntN(500))*time.Millisecond)
		if err != nil {
			return o, err
		}
		n, err := visitsIn(place)
		if err != nil {
			return o, err
		}
		switch {
		case n == 0 && !written:
			none++
		case n != r.rows-1:
			return o, broken("%d of %d visits after a kill, called written: %t", n, r.rows-1, written)
		}
		if n == 0 {
			start := time.Now() //nolint:forbidigo // this program measures
			if written, err := importOnce(place, 0); err != nil || !written {
				return o, broken("the import after the kill: written %t, %v", written, err)
			}
			took = append(took, time.Since(start))
			if n, err = visitsIn(place); err != nil || n != r.rows-1 {
				return o, broken("%d of %d visits: %v", n, r.rows-1, err)
			}
		}
		removeAll(place)
		o.times++
	}
	o.seen = fmt.Sprintf("all %d visits or none: none %d times of %d, and then all, in %s (median)", r.rows-1, none, o.times, median(took))
	return o, nil
}

// importOnce has a child import, and kills it the given time after it began to write; 0 lets it finish. Written is whether
// the child reported that everything was written.
func importOnce(dir string, kill time.Duration) (written bool, err error) {
	c, err := started(jobImport, dir)
	if err != nil {
		return false, err
	}
	if !c.told.Scan() || c.told.Text() != "begins" {
		return false, errors.Join(broken("the import did not begin: %s", c.said.text), c.cmd.Wait())
	}
	if kill > 0 {
		time.AfterFunc(kill, func() { _ = c.cmd.Process.Kill() })
	}
	written = c.told.Scan() && c.told.Text() == "written" // or the end of the child
	err = c.cmd.Wait()
	if kill == 0 && err != nil || hasPanic(c.said.text) {
		return written, broken("the import ended with %v: %s", err, c.said.text)
	}
	return written, nil
}

// visitsIn opens a record, checks every line, and counts its visits.
func visitsIn(dir string) (n int, err error) {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return 0, broken("it cannot be opened: %v", err)
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	report, err := r.Check(context.Background())
	if err == nil && !report.OK {
		err = broken("%v", report.Broken)
	}
	return report.Visits, err
}
