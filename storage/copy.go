package storage

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Lines hands on every stored line of the visits: all revisions of every horse
// first, then each visit's entries in order. Each is checked against its digest;
// at the first that does not match it stops with an error that wraps
// exam.ErrDamaged. Visits of simulated horses are not among them.
func (r *Record) Lines(ctx context.Context, take func(exam.Line) error) error {
	return r.view(func(tx txn) error {
		err := eachStored(ctx, tx, bucketHorses, func(key, row []byte) error {
			if _, err := readHorseLine(key, row); err != nil {
				return err
			}
			return take(exam.Line{Kind: exam.LineHorse, Hash: exam.Hash(hex.EncodeToString(row[:32])), Body: bytes.Clone(row[32:])})
		})
		if err != nil {
			return err
		}
		err = eachStored(ctx, tx, bucketEntries, func(key, row []byte) error {
			visit, seq, ok := splitNumbered(key)
			if !ok {
				return damaged("an entry has a wrong key")
			}
			e, err := openEntry(visit, seq, row)
			if err != nil {
				return err
			}
			return take(exam.Line{Kind: exam.LineEntry, Hash: e.Hash, Body: bytes.Clone(row[32:])})
		})
		if err != nil {
			return err
		}
		return eachOfRound(tx, "", maxDay, func(l exam.RoundLine) error {
			line, err := exam.SealRound(l)
			if err != nil {
				return err
			}
			return take(line)
		})
	})
}

func eachStored(ctx context.Context, tx txn, name string, fn func(key, row []byte) error) error {
	b, err := bucket(tx, name)
	if err != nil {
		return err
	}
	return b.ForEach(func(key, row []byte) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		return fn(key, row)
	})
}

// Adopted says how many lines an import brought, and how many were here already.
type Adopted struct{ Horses, Visits, Entries, Rounds, Known int }

// Adopt takes the lines that Lines of another record handed on into this one, byte
// for byte with their digests, in one transaction: all or nothing. A line that is
// here already, the same, is passed over; another in its place is an error, and so
// is a line that does not follow the one before it.
func (r *Record) Adopt(ctx context.Context, feed func(take func(exam.Line) error) error) (Adopted, error) {
	var done Adopted
	err := r.update(func(tx txn) error {
		a := &adoption{tx: tx, summaries: map[id]*summary{}}
		err := feed(func(l exam.Line) error {
			if err := ctx.Err(); err != nil {
				return fmt.Errorf("the import was broken off: %w", err)
			}
			switch l.Kind {
			case exam.LineHorse:
				return a.horse(l)
			case exam.LineRound:
				return a.round(l)
			case exam.LineEntry:
			}
			return a.entry(l)
		})
		if err == nil {
			err = a.finish()
		}
		done = a.done
		return err
	})
	if err != nil {
		return Adopted{}, err
	}
	return done, nil
}

// adoption is an import under way: the visit whose entries are coming, and the
// summaries that change.
type adoption struct {
	tx        txn
	done      Adopted
	visit     id
	head      head
	fold      exam.Visit
	lines     bool // entries of the present visit were written
	wasClosed bool
	wasStruck bool
	summaries map[id]*summary
}

var errDiffers = errors.New("another line is in its place here")

func (a *adoption) horse(l exam.Line) error {
	line, err := exam.UnsealHorse(l)
	if err != nil {
		return err
	}
	key, ok := parseID(string(line.Horse.ID))
	if !ok {
		return fmt.Errorf("%q is no horse's identity", notation.CleanLine(string(line.Horse.ID), 60))
	}
	horses, err := bucket(a.tx, bucketHorses)
	if err != nil {
		return err
	}
	if old := horses.Get(key.numbered(line.Horse.Revision)); old != nil {
		a.done.Known++
		if !bytes.Equal(old[32:], l.Body) {
			return fmt.Errorf("revision %d of %s: %w", line.Horse.Revision, notation.CleanLine(line.Horse.Name, 60), errDiffers)
		}
		return nil
	}
	s, newest, err := a.summary(key)
	if err != nil {
		return err
	}
	if line.Horse.Revision != newest+1 {
		return fmt.Errorf("revision %d of %s does not follow revision %d", line.Horse.Revision, notation.CleanLine(line.Horse.Name, 60), newest)
	}
	digest, err := digestBytes(l.Hash)
	if err != nil {
		return err
	}
	if err := horses.Put(key.numbered(line.Horse.Revision), append(digest, l.Body...)); err != nil {
		return fmt.Errorf("write horse: %w", err)
	}
	if _, err := chain(a.tx, linkHorse, key, line.Horse.Revision, digest); err != nil {
		return err
	}
	if newest == 0 {
		a.done.Horses++
	}
	return s.setHorse(line.Horse)
}

// summary is the horse's summary with its newest revision; a new horse is counted.
func (a *adoption) summary(key id) (*summary, int, error) {
	if s, ok := a.summaries[key]; ok {
		h, err := s.horse()
		return s, h.Revision, err
	}
	s, newest, err := summaryOrNew(a.tx, key)
	if err == nil {
		a.summaries[key] = s
	}
	return s, newest, err
}

func (a *adoption) entry(l exam.Line) error {
	e, err := exam.Unseal(l.Body, l.Hash)
	if err != nil {
		return err
	}
	visit, ok := parseID(string(e.Visit))
	if !ok {
		return fmt.Errorf("%q is no visit's identity", notation.CleanLine(string(e.Visit), 60))
	}
	if visit != a.visit {
		if err := a.leave(); err != nil {
			return err
		}
		if err := a.enter(visit, e); err != nil {
			return err
		}
	}
	if e.Seq <= a.head.seq {
		return a.known(visit, e, l)
	}
	if err := a.fold.Apply(e); err != nil {
		return fmt.Errorf("visit %s: %w", visit, err)
	}
	if _, err := layEntry(a.tx, visit, &a.head, l.Body, l.Hash); err != nil {
		return err
	}
	a.lines = true
	a.done.Entries++
	return nil
}

// known passes a line over that is here already.
func (a *adoption) known(visit id, e exam.Entry, l exam.Line) error {
	entries, err := bucket(a.tx, bucketEntries)
	if err != nil {
		return err
	}
	old := entries.Get(visit.numbered(e.Seq))
	if len(old) < 32 || !bytes.Equal(old[32:], l.Body) {
		return fmt.Errorf("entry %d of visit %s: %w", e.Seq, visit, errDiffers)
	}
	a.done.Known++
	return nil
}

// enter begins with a visit: a new one, or one that is here and goes on.
func (a *adoption) enter(visit id, first exam.Entry) error {
	a.visit, a.lines, a.fold = visit, false, exam.Visit{}
	data, err := getRow(a.tx, bucketHeads, visit[:])
	if err != nil {
		return err
	}
	if data != nil {
		if a.head, err = decodeHead(data); err != nil {
			return err
		}
		a.wasClosed, a.wasStruck = a.head.closed, a.head.struck
		a.fold, err = foldVisit(a.tx, visit, a.head)
		return err
	}
	if first.Kind != exam.EntryOpened || first.Opening == nil {
		return fmt.Errorf("visit %s does not begin with its opening", visit)
	}
	if err := exam.Apart(*first.Opening, a.tx.book == bookRehearsals); err != nil {
		return err
	}
	horse, ok := parseID(string(first.Opening.Horse.ID))
	if !ok {
		return fmt.Errorf("visit %s names no horse", visit)
	}
	s, revision, err := a.summary(horse)
	if err != nil {
		return err
	}
	if revision == 0 {
		return fmt.Errorf("visit %s is of a horse that is not in the export", visit)
	}
	s.addVisit(slotOf(visit, first.At), true)
	a.head, a.wasClosed, a.wasStruck = head{horse: horse}, false, false
	n, err := readTotals(a.tx)
	if err != nil {
		return err
	}
	n.visits++
	a.done.Visits++
	return n.write(a.tx)
}

// leave writes what follows from the lines of a visit.
func (a *adoption) leave() error {
	if !a.lines {
		return nil
	}
	if err := a.head.write(a.tx, a.visit); err != nil {
		return err
	}
	if !a.head.closed {
		return nil
	}
	s, _, err := a.summary(a.head.horse)
	if err != nil {
		return err
	}
	if !a.wasClosed {
		s.closeVisit(a.visit)
	}
	if a.head.struck && !a.wasStruck {
		s.strikeVisit(a.visit)
	}
	return writeSnapshot(a.tx, a.visit, a.fold)
}

func (a *adoption) finish() error {
	if err := a.leave(); err != nil {
		return err
	}
	for key, s := range a.summaries {
		if err := s.write(a.tx, key); err != nil {
			return err
		}
	}
	return nil
}
