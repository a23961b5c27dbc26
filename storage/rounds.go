package storage

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
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
	l.Seq = 0
	err := eachOfRound(tx, l.Day, l.Day, func(last exam.RoundLine) error {
		l.Seq = last.Seq
		return nil
	})
	if err != nil {
		return err
	}
	if l.Seq++; l.Seq > maxRound {
		return fmt.Errorf("the round of %s holds more than any round does: nothing was written", l.Day)
	}
	data, err := json.Marshal(l)
	if err != nil {
		return fmt.Errorf("write a line of the round: %w", err)
	}
	return putRow(tx, bucketRounds, roundKey(l.Day, l.Seq), data)
}

func roundKey(day string, seq int) []byte {
	return binary.BigEndian.AppendUint32([]byte(day), uint32(seq))
}

// RoundLines lists the lines of the days from one to another, both included.
func (r *Record) RoundLines(from, to string) ([]exam.RoundLine, error) {
	var out []exam.RoundLine
	err := r.view(func(tx txn) error {
		out = nil
		return eachOfRound(tx, from, to, func(l exam.RoundLine) error {
			out = append(out, l)
			return nil
		})
	})
	return out, err
}

// eachOfRound calls fn for every line of some days. A line that is missing
// between two others is damage.
func eachOfRound(tx txn, from, to string, fn func(exam.RoundLine) error) error {
	b, err := bucket(tx, bucketRounds)
	if err != nil {
		return err
	}
	day, seq := "", 0
	c := b.Cursor()
	for key, row := c.Seek([]byte(from)); key != nil; key, row = c.Next() {
		if len(key) != len(notation.DayForm)+4 {
			return damaged("a line of a round has a wrong key")
		}
		if bytes.Compare(key[:len(notation.DayForm)], []byte(to)) > 0 {
			return nil
		}
		l, err := readRoundLine(tx, key, row)
		if err != nil {
			return err
		}
		if l.Day != day {
			day, seq = l.Day, 0
		}
		if seq++; l.Seq != seq {
			return damaged("line %d of the round of %s is missing", seq, day)
		}
		if err := fn(l); err != nil {
			return err
		}
	}
	return nil
}

func readRoundLine(tx txn, key, row []byte) (exam.RoundLine, error) {
	var l exam.RoundLine
	data, err := openRow(tx.named(bucketRounds), key, row)
	if err != nil {
		return l, err
	}
	if err := json.Unmarshal(data, &l); err != nil {
		return l, damaged("a line of a round cannot be read (%v)", err)
	}
	if !bytes.Equal(roundKey(l.Day, l.Seq), key) {
		return l, damaged("line %d of the round of %s is out of place", l.Seq, l.Day)
	}
	return l, nil
}

// rounds reads every line of every round.
func (c *checker) rounds(tx txn) error {
	return eachOfRound(tx, "", maxDay, func(exam.RoundLine) error { return c.ctx.Err() })
}

// maxDay is after every day of a key.
const maxDay = "\xff"
