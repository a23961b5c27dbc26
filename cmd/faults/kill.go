package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"loosebox/exam"
	"loosebox/storage"
)

// killsEach is how many programs are killed over one record, so that checking
// every line after each stays quick.
const killsEach = 20

// accepted holds the digest of every line that a child reported as stored, by visit and number.
type accepted map[exam.VisitID]map[int]exam.Hash

// take adds a line of a child's report; false where the line is cut off.
func (a accepted) take(line string) bool {
	var visit exam.VisitID
	var seq int
	var hash exam.Hash
	if _, err := fmt.Sscan(line, &visit, &seq, &hash); err != nil || len(hash) != 64 {
		return false
	}
	if a[visit] == nil {
		a[visit] = map[int]exam.Hash{}
	}
	a[visit][seq] = hash
	return true
}

// tryKills kills programs in the middle of an exam. After each the record is
// opened, every accepted line is looked for, and every line is checked.
func tryKills(dir string, r rounds) (outcome, error) {
	rnd := chance(r, 9)
	o := outcome{fault: "kill", lost: "nothing"}
	lines, slowest := 0, time.Duration(0)
	var took []time.Duration
	var all accepted
	place := ""
	for i := range r.kills {
		if i%killsEach == 0 {
			removeAll(place)
			place, all = filepath.Join(dir, fmt.Sprint(i)), accepted{}
		}
		n, err := killOnce(place, rnd.Uint64(), 1+rnd.IntN(45), time.Duration(rnd.IntN(3000))*time.Microsecond, all)
		if err != nil {
			return o, fmt.Errorf("kill %d: %w", i+1, err)
		}
		opened, err := survived(place, all)
		if err != nil {
			return o, fmt.Errorf("after kill %d: %w", i+1, err)
		}
		o.times++
		lines += n
		took = append(took, opened)
		slowest = max(slowest, opened)
	}
	o.seen = fmt.Sprintf("%d lines accepted before a kill; opened again in %s (median), %s at most", lines, median(took), slowest.Round(time.Millisecond))
	if median(took) > time.Second {
		return o, broken("a record takes %s to open", median(took))
	}
	return o, nil
}

// killOnce has a child play exams, and kills it a moment after it reported some lines, while it writes the next one. It
// returns how many lines it reported.
func killOnce(dir string, seed uint64, after int, moment time.Duration, all accepted) (int, error) {
	c, err := started(jobExam, dir, fmt.Sprintf("%s=%d", seedInJob, seed))
	if err != nil {
		return 0, err
	}
	n := 0
	for c.told.Scan() {
		if !all.take(c.told.Text()) {
			break // cut off in the middle of a line
		}
		if n++; n == after {
			time.Sleep(moment)
			if err := c.cmd.Process.Kill(); err != nil {
				return n, err
			}
		}
	}
	if err := c.cmd.Wait(); err == nil || n < after {
		return n, broken("it ended by itself after %d lines: %s", n, c.said.text)
	}
	return n, nil
}

// survived opens the record and looks for every accepted line; took is the time until the open visit could be continued.
func survived(dir string, all accepted) (took time.Duration, err error) {
	start := time.Now() //nolint:forbidigo // this program measures
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return 0, broken("it cannot be opened: %v", err)
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	if _, err := r.Unfinished(); err != nil {
		return 0, broken("the open visits cannot be read: %v", err)
	}
	took = time.Since(start)
	for visit, lines := range all {
		entries, err := r.Entries(visit)
		if err != nil {
			return took, broken("an accepted visit cannot be read: %v", err)
		}
		for seq, hash := range lines {
			if seq > len(entries) || entries[seq-1].Hash != hash {
				return took, broken("entry %d of visit %s was accepted and is gone", seq, visit)
			}
		}
	}
	report, err := r.Check(context.Background())
	if err != nil {
		return took, err
	}
	if !report.OK {
		return took, broken("%v", report.Broken)
	}
	return took, nil
}

// stderr keeps the beginning of what a child writes to it.
type stderr struct{ text string }

func (s *stderr) Write(p []byte) (int, error) {
	if len(s.text) < 4000 {
		s.text += string(p)
	}
	return len(p), nil
}
