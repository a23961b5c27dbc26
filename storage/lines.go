package storage

import (
	"context"

	"loosebox/exam"
)

// eachHorse reads every revision of every horse against its digest and calls
// fn once a horse with the newest, or with what is wrong.
func eachHorse(tx txn, fn func(horse id, newest exam.Horse, err error) error) error {
	b, err := bucket(tx, bucketHorses)
	if err != nil {
		return err
	}
	c := b.Cursor()
	key, row := c.First()
	for key != nil {
		horse, _, ok := splitNumbered(key)
		if !ok {
			return damaged("a horse has a wrong key")
		}
		var newest exam.Horse
		var broken error
		for n := 1; len(key) == 20 && id(key[:16]) == horse; n++ {
			line, err := readHorseLine(key, row)
			if err == nil && line.Horse.Revision != n {
				err = damaged("revision %d of horse %s is missing", n, horse)
			}
			if err != nil && broken == nil {
				broken = err
			}
			newest = line.Horse
			key, row = c.Next()
		}
		if err := fn(horse, newest, broken); err != nil {
			return err
		}
	}
	return nil
}

// eachVisit reads every line of every visit against digest, place and chain,
// and calls fn once a visit with its entries and what is wrong with them.
func eachVisit(ctx context.Context, tx txn, fn func(visit id, list []exam.Entry, broken []Broken) error) error {
	b, err := bucket(tx, bucketEntries)
	if err != nil {
		return err
	}
	c := b.Cursor()
	key, row := c.First()
	for key != nil {
		if err := ctx.Err(); err != nil {
			return err
		}
		visit, _, ok := splitNumbered(key)
		if !ok {
			return damaged("an entry has a wrong key")
		}
		var list []exam.Entry
		var broken []Broken
		wrong := func(seq int, err error) {
			broken = append(broken, Broken{Visit: visit.String(), Seq: seq, What: err.Error()})
		}
		prev, next := exam.Hash(""), 1
		for ; len(key) == 20 && id(key[:16]) == visit; key, row = c.Next() {
			_, seq, _ := splitNumbered(key)
			e, err := openEntry(visit, seq, row)
			switch {
			case err != nil:
				wrong(seq, err)
			case seq != next:
				wrong(next, damaged("entries %d to %d are missing", next, seq-1))
			case e.Prev != prev && prev != unread:
				wrong(seq, damaged("the entry before it is not the one that was written"))
			}
			prev, next = e.Hash, seq+1
			if err != nil {
				prev = unread
			}
			list = append(list, e)
		}
		if err := fn(visit, list, broken); err != nil {
			return err
		}
	}
	return nil
}

// unread stands for the digest of an entry that could not be read: the entry
// after it is not blamed.
const unread exam.Hash = "unread"
