//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

const importMap = `horse: {kind: horse}
visit: {by: Nell Harrow}
columns:
  Horse: horse name
  Date: date
  Temp: {step: temp.rectal, unit: C or F}
  HR: heart.rate
  RR: breath.rate
  Gums: {step: gum.colour, values: {P: pink}, else: as written}
  CRT: gum.refill
  Gut: {step: gut.sounds, values: {"++": heard, N: usual}, else: as written}
  Manure: {step: manure, values: {N: usual}, else: as written}
  Weight: {step: weight.body, unit: kg}
  Notes: {note: Notes}
`

// importTable measures the import of a long spreadsheet into the record, a second import of the same rows, and undoing it.
// Each row is of one of 500 horses, half of which the record has already. It changes the record.
func (b *bench) importTable() error {
	file, mapping := filepath.Join(b.dir, "year.csv"), filepath.Join(b.dir, "map.yaml")
	var text bytes.Buffer
	text.WriteString("Horse,Date,Temp,HR,RR,Gums,CRT,Gut,Manure,Weight,Notes\n")
	for i := range b.rows {
		day := b.now.AddDate(0, 0, -40-i/500).Format(time.DateOnly)
		_, _ = fmt.Fprintf(&text, "Aster %03d,%s,%.1f,%d,%d,%s,%d,%s,N,%d,%s\n", 250+i%500, day, 37.5+float64(i%10)/10, 30+i%20, 8+i%9, // a Buffer does not fail
			[]string{"P", "pale", "odd"}[i%3], 1+i%2, []string{"++", "N", "slow"}[i%3], 450+i%90, []string{"", "left some hay"}[i%2])
	}
	if err := os.WriteFile(file, text.Bytes(), 0o600); err != nil {
		return err
	}
	if err := os.WriteFile(mapping, []byte(importMap), 0o600); err != nil {
		return err
	}
	rows := [][]string{{"what", "time", "a thousand rows", "processor time of that", "memory at most"}}
	measure := func(what string, args ...string) error {
		c := exec.Command(b.ours, append([]string{"--data", b.data}, args...)...)
		start := time.Now() //nolint:forbidigo // this program measures
		out, err := c.CombinedOutput()
		took := time.Since(start)
		if err != nil {
			return fmt.Errorf("%s: %w: %s", what, err, out)
		}
		memory, busy := "not known", c.ProcessState.UserTime()+c.ProcessState.SystemTime()
		if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
			memory = fmt.Sprintf("%d MB", u.Maxrss>>10)
		}
		thousands := float64(b.rows) / 1000
		rows = append(rows, []string{what, fmt.Sprintf("%.1f s", took.Seconds()), fmt.Sprintf("%.2f s", took.Seconds()/thousands), fmt.Sprintf("%.2f s", busy.Seconds()/thousands), memory})
		return nil
	}
	for _, r := range []struct {
		what string
		args []string
	}{
		{"looked at, and a map proposed", []string{"--propose"}},
		{"read and set beside the record; nothing written", []string{"--map", mapping, "--dry-run"}},
		{"imported", []string{"--map", mapping, "--by", "Nell Harrow"}},
		{"imported again, every row is there", []string{"--map", mapping, "--by", "Nell Harrow"}},
	} {
		if err := measure(r.what, append([]string{"import", file}, r.args...)...); err != nil {
			return err
		}
	}
	list, err := exec.Command(b.ours, "--data", b.data, "imports").Output()
	if err != nil {
		return fmt.Errorf("list the imports: %w", err)
	}
	number, _, _ := strings.Cut(string(list), " ")
	if err := measure("taken back, every visit voided", "imports", "--take-back", number, "--reason", "measured", "--by", "Nell Harrow"); err != nil {
		return err
	}
	table(fmt.Sprintf("A spreadsheet of %d rows and 11 columns into this record (target: 1.5 s a thousand rows)", b.rows), rows)
	return nil
}
