package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Adopted says how many lines an import brought, and how many were here already.
// Aside has a sentence for each part that was not taken.
type Adopted struct {
	Horses, Visits, Rehearsals, Entries, Rounds, Known int
	Aside                                              []string
}

// inOne is how many records of others one transaction takes: a tree of the file
// splits its pages only at the end of a transaction.
const inOne = 4000

// Adopt takes segments of logs into the record, with the keys and signatures of those who
// wrote them. A segment that is here already is passed over. What does not fit is set
// aside with a sentence and never taken in part: bytes that its key did not sign, a log
// that goes on from something else than what is here, records before which others are
// missing, lines of the wrong book. The segments of a log come in their order.
func (r *Record) Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (Adopted, error) {
	var done Adopted
	var batch []signedlog.Segment
	records := 0
	flush := func() error {
		err := r.update(func(tx txn) error {
			a := &adoption{tx: tx, done: &done, visits: map[book]map[id]bool{}, horses: map[book]map[id]bool{}}
			return a.all(batch)
		})
		batch, records = nil, 0
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

// maxClock is beyond the clock of any record: at a million lines a second it is reached
// in 290,000 years. A log that says more would leave no room for what comes after it.
const maxClock = 1 << 63

// adoption is one transaction of an import.
type adoption struct {
	tx     txn
	done   *Adopted
	visits map[book]map[id]bool // whose lines came
	horses map[book]map[id]bool
}

func (a *adoption) all(batch []signedlog.Segment) error {
	for _, s := range batch {
		b := bookVisits
		if s.Rehearsals {
			b = bookRehearsals
		}
		why, err := a.segment(a.tx.in(b), s)
		if err != nil {
			return err
		}
		if why != nil {
			a.done.Aside = append(a.done.Aside, fmt.Sprintf("Records %d to %d of log %s were not taken: %v.", s.First, s.Last(), s.Log, why))
		}
	}
	for _, b := range books() {
		if err := a.derive(a.tx.in(b)); err != nil {
			return err
		}
	}
	return nil
}

// What a segment is set aside for, beside what Verify says.
var (
	errFork  = errors.New("the same log holds something else here, so one of the two was copied or restored")
	errGap   = errors.New("records before them are missing")
	errBook  = errors.New("they are rehearsals among visits, or visits among rehearsals")
	errShape = errors.New("this program cannot read what is in them")
	errClock = errors.New("their clock does not go forward, or is beyond any that a record reaches")
)

// segment takes one segment; why says what it was set aside for.
func (a *adoption) segment(tx txn, s signedlog.Segment) (why, err error) {
	digests, why := s.Verify()
	if why != nil {
		return why, nil
	}
	log, err := readLog(tx, s.Log)
	if err != nil {
		return nil, err
	}
	held := uint64(0)
	if log != nil {
		held = log.N
		if log.Book != tx.book {
			return errBook, nil
		}
	}
	if s.First > held+1 {
		return errGap, nil
	}
	if log != nil && s.First > 1 || held > 0 {
		same, err := a.same(tx, log, s, digests)
		if err != nil || !same {
			return errFork, errors.Join(err, doubtOwn(tx, log))
		}
	}
	skip := int(min(held-s.First+1, uint64(len(s.Cores))))
	a.done.Known += skip
	if skip == len(s.Cores) {
		return nil, nil
	}
	fresh := make([]line, 0, len(s.Cores)-skip)
	clock := uint64(0)
	if log != nil {
		clock = log.Counter
	}
	for i := skip; i < len(s.Cores); i++ {
		rec, err := signedlog.ParseCore(s.Cores[i])
		if err != nil || !readable(tx, rec.Body) {
			return errShape, nil
		}
		if rec.Counter <= clock || rec.Counter > maxClock {
			return errClock, nil
		}
		clock = rec.Counter
		fresh = append(fresh, line{place: place{n: s.First + uint64(i)}, identity: exam.Hash(digests[i].String()), Record: rec})
	}
	if log == nil {
		if log, err = newLog(tx, bytes.Clone(s.Public), s.Nonce); err != nil {
			return nil, err
		}
	}
	if err := packEnd(tx, log); err != nil {
		return nil, err
	}
	part := s
	part.First, part.Prev, part.Cores = log.N+1, log.last(), s.Cores[skip:]
	if err := putPack(tx, log.Number, part); err != nil {
		return nil, err
	}
	end := digests[len(digests)-1]
	log.N, log.Last, log.Packed, log.PackedLast = s.Last(), end[:], s.Last(), end[:]
	log.Signature = bytes.Clone(s.Signature)
	// Lines of this machine's own log that it does not hold were written by a copy of it.
	log.Doubt = log.Doubt || tx.w.machine != nil && bytes.Equal(log.Public, tx.w.machine.public())
	left, err := readEnded(tx)
	if err != nil {
		return nil, err
	}
	for _, l := range fresh {
		l.log, l.place.log = log, log.Number
		log.Counter = max(log.Counter, l.Counter)
		if l.n > left.upTo(log) {
			continue // of a laptop that is out: kept, and does not count
		}
		if err := a.take(tx, l); err != nil {
			return nil, err
		}
	}
	return nil, log.write(tx)
}

// same says whether what a segment and the record both hold is the same.
func (a *adoption) same(tx txn, log *logRow, s signedlog.Segment, digests []signedlog.Digest) (bool, error) {
	at := min(s.Last(), log.N) // the digest of a record covers those before it
	if at < s.First {
		return log.last() == s.Prev, nil
	}
	d, err := digestAt(tx, log, at)
	return err == nil && d == digests[at-s.First], err
}

// digestAt is the digest of a record.
func digestAt(tx txn, log *logRow, n uint64) (signedlog.Digest, error) {
	if n == log.N {
		return log.last(), nil
	}
	var d signedlog.Digest
	err := readRun(tx, log, run{place{log.Number, n}, 1}, func(l line) {
		d, _ = signedlog.ParseDigest(string(l.identity)) // it was made from one
	})
	return d, err
}

// readable says whether a line can be read and belongs into the book.
func readable(tx txn, body []byte) bool {
	kind, _, err := exam.SplitLine(body)
	if err != nil {
		return false
	}
	switch kind {
	case exam.LineEntry:
		var e exam.Entry
		if exam.ReadLine(kind, body, &e) != nil {
			return false
		}
		_, ok := parseID(string(e.Visit))
		return ok && (e.Opening == nil || exam.Apart(*e.Opening, tx.book == bookRehearsals) == nil)
	case exam.LineHorse:
		var l horseLine
		err = exam.ReadLine(kind, body, &l)
		_, ok := parseID(string(l.Horse.ID))
		return err == nil && ok
	case exam.LineRound:
		var l exam.RoundLine
		return exam.ReadLine(kind, body, &l) == nil && l.Check() == nil
	case exam.LineSettings:
	}
	return true
}

// take notes where a line lies and what is to be derived from it.
func (a *adoption) take(tx txn, l line) error {
	visit, horse, err := index(tx, l)
	switch {
	case err != nil:
		return err
	case visit != nil:
		a.done.Entries++
		note(a.visits, tx.book, *visit)
	case horse != nil:
		note(a.horses, tx.book, *horse)
	default:
		a.done.Rounds++
	}
	return nil
}

func note(of map[book]map[id]bool, b book, what id) {
	if of[b] == nil {
		of[b] = map[id]bool{}
	}
	of[b][what] = true
}

// derive brings everything that follows from the new lines up to them.
func (a *adoption) derive(tx txn) error {
	for horse := range a.horses[tx.book] {
		fresh, err := deriveHorse(tx, horse)
		if err != nil {
			return err
		}
		if fresh && tx.book == bookVisits {
			a.done.Horses++
		}
	}
	before, err := readTotals(tx)
	if err != nil {
		return err
	}
	for visit := range a.visits[tx.book] {
		data, err := getRow(tx, bucketVisits, visit[:])
		if err != nil {
			return err
		}
		h, err := decodeHead(data)
		if err != nil {
			return err
		}
		if err := deriveVisit(tx, visit, h.where); err != nil {
			return err
		}
	}
	if err := lookAgain(tx); err != nil {
		return err
	}
	if err := a.outlines(tx); err != nil {
		return err
	}
	after, err := readTotals(tx)
	if tx.book == bookVisits {
		a.done.Visits += after.visits - before.visits
	} else {
		a.done.Rehearsals += after.visits - before.visits
	}
	return err
}

// outlines writes those of the horses whose visits came.
func (a *adoption) outlines(tx txn) error {
	for visit := range a.visits[tx.book] {
		data, err := getRow(tx, bucketVisits, visit[:])
		if err != nil {
			return err
		}
		h, err := decodeHead(data)
		if err != nil {
			return err
		}
		if !h.waiting {
			note(a.horses, tx.book, h.horse)
		}
	}
	for horse := range a.horses[tx.book] {
		if err := outline(tx, horse); err != nil {
			return err
		}
	}
	return nil
}

// Segments hands on every log of the record, each in segments from its first record on,
// visits before rehearsals.
func (r *Record) Segments(ctx context.Context, take func(signedlog.Segment) error) error {
	return r.view(func(tx txn) error {
		for _, b := range books() {
			err := eachLog(tx, func(log *logRow) error {
				if log.Book != b {
					return nil
				}
				return eachSegment(tx, log, func(s signedlog.Segment) error {
					if err := ctx.Err(); err != nil {
						return err
					}
					s.Rehearsals = b == bookRehearsals
					return take(s)
				})
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// eachSegment calls fn for the packs of a log, and for its end.
func eachSegment(tx txn, log *logRow, fn func(signedlog.Segment) error) error {
	packs, err := bucket(tx, bucketPacks)
	if err != nil {
		return err
	}
	next, prev := uint64(1), signedlog.Digest{}
	c := packs.Cursor()
	for key, row := c.Seek(place{log.Number, 1}.key()); key != nil; key, row = c.Next() {
		if p, ok := splitPlace(key); !ok || p.log != log.Number {
			break
		}
		data, err := openRow(bucketPacks, key, row)
		if err != nil {
			return err
		}
		s, err := readPack(log, key, data)
		if err != nil {
			return err
		}
		if s.First != next || s.Prev != prev {
			return damaged("records from %d on of log %s are missing", next, log.name)
		}
		if err := fn(s); err != nil {
			return err
		}
		digests := s.Digests()
		next, prev = s.Last()+1, digests[len(digests)-1]
	}
	if next != log.Packed+1 || prev != log.packedLast() {
		return damaged("records from %d on of log %s are missing", next, log.name)
	}
	end := signedlog.Segment{
		Log: log.name, Public: log.Public, Nonce: log.nonce(), First: next, Prev: prev, Signature: log.Signature,
	}
	err = eachTail(tx, log, next, func(_ place, d signedlog.Digest, core []byte) error {
		end.Cores, prev = append(end.Cores, bytes.Clone(core)), d
		return nil
	})
	if err != nil {
		return err
	}
	if end.First+uint64(len(end.Cores)) != log.N+1 || prev != log.last() {
		return damaged("log %s ends before record %d", log.name, log.N)
	}
	if len(end.Cores) == 0 {
		return nil
	}
	return fn(end)
}
