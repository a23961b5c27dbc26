package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"loosebox/exam"
	"loosebox/storage"
)

// A specimen is a small record with a closed, a corrected, a struck and an open visit. A digest over all that can be read
// of it is kept beside it.
const (
	specimenFile   = "specimen.db"
	specimenDigest = "specimen.sha256"
)

// makeSpecimen plays visits into a record and keeps file and digest in dir.
func makeSpecimen(dir string) (size int64, err error) {
	place := filepath.Join(dir, "specimen")
	r, err := storage.Open(place, storage.Options{})
	if err != nil {
		return 0, err
	}
	a := &actor{r: r, rnd: rand.New(rand.NewPCG(1, 1)), out: io.Discard, at: noon()}
	for range 3 {
		err = errors.Join(err, a.visit())
	}
	horses, err2 := r.Horses()
	if err = errors.Join(err, err2); err != nil {
		return 0, errors.Join(err, r.Close())
	}
	v, err := r.Begin(exam.Entry{Kind: exam.EntryOpened, At: a.at, By: "Ann", Opening: &exam.Opening{Horse: horses[0].Horse, Routine: "full-exam"}})
	a.open, a.took = v.ID, v
	err = errors.Join(err, a.exam())
	digest, err2 := everything(r)
	if err = errors.Join(err, err2, r.Close()); err != nil {
		return 0, err
	}
	data, err := os.ReadFile(filepath.Join(place, storage.FileName))
	if err != nil {
		return 0, err
	}
	return int64(len(data)), errors.Join(
		os.WriteFile(filepath.Join(dir, specimenFile), data, 0o600),
		os.WriteFile(filepath.Join(dir, specimenDigest), []byte(digest), 0o600),
	)
}

// everything is a digest over all that a record says through its interface.
func everything(r *storage.Record) (string, error) {
	horses, err := r.Horses()
	if err != nil {
		return "", err
	}
	all := []any{horses}
	for _, h := range horses {
		one, err := r.Horse(h.Horse.ID)
		past, err2 := r.Past(h.Horse.ID, 0)
		struck, err3 := r.Struck(h.Horse.ID)
		if err := errors.Join(err, err2, err3); err != nil {
			return "", err
		}
		withoutReader(past, struck)
		all = append(all, one, past, struck)
		for _, v := range append(past, struck...) {
			lines, err := r.Entries(v.ID)
			if err != nil {
				return "", err
			}
			all = append(all, lines)
		}
	}
	recent, err := r.Recent(0)
	open, err2 := r.Unfinished()
	settings, err3 := r.Settings()
	if err := errors.Join(err, err2, err3); err != nil {
		return "", err
	}
	withoutReader(recent, open)
	data, err := json.Marshal(append(all, recent, open, settings))
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), nil
}

// withoutReader clears the fields of visits that depend on the laptop that reads them.
func withoutReader(lists ...[]exam.Visit) {
	for _, list := range lists {
		for i := range list {
			list[i].Laptops, list[i].Elsewhere = nil, false
		}
	}
}

// meetEach is the child: for each line "cut N" or "flip BYTE BIT" it damages a copy of the specimen, opens it, and answers
// whether the damage was detected, or everything was read as it was written. If it crashes there is no answer.
func meetEach(dir string, lines *bufio.Scanner, out io.Writer) error {
	good, err := os.ReadFile(filepath.Join(dir, specimenFile))
	if err != nil {
		return err
	}
	digest, err := os.ReadFile(filepath.Join(dir, specimenDigest))
	if err != nil {
		return err
	}
	place := filepath.Join(dir, "damaged")
	for lines.Scan() {
		data := append([]byte(nil), good...)
		var at, bit int
		if _, err := fmt.Sscanf(lines.Text(), "cut %d", &at); err == nil {
			data = data[:at]
		} else if _, err := fmt.Sscanf(lines.Text(), "flip %d %d", &at, &bit); err == nil {
			data[at] ^= 1 << bit
		} else {
			return err
		}
		answer, err := meet(place, data, string(digest))
		if err != nil {
			return fmt.Errorf("%s: %w", lines.Text(), err)
		}
		if _, err := fmt.Fprintln(out, answer); err != nil {
			return err
		}
	}
	return lines.Err()
}

func meet(place string, data []byte, digest string) (string, error) {
	removeAll(place)
	if err := os.MkdirAll(place, 0o700); err != nil {
		return "", err
	}
	file := filepath.Join(place, storage.FileName)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		return "", err
	}
	r, err := storage.Open(place, storage.Options{})
	if err != nil {
		if !errors.Is(err, exam.ErrDamaged) {
			return "", broken("another refusal than damage: %v", err)
		}
		left, err := os.ReadFile(file)
		if err != nil || string(left) != string(data) {
			return "", broken("a file that was refused was changed")
		}
		return answerSeen, nil
	}
	defer r.Close() //nolint:errcheck // what follows is only read
	now, err := everything(r)
	report, checked := r.Check(context.Background())
	switch {
	case err != nil && !errors.Is(err, exam.ErrDamaged):
		return "", broken("another error than damage: %v", err)
	case err != nil && (checked != nil || report.OK):
		return "", broken("damage that the check does not see: %v", err)
	case err != nil:
		return answerSeen, nil
	case now != digest:
		return answerChanged, nil
	case checked != nil || !report.OK:
		return answerSeen, nil // in what nobody has read yet
	}
	return answerWhole, nil
}

// askEach gives every case to a child, and starts another child where one crashed.
func askEach(dir string, cases []string) (seen int, err error) {
	c, err := started(jobMeet, dir)
	if err != nil {
		return 0, err
	}
	for _, one := range cases {
		if _, err := fmt.Fprintln(c.in, one); err != nil {
			return seen, broken("%s: the program was ended before: %s", one, c.said.text)
		}
		if !c.told.Scan() {
			_ = c.cmd.Wait()
			return seen, broken("%s: the program was ended by it: %s", one, c.said.text)
		}
		switch c.told.Text() {
		case answerSeen:
			seen++
		case answerWhole:
		default:
			return seen, broken("%s: a value changed in silence", one)
		}
	}
	if err := c.in.Close(); err != nil {
		return seen, err
	}
	return seen, c.cmd.Wait()
}

func tryCuts(dir string, r rounds) (outcome, error) {
	size, err := makeSpecimen(dir)
	if err != nil {
		return outcome{}, err
	}
	n := min(r.cuts, int(size))
	cases := make([]string, n)
	for i := range cases {
		cases[i] = fmt.Sprintf("cut %d", int(size)*i/n)
	}
	seen, err := askEach(dir, cases)
	return outcome{
		times: n, lost: "nothing but what was cut off",
		seen: fmt.Sprintf("%d refused or reported; %d took nothing in use away and read whole", seen, n-seen),
	}, err
}

func tryFlips(dir string, r rounds) (outcome, error) {
	size, err := makeSpecimen(dir)
	if err != nil {
		return outcome{}, err
	}
	rnd := chance(r, 8)
	cases := make([]string, r.flips)
	for i := range cases {
		cases[i] = fmt.Sprintf("flip %d %d", rnd.IntN(int(size)), rnd.IntN(8))
	}
	seen, err := askEach(dir, cases)
	return outcome{
		times: r.flips, lost: "nothing but what was struck",
		seen: fmt.Sprintf("%d refused or reported; %d struck nothing in use and read whole; no panic, no value changed in silence", seen, r.flips-seen),
	}, err
}

func hasPanic(text string) bool {
	return strings.Contains(text, "panic:") || strings.Contains(text, "fatal error:") || strings.Contains(text, "goroutine ")
}
