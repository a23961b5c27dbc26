package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam"
)

// maxRounds is how often each laptop may exchange without faults until all are equal: the others take in one round what
// a laptop brought in the round before.
const maxRounds = 8

func (w *world) peace() error {
	for w.done.rounds = 1; w.done.rounds <= maxRounds; w.done.rounds++ {
		held := map[string]int{}
		for _, l := range w.all {
			c := w.process("settle", w.vars(l, w.at)...)
			out, err := c.Output()
			if err != nil {
				return fmt.Errorf("%s in peace: %w", l.dir, err)
			}
			held[strings.Fields(string(out))[0]]++
		}
		if len(held) == 1 {
			return nil
		}
	}
	return errors.New("the records are not equal")
}

// nothingLost looks for every visit that was accepted, in every record.
func (w *world) nothingLost() error {
	visits := map[string]bool{}
	for _, l := range w.all {
		for _, suffix := range []string{"", "-twin"} {
			data, err := os.ReadFile(filepath.Join(l.dir, acceptedName+suffix))
			if err != nil && !errors.Is(err, os.ErrNotExist) {
				return err
			}
			for line := range bytes.Lines(data) {
				if bytes.HasSuffix(line, []byte("\n")) {
					visits[string(bytes.TrimSpace(line))] = true
				}
			}
		}
	}
	w.done.visits = len(visits)
	for _, l := range w.all {
		r, err := trial.Open(l.name, l.dir)
		if err != nil {
			return err
		}
		for v := range visits {
			if _, err := r.Visit(exam.VisitID(v)); err != nil {
				return errors.Join(fmt.Errorf("%s: %w", l.dir, err), r.Close())
			}
		}
		report, err := r.Check(context.Background())
		if err == nil && !report.OK {
			err = fmt.Errorf("%s: %v", l.dir, report.Broken)
		}
		logs, logErr := r.Logs()
		w.done.lines = 0
		for _, h := range logs {
			w.done.lines += h.N - h.Base
		}
		if err := errors.Join(err, logErr, r.Close()); err != nil {
			return err
		}
	}
	return nil
}
