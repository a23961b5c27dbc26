//go:build unix

package main

import (
	"bufio"
	"fmt"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"time"

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
	s, err := b.readPast()
	if err != nil {
		return err
	}
	rows = append(rows, []string{"the 20 visits of a comparison read", fmt.Sprintf("median %s ms, p99 %s ms", ms(s.median), ms(s.p99)), ""})
	table("The store.", rows)
	return nil
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
