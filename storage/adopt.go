package storage

import (
	"context"
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/inorder"
	"loosebox/exam/signedlog"
)

// Adopted says how many lines an import brought, all of them on the disk, and how many were
// here already. Aside has a sentence for each part that was not taken.
type Adopted struct {
	Horses, Visits, Rehearsals, Entries, Rounds, Known int
	Settings                                           int // lines about settings of the practice
	Changes                                            int // lines about horses that were here, and those that join or part horses
	Aside                                              []string
	// Branches are the logs that go on in more than one way since this import: both count.
	Branches []Branch

	aside []string // for each sentence of Aside the key of what is kept; empty where nothing is
	fit   []string // the keys of what was kept aside and is taken now
}

// Branch is a second way in which a log goes on: its laptop was copied, or put back from a
// copy, and both wrote.
type Branch struct {
	Log         string `json:"log"`
	Fingerprint string `json:"fingerprint"` // of its key
	From        uint64 `json:"from"`        // its first record
}

// String says for a person that the log goes on in two ways, and why.
func (b Branch) String() string {
	return fmt.Sprintf("Log %s goes on in two ways from record %d. Its laptop was copied or restored (key %s). Both are kept and both count.", b.Log, b.From, b.Fingerprint)
}

// inOne is how many records of others one transaction takes: bbolt splits the pages of a bucket
// only at the end of a transaction.
const inOne = 4000

// Adopt takes segments of logs into the record, with the keys and signatures of those who wrote
// them. A segment that is here already is skipped. A segment that does not fit is never taken in
// part, and gets a sentence in Adopted.Aside: its bytes are not what its key signed, or its lines
// belong to the other namespace. Records that follow on missing ones, or that this version cannot
// read, are kept aside and tried again. A log that continues from another record than the one here
// is taken as a branch. The segments of one log must come in their order.
func (r *Record) Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (Adopted, error) {
	var done Adopted
	var batch []signedlog.Segment
	records := 0
	flush := func() error {
		var part Adopted // counted once it is on the disk
		err := r.update(func(tx txn) error { return r.adopt(tx, &part, batch) })
		if batch, records = nil, 0; err == nil {
			done.Add(part)
		}
		return err
	}
	err := feed(func(s signedlog.Segment) error {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("the import was broken off; what was taken up to here stays, and the next import goes on: %w", err)
		}
		batch = append(batch, s)
		if records += len(s.Cores); records >= inOne {
			return flush()
		}
		return nil
	})
	switch {
	case len(batch) == 0:
	case ctx.Err() != nil:
		err = errors.Join(err, context.Cause(ctx))
	default: // what came before an error stays
		err = errors.Join(err, flush())
	}
	return done, err
}

// adopt takes segments in one transaction.
func (r *Record) adopt(tx txn, done *Adopted, batch []signedlog.Segment) error {
	return newAdoption(tx, done).all(batch, !r.retried.Swap(true))
}

func newAdoption(tx txn, done *Adopted) *adoption {
	return &adoption{
		tx: tx, done: done, visits: map[namespace]map[id]bool{}, came: map[namespace]map[id]bool{}, horses: map[namespace]map[id]bool{}, branched: map[namespace]map[signedlog.ID]bool{},
		moved: map[signedlog.ID]bool{}, settings: map[exam.SettingKey]bool{},
	}
}

// maxClock is a clock that no real record reaches: a million lines a second would take 290,000
// years. A log with a later clock is refused, because nothing could be written after it.
const maxClock = 1 << 63

// adoption is one transaction of an import.
type adoption struct {
	tx     txn
	done   *Adopted
	visits map[namespace]map[id]bool // whose lines came
	came   map[namespace]map[id]bool // those of them that another key wrote
	horses map[namespace]map[id]bool
	// branched are the logs with branches of which something came.
	branched map[namespace]map[signedlog.ID]bool
	moved    map[signedlog.ID]bool    // logs of which something came
	settings map[exam.SettingKey]bool // of the practice, about which lines came
	packs    *inorder.Pool[toPack, packRow]
}

// all takes segments; first says that it is the first import of this run.
func (a *adoption) all(batch []signedlog.Segment, first bool) error {
	a.packs = packing(a.tx)
	err := bringAll(batch, func(s brought) error {
		why, err := a.segment(a.tx.in(namespaceOf(s.Segment)), s)
		if err == nil && why != nil {
			err = a.setAside(s, why)
		}
		return err
	})
	if err == nil {
		err = a.retry(first)
	}
	if err := a.packs.End(err); err != nil {
		return err
	}
	for _, b := range namespaces() {
		if err := a.derive(a.tx.in(b)); err != nil {
			return err
		}
	}
	return nil
}

func note[K comparable](of map[namespace]map[K]bool, b namespace, what K) {
	if of[b] == nil {
		of[b] = map[K]bool{}
	}
	of[b][what] = true
}
