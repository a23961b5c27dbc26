//go:build unix

package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/storage"
)

// reads is how often a horse's visits are read.
const reads = 300

// storeTable runs the store's own benchmark of an accepted answer beside one put
// of the file library, and reads the visits of a comparison.
func (b *bench) storeTable() error {
	c := exec.Command("go", "test", "./storage", "-run", "XXX", "-bench", "^BenchmarkAppend$", "-benchtime", "1000x", "-count", "3")
	c.Dir = b.root
	out, err := c.CombinedOutput()
	if err != nil {
		return fmt.Errorf("the store's benchmarks: %w: %s", err, out)
	}
	rows := [][]string{{"what", "time", "against one put of the same bytes"}}
	line := regexp.MustCompile(`^BenchmarkAppend\S*\s+\d+\s+(\d+) ns/op\s+(\S+) floor-ratio\s+(\S+) floor-µs/op`)
	scan := bufio.NewScanner(strings.NewReader(string(out)))
	for scan.Scan() {
		if m := line.FindStringSubmatch(scan.Text()); m != nil {
			ns, err := strconv.ParseFloat(m[1], 64)
			if err != nil {
				return err
			}
			rows = append(rows, []string{"an accepted answer stored, fsync included", fmt.Sprintf("%.0f µs (one put %s µs)", ns/1000, m[3]), m[2]})
		}
	}
	for _, f := range []struct {
		what  string
		after func(*storage.Record) error // before the answer, not measured
	}{
		{"the first answer after a start, as the program gives it: every page was looked at after the first frame", (*storage.Record).Warm},
		{"the first answer before that, when every page is looked at", func(*storage.Record) error { return nil }},
	} {
		first, err := b.firstAnswers(f.after)
		if err != nil {
			return err
		}
		rows = append(rows, []string{f.what, fmt.Sprintf("median %s ms, slowest %s ms", ms(first.median), ms(first.p99)), ""})
	}
	s, err := b.readPast()
	if err != nil {
		return err
	}
	rows = append(rows, []string{"the 20 visits of a comparison read", fmt.Sprintf("median %s ms, p99 %s ms", ms(s.median), ms(s.p99)), ""})
	if s, err = b.readRound(); err != nil {
		return err
	}
	rows = append(rows, []string{"today's round, from every visit of every horse, in the background of home", fmt.Sprintf("median %s ms, slowest %s ms", ms(s.median), ms(s.p99)), ""})
	table("The store.", rows)
	return nil
}

// firstWrites is how often the record is opened and written to.
const firstWrites = 10

// firstAnswers measures the first answer after a start. Before its first write the store checks every page, so that it
// does not write into a damaged file; the program has it done in the background after the first frame.
func (b *bench) firstAnswers(before func(*storage.Record) error) (spread, error) {
	all := make([]time.Duration, firstWrites)
	for i := range all {
		d, err := b.firstAnswer(before)
		if err != nil {
			return spread{}, err
		}
		all[i] = d
	}
	return spreadOf(all), nil
}

func (b *bench) firstAnswer(before func(*storage.Record) error) (took time.Duration, err error) {
	r, err := storage.Open(b.data, storage.Options{})
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	open, err := r.Unfinished()
	if err != nil || len(open) == 0 {
		return 0, fmt.Errorf("%d visits are open: %w", len(open), err)
	}
	if err := before(r); err != nil {
		return 0, err
	}
	start := time.Now() //nolint:forbidigo // the stopwatch of a measurement
	_, err = r.Append(exam.Entry{Visit: open[0].ID, Kind: exam.EntryNote, At: b.now, By: "Nell Harrow", Note: "stood well"})
	return time.Since(start), err
}

// rounds is how often today's round is read.
const rounds = 7

func (b *bench) readRound() (spread, error) {
	r, err := storage.Open(b.data, storage.Options{ReadOnly: true})
	if err != nil {
		return spread{}, err
	}
	defer r.Close() //nolint:errcheck // read only
	schedule, err := due.BuiltIn()
	if err != nil {
		return spread{}, err
	}
	table, err := ranges.BuiltIn()
	if err != nil {
		return spread{}, err
	}
	j := judge.New(table, steps.Table())
	all := make([]time.Duration, rounds)
	for i := range all {
		start := time.Now() //nolint:forbidigo // the stopwatch of a measurement
		_, err := round.Read(context.Background(), r, round.Today(b.now), b.now, schedule, j)
		all[i] = time.Since(start)
		if err != nil {
			return spread{}, err
		}
	}
	return spreadOf(all), nil
}

func (b *bench) readPast() (spread, error) {
	r, err := storage.Open(b.data, storage.Options{ReadOnly: true})
	if err != nil {
		return spread{}, err
	}
	defer r.Close() //nolint:errcheck // read only
	found, err := r.Horses()
	if err != nil {
		return spread{}, err
	}
	all := make([]time.Duration, reads)
	for i := range all {
		start := time.Now() //nolint:forbidigo // the stopwatch of a measurement
		past, err := r.Past(found[i%len(found)].Horse.ID, visitsEach)
		all[i] = time.Since(start)
		if err != nil || len(past) < visitsEach {
			return spread{}, fmt.Errorf("%d visits read: %w", len(past), err)
		}
	}
	return spreadOf(all), nil
}
