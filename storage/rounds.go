package storage

import (
	"bytes"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// maxRound is how many lines one day's round may hold; no yard comes near it.
const maxRound = 10000

// AddToRound adds lines to the rounds of their days, in one transaction.
func (r *Record) AddToRound(lines ...exam.RoundLine) error {
	clean := make([]exam.RoundLine, len(lines))
	for i, l := range lines {
		clean[i] = exam.CleanRoundLine(l)
		if err := clean[i].Check(); err != nil {
			return err
		}
	}
	if len(clean) == 0 {
		return nil
	}
	return r.update(func(tx txn) error {
		for _, l := range clean {
			if err := addToRound(tx, l); err != nil {
				return err
			}
		}
		return nil
	})
}

func addToRound(tx txn, l exam.RoundLine) error {
	horse, ok := parseID(string(l.Horse))
	if !ok {
		return exam.NoSuch("no horse has the number %q in the record", l.Horse)
	}
	if _, err := readSummary(tx, horse); err != nil {
		return err
	}
	where, err := readRuns(tx, bucketRoundLines, []byte(l.Day))
	if err != nil {
		return err
	}
	if where.lines() >= maxRound {
		return fmt.Errorf("the round of %s holds more than any round does; nothing was saved", l.Day)
	}
	l.Seq = 0 // its place says it
	p, _, _, err := add(tx, exam.LineRound, l)
	if err != nil {
		return err
	}
	return addRun(tx, bucketRoundLines, []byte(l.Day), p)
}

// RoundLines lists the lines of the days from one to another, both included.
func (r *Record) RoundLines(from, to string) ([]exam.RoundLine, error) {
	var out []exam.RoundLine
	err := r.view(func(tx txn) error {
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		out = nil
		return eachOfRound(tx, from, to, func(l exam.RoundLine) error {
			if h, ok := parseID(string(l.Horse)); ok {
				l.Horse = g.lead(h).horse()
			}
			out = append(out, l)
			return nil
		})
	})
	return out, err
}

// eachOfRound calls fn for every line of some days.
func eachOfRound(tx txn, from, to string, fn func(exam.RoundLine) error) error {
	b, err := bucket(tx, bucketRoundLines)
	if err != nil {
		return err
	}
	c := b.Cursor()
	for key, row := c.Seek([]byte(from)); key != nil; key, row = c.Next() {
		if len(key) != len(notation.DayForm) {
			return damaged("the lines of a round have a wrong key")
		}
		if bytes.Compare(key, []byte(to)) > 0 {
			return nil
		}
		data, err := openRow(tx.named(bucketRoundLines), key, row)
		if err != nil {
			return err
		}
		where, err := decodeRuns(data)
		if err != nil {
			return err
		}
		lines, err := readLines(tx, where)
		if err != nil {
			return err
		}
		for i, one := range lines {
			var l exam.RoundLine
			if err := one.read(exam.LineRound, &l); err != nil {
				return err
			}
			if l.Day != string(key) {
				return damaged("line %d of the round of %s is of another day", i+1, key)
			}
			l.Seq = i + 1
			if err := fn(l); err != nil {
				return err
			}
		}
	}
	return nil
}

// maxDay is after every day of a key.
const maxDay = "\xff"
