package storage

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// A record of schema 5 or older: each visit was a numbered chain of entries, each horse
// a list of revisions, each day a list of lines. Every line was stored behind a SHA-256
// of its bytes, lines of rounds behind a sum. What these lines said is written into a
// log of this machine with the names and times that they have; who wrote them is what
// they say, and this machine signs for them as they were found.
const (
	oldHorses  = "horses"
	oldEntries = "entries"
	oldRounds  = "rounds"
)

// oldParts are the buckets that are gone when everything is in the log.
func oldParts() []string {
	return []string{
		oldHorses, oldEntries, oldRounds, "heads", "machines", "chain", "signatures", "rehearsal " + oldHorses,
		"rehearsal " + oldEntries, "rehearsal " + oldRounds, "rehearsal heads",
	}
}

// What stood before the bytes of a line when it was hashed.
const (
	oldHorseDigest = "loosebox/horse/1\x00"
	oldEntryDigest = "loosebox/entry/1\x00"
)

func convert(tx txn) error {
	for _, b := range namespaces() {
		if err := convertNamespace(tx.in(b)); err != nil {
			return err
		}
	}
	for _, name := range oldParts() {
		if tx.Bucket([]byte(name)) == nil {
			continue
		}
		if err := tx.DeleteBucket([]byte(name)); err != nil {
			return fmt.Errorf("remove %s: %w", name, err)
		}
	}
	return nil
}

func convertNamespace(tx txn) error {
	err := eachOld(tx, oldHorses, func(key, row []byte) error {
		var l horseLine
		if err := oldLine(oldHorseDigest, row, &l); err != nil {
			return err
		}
		p, _, _, err := add(tx, exam.LineHorse, l)
		if err != nil {
			return err
		}
		return addRun(tx, bucketHorseLines, key[:16], p)
	})
	if err != nil {
		return err
	}
	if err := eachKey(tx, bucketHorseLines, func(horse id) error {
		_, err := deriveHorse(tx, horse)
		return err
	}); err != nil {
		return err
	}
	if err := convertVisits(tx); err != nil {
		return err
	}
	if err := eachKey(tx, bucketHorseLines, func(horse id) error { return outline(tx, horse) }); err != nil {
		return err
	}
	return eachOld(tx, oldRounds, func(key, row []byte) error {
		data, err := openRow(tx.old(oldRounds), key, row)
		if err != nil {
			return err
		}
		var l exam.RoundLine
		if err := json.Unmarshal(data, &l); err != nil {
			return damaged("a line of a round cannot be read (%v)", err)
		}
		return addToRound(tx, l)
	})
}

// old is the full name of a part of an old record.
func (tx txn) old(name string) string { return string(tx.namespace) + name }

func eachOld(tx txn, name string, fn func(key, row []byte) error) error {
	b := tx.Bucket([]byte(tx.old(name)))
	if b == nil {
		return nil // a schema before it
	}
	return b.ForEach(func(key, row []byte) error {
		if len(key) < 14 || len(row) < 4 {
			return damaged("a row of %s is out of shape", tx.old(name))
		}
		return fn(slices.Clone(key), row)
	})
}

// oldLine reads a line that was stored behind its digest.
func oldLine(domain string, row []byte, into any) error {
	if len(row) < 32 || sha256.Sum256(append([]byte(domain), row[32:]...)) != [32]byte(row[:32]) {
		return damaged("a line does not match its digest")
	}
	if err := json.Unmarshal(row[32:], into); err != nil {
		return damaged("a line cannot be read (%v)", err)
	}
	return nil
}

// oldEntry is an entry as it was stored, with its numbers.
type oldEntry struct {
	exam.Entry
	Seq      int `json:"seq"`
	Corrects int `json:"corrects,omitempty"`
}

// convertVisits writes the visits in the order of their openings' keys, which is that
// of time: each with its lines one behind the other.
func convertVisits(tx txn) error {
	b := tx.Bucket([]byte(tx.old(oldEntries)))
	if b == nil {
		return nil
	}
	c := b.Cursor()
	key, row := c.First()
	for key != nil {
		if len(key) != 20 {
			return damaged("an entry has a wrong key")
		}
		visit := id(key[:16])
		if err := convertVisit(tx, visit, c, &key, &row); err != nil {
			return fmt.Errorf("visit %s: %w", visit, err)
		}
	}
	return nil
}

func convertVisit(tx txn, visit id, c *bbolt.Cursor, key, row *[]byte) error {
	h := head{waiting: true}
	numbers := new(exam.Numbers)
	for ; len(*key) == 20 && id((*key)[:16]) == visit; *key, *row = c.Next() {
		var o oldEntry
		if err := oldLine(oldEntryDigest, *row, &o); err != nil {
			return err
		}
		if o.Seq != h.seq+1 {
			return damaged("entry %d is missing", h.seq+1)
		}
		e := o.Entry
		e.Corrects = o.Corrects
		if _, err := putEntry(tx, visit, &h, numbers, e); err != nil {
			return err
		}
	}
	return deriveVisit(tx, visit, h.where)
}
