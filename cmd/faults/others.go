package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/storage"
	"loosebox/storage/storagetest"
)

func median(list []time.Duration) time.Duration {
	if len(list) == 0 {
		return 0
	}
	list = slices.Sorted(slices.Values(list))
	return list[len(list)/2].Round(time.Millisecond)
}

// withRecord opens a record, has an actor play one visit up to its procedures, and calls work with the actor.
func withRecord(dir string, seed uint64, work func(a *actor) error) (err error) {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	a := &actor{r: r, rnd: chance(rounds{seed: seed}, 3), out: new(bytes.Buffer), at: noon()}
	if err := a.visit(); err != nil {
		return err
	}
	return work(a)
}

// whole checks every line of a record.
func whole(r *storage.Record) error {
	report, err := r.Check(context.Background())
	if err == nil && !report.OK {
		err = broken("%v", report.Broken)
	}
	return err
}

// tryGone moves the folder away while the record is open, and back: no write may be reported as stored meanwhile.
func tryGone(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing that was called stored", seen: "a sentence at the next answer; what was stored is read on; the folder put back, the exam goes on"}
	if !canRemoveOpen {
		return outcome{seen: "an open folder cannot be removed on this system", lost: "nothing"}, nil
	}
	for i := range r.others {
		place := filepath.Join(dir, fmt.Sprint(i))
		err := withRecord(place, r.seed+uint64(i), func(a *actor) error {
			if err := os.Rename(place, place+" away"); err != nil {
				return err
			}
			if err := a.visit(); !errors.Is(err, storage.ErrGone) {
				return broken("an answer into a folder that is gone: %v", err)
			}
			if err := whole(a.r); err != nil {
				return err
			}
			if err := os.Rename(place+" away", place); err != nil {
				return err
			}
			if err := a.visit(); err != nil {
				return broken("after the folder was put back: %v", err)
			}
			return whole(a.r)
		})
		if err != nil {
			return o, err
		}
		o.times++
	}
	return o, nil
}

// tryClock sets the clock back a year in the middle of a visit and after it.
func tryClock(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing", seen: "lines keep their order and their own times; a decision \"from the future\" unlocks nothing until the clock is right"}
	for i := range r.others {
		err := withRecord(filepath.Join(dir, fmt.Sprint(i)), r.seed+uint64(i), func(a *actor) error {
			last := a.at
			a.at = a.at.AddDate(-1, 0, 0)
			if err := a.visit(); err != nil {
				return broken("a visit after the clock was set back: %v", err)
			}
			entries, err := a.r.Entries(a.open)
			if err != nil {
				return err
			}
			if !entries[0].At.Before(last) {
				return broken("the clock was not set back")
			}
			v, err := a.r.Begin(exam.Entry{Kind: exam.EntryOpened, At: last, By: "Ann", Opening: &exam.Opening{Horse: a.took.Horse, Routine: "full-exam"}})
			if err != nil {
				return err
			}
			a.open, a.took, a.at = v.ID, v, last
			if err := a.put(exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
				Words: "go", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Drawing}},
			}}); err != nil {
				return err
			}
			_, err = a.r.Append(exam.Entry{
				Visit: v.ID, Kind: exam.EntryDraw, At: last.AddDate(-1, 0, 0), By: "Ann",
				Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count"}},
			})
			if !errors.Is(err, exam.ErrRefused) || !strings.Contains(err.Error(), "clock was set back") {
				return broken("a procedure under a clock that was set back: %v", err)
			}
			return whole(a.r)
		})
		if err != nil {
			return o, err
		}
		o.times++
	}
	return o, nil
}

// tryTwo starts a second program while the first holds the record.
func tryTwo(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing"}
	var took []time.Duration
	for i := range r.others {
		place := filepath.Join(dir, fmt.Sprint(i))
		err := withRecord(place, r.seed+uint64(i), func(a *actor) error {
			cmd, err := child(jobOpen, place)
			if err != nil {
				return err
			}
			var said stderr
			cmd.Stderr = &said
			start := time.Now() //nolint:forbidigo // this program measures
			err = cmd.Run()
			took = append(took, time.Since(start))
			if err == nil || cmd.ProcessState.ExitCode() != codeInUse || !strings.Contains(said.text, "close the other one") {
				return broken("the second program said %q (%v)", said.text, err)
			}
			if err := a.visit(); err != nil {
				return broken("the first could not go on: %v", err)
			}
			return whole(a.r)
		})
		if err != nil {
			return o, err
		}
		o.times++
	}
	o.seen = fmt.Sprintf("the second says who holds it and ends, after %s (median); the first goes on", median(took))
	return o, nil
}

// tryNewer opens a file that a newer version wrote.
func tryNewer(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing", seen: "refused with a sentence; the file stays as it is, byte for byte"}
	for i := range r.others {
		place := filepath.Join(dir, fmt.Sprint(i))
		if err := withRecord(place, r.seed+uint64(i), func(*actor) error { return nil }); err != nil {
			return o, err
		}
		file := filepath.Join(place, storage.FileName)
		if err := storagetest.MakeNewer(file); err != nil {
			return o, err
		}
		before, err := os.ReadFile(file)
		if err != nil {
			return o, err
		}
		if err := openOnce(place); !errors.Is(err, exam.ErrNewer) {
			return o, broken("a newer file: %v", err)
		}
		after, err := os.ReadFile(file)
		if err != nil || !bytes.Equal(before, after) {
			return o, broken("a newer file was changed")
		}
		o.times++
	}
	return o, nil
}
