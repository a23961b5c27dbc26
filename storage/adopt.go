package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"slices"

	"loosebox/exam"
	"loosebox/exam/inorder"
	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// Adopted says how many lines an import brought, and how many were here already.
// Aside has a sentence for each part that was not taken.
type Adopted struct {
	Horses, Visits, Rehearsals, Entries, Rounds, Known int
	Settings                                           int // lines about settings of the practice
	Aside                                              []string
	// Branches are the logs that go on in more than one way since this import: both count.
	Branches []Branch
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

// inOne is how many records of others one transaction takes: a tree of the file
// splits its pages only at the end of a transaction.
const inOne = 4000

// Adopt takes segments of logs into the record, with the keys and signatures of those who
// wrote them. A segment that is here already is passed over. What does not fit is never
// taken in part and gets a sentence: bytes that its key did not sign, lines of the wrong
// book. Records before which others are missing, or that this version cannot read, are kept
// aside and tried again. A log that goes on from
// something else than what is here is a branch, and taken. The segments of a log come in
// their order.
func (r *Record) Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (Adopted, error) {
	var done Adopted
	var batch []signedlog.Segment
	records := 0
	flush := func() error {
		err := r.update(func(tx txn) error { return r.adopt(tx, &done, batch) })
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

// adopt takes segments in one transaction.
func (r *Record) adopt(tx txn, done *Adopted, batch []signedlog.Segment) error {
	return newAdoption(tx, done).all(batch, !r.retried.Swap(true))
}

func newAdoption(tx txn, done *Adopted) *adoption {
	return &adoption{
		tx: tx, done: done, visits: map[book]map[id]bool{}, came: map[book]map[id]bool{}, horses: map[book]map[id]bool{}, branched: map[book]map[signedlog.ID]bool{},
		moved: map[signedlog.ID]bool{}, settings: map[exam.SettingKey]bool{},
	}
}

// maxClock is beyond the clock of any record: at a million lines a second it is reached
// in 290,000 years. A log that says more would leave no room for what comes after it.
const maxClock = 1 << 63

// adoption is one transaction of an import.
type adoption struct {
	tx     txn
	done   *Adopted
	visits map[book]map[id]bool // whose lines came
	came   map[book]map[id]bool // those of them that another key wrote
	horses map[book]map[id]bool
	// branched are the logs with branches of which something came.
	branched map[book]map[signedlog.ID]bool
	moved    map[signedlog.ID]bool    // logs of which something came
	settings map[exam.SettingKey]bool // of the practice, about which lines came
	packs    *inorder.Line[toPack, packRow]
}

// all takes segments; first says that it is the first import of this run.
func (a *adoption) all(batch []signedlog.Segment, first bool) error {
	a.packs = packing(a.tx)
	err := bringAll(batch, func(s brought) error {
		why, err := a.segment(a.tx.in(bookOf(s.Segment)), s)
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
	for _, b := range books() {
		if err := a.derive(a.tx.in(b)); err != nil {
			return err
		}
	}
	return nil
}

// setAside says why a segment was not taken, and keeps it where it may fit later.
func (a *adoption) setAside(s brought, why error) (err error) {
	kept := false
	if errors.Is(why, errGap) || errors.Is(why, errShape) || errors.Is(why, errMark) {
		if kept, err = keepAside(a.tx, s.Segment, s.digests); err != nil {
			return err
		}
		a.moved[s.Log] = a.moved[s.Log] || s.rehearses // what is aside of the log may be taken now
	}
	text := fmt.Sprintf("Records %d to %d of log %s were not taken: %v.", s.First, s.Last(), s.Log, why)
	if kept {
		text = fmt.Sprintf("Records %d to %d of log %s are kept aside: %v. They are tried again when more of it comes.", s.First, s.Last(), s.Log, why)
	}
	a.done.Aside = append(a.done.Aside, text)
	return nil
}

// What a segment is set aside for, beside what Verify says.
var (
	errGap   = errors.New("records before them are missing")
	errBook  = errors.New("they are rehearsals among visits, or visits among rehearsals")
	errShape = errors.New("this program cannot read what is in them")
	errMark  = errors.New("nothing in them says that they are rehearsals")
	errClock = errors.New("their clock does not go forward, or is beyond any that a record reaches")
)

// segment takes one segment; why says what it was set aside for.
func (a *adoption) segment(tx txn, s brought) (why, err error) {
	if s.why != nil {
		return s.why, nil
	}
	digests := s.digests
	first, err := readLog(tx, s.Log)
	if err != nil {
		return nil, err
	}
	var log *logRow
	held := uint64(0) // the last record that is here
	switch {
	case first == nil && s.First > 1:
		return errGap, nil
	case first == nil:
	case first.Book != tx.book:
		return errBook, nil
	default:
		if log, held, err = rowFor(tx, first, s.Segment, digests); err != nil {
			return nil, err
		}
		if log == nil {
			return errGap, doubtOwn(tx, first, s.First <= first.N)
		}
	}
	skip := int(held + 1 - s.First)
	a.done.Known += skip
	if skip == len(s.Cores) {
		return nil, nil
	}
	fresh, clock, why, err := s.fresh(tx, log, held)
	if why != nil || err != nil {
		return why, err
	}
	switch {
	case log == nil && s.Rehearsals && !s.Proven() && !s.rehearses:
		return errMark, nil
	case log == nil:
		log, err = newLog(tx, s.Log, bytes.Clone(s.Public), s.Nonce)
	case held < log.N:
		log, err = a.branch(tx, first, log, held, digests[skip])
	}
	if err != nil {
		return nil, err
	}
	if err := packEnd(tx, log); err != nil {
		return nil, err
	}
	a.moved[log.name] = true
	if log.Parent > 0 || log.Branched {
		note(a.branched, tx.book, log.name)
	}
	part := s.Segment
	part.First, part.Prev, part.Cores = log.N+1, log.last(), s.Cores[skip:]
	if err := a.packs.Put(toPack{log.Number, part}); err != nil {
		return nil, err
	}
	tx.packs.put = append(tx.packs.put, opened{log.Number, part, digests[skip:]}) // read again when its visits are derived
	end := digests[len(digests)-1]
	log.N, log.Last, log.Packed, log.PackedLast = s.Last(), end[:], s.Last(), end[:]
	log.Signature = bytes.Clone(s.Signature)
	// Lines of this machine's own log that it does not hold were written by a copy of it.
	log.Doubt = log.Doubt || tx.w.machine != nil && bytes.Equal(log.Public, tx.w.machine.public())
	left, err := readEnded(tx)
	if err != nil {
		return nil, err
	}
	log.Counter = max(log.Counter, clock)
	upTo := left.upTo(log)
	count := fresh[:0]
	for _, l := range fresh {
		if l.log = log.Number; l.n <= upTo { // what is of a laptop that is out is kept, and does not count
			count = append(count, l)
			if l.kind == exam.LineEntry {
				tx.parsed[l.place] = s.lines[l.n-s.First].entry
			}
		}
	}
	if !bytes.Equal(log.Public, tx.key) {
		for _, l := range count {
			if l.kind == exam.LineEntry {
				note(a.came, tx.book, l.about)
			}
		}
	}
	if err := a.take(tx, count); err != nil {
		return nil, err
	}
	return nil, log.write(tx)
}

// fresh are the records of a segment behind the one that is held, and the clock of the last;
// log is the row that holds it, nil for a new log.
func (s brought) fresh(tx txn, log *logRow, held uint64) (list []located, clock uint64, why, err error) {
	switch {
	case log == nil || held == 0:
	case held == log.N:
		clock = log.Counter
	default:
		err := readRun(tx, log, run{place{log.Number, held}, 1}, func(l line) { clock = l.Counter })
		if err != nil {
			return nil, 0, nil, err
		}
	}
	for _, l := range s.lines[held+1-s.First:] {
		if !l.readable {
			return nil, 0, errShape, nil
		}
		if l.counter <= clock || l.counter > maxClock {
			return nil, 0, errClock, nil
		}
		clock = l.counter
		list = append(list, l.located)
	}
	return list, clock, nil, nil
}

// branch makes the row of records that leave a row behind its record held.
func (a *adoption) branch(tx txn, first, from *logRow, held uint64, digest signedlog.Digest) (*logRow, error) {
	if err := doubtOwn(tx, first, true); err != nil {
		return nil, err
	}
	log, err := branchOff(tx, from, held, digest)
	if err != nil {
		return nil, err
	}
	a.done.Branches = append(a.done.Branches, Branch{Log: first.name.String(), Fingerprint: signedlog.Fingerprint(first.Public), From: held + 1})
	if first.Branched {
		return log, nil
	}
	first.Branched = true
	return log, first.write(tx)
}

// digestAt is the digest of a record of a row, or of what it branched from.
func digestAt(tx txn, log *logRow, n uint64) (signedlog.Digest, error) {
	switch {
	case n == log.N:
		return log.last(), nil
	case n == log.Base && n > 0:
		return digestOf(log.Before), nil
	}
	var d signedlog.Digest
	err := readRun(tx, log, run{place{log.Number, n}, 1}, func(l line) {
		d, _ = signedlog.ParseDigest(string(l.identity)) // it was made from one
	})
	return d, err
}

func allIDs(list []exam.HorseID) bool {
	return !slices.ContainsFunc(list, func(h exam.HorseID) bool { _, ok := parseID(string(h)); return !ok })
}

// take notes where lines lie and what is to be derived from them.
func (a *adoption) take(tx txn, list []located) error {
	for _, l := range list {
		switch l.kind {
		case exam.LineEntry:
			a.done.Entries++
			note(a.visits, tx.book, l.about)
		case exam.LineHorse:
			note(a.horses, tx.book, l.about)
		case exam.LineRound:
			a.done.Rounds++
		case exam.LinePractice:
			a.done.Settings++
			a.settings[l.setting] = true
		case exam.LineJoin, exam.LineSettings:
		}
	}
	return putAll(tx, list)
}

func note[K comparable](of map[book]map[K]bool, b book, what K) {
	if of[b] == nil {
		of[b] = map[K]bool{}
	}
	of[b][what] = true
}

// derive brings everything that follows from the new lines up to them.
func (a *adoption) derive(tx txn) error {
	if err := a.mixed(tx); err != nil {
		return err
	}
	changed, err := regroup(tx)
	if err != nil {
		return err
	}
	for _, horse := range changed {
		note(a.horses, tx.book, horse)
	}
	g, err := readGroups(tx)
	if err != nil {
		return err
	}
	for horse := range a.horses[tx.book] {
		note(a.horses, tx.book, g.lead(horse))
	}
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
	if err := a.foldVisits(tx); err != nil {
		return err
	}
	if tx.book == bookVisits {
		for key := range a.settings {
			if err := deriveSetting(tx, key); err != nil {
				return err
			}
		}
		var came []exam.VisitID
		for v := range a.came[tx.book] {
			came = append(came, v.visit())
		}
		slices.Sort(came) // by when they were opened
		if err := arrive(tx, came); err != nil {
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

// foldVisits derives the visits of which lines came: read and written here, folded on all
// cores.
func (a *adoption) foldVisits(tx txn) error {
	visits := slices.SortedFunc(maps.Keys(a.visits[tx.book]), func(a, b id) int { return bytes.Compare(a[:], b[:]) })
	work := make([]func(gathered) (derived, error), min(runtime.GOMAXPROCS(0), len(visits)))
	for i := range work {
		work[i] = func(g gathered) (derived, error) { return g.fold(tx.book) }
	}
	all := newAssembly(work, func(d derived) error { return d.write(tx) })
	var err error
	for _, visit := range visits {
		var g gathered
		if g, err = gatherNow(tx, visit); err != nil {
			break
		}
		if err = all.Put(g); err != nil {
			break
		}
	}
	return all.End(err)
}

// gatherNow reads what a visit is derived from that is indexed.
func gatherNow(tx txn, visit id) (gathered, error) {
	h, err := headHere(tx, visit)
	if err != nil {
		return gathered{}, err
	}
	return gather(tx, visit, h.where)
}

// outlines writes those of the horses whose visits came.
func (a *adoption) outlines(tx txn) error {
	for visit := range a.visits[tx.book] {
		h, err := headHere(tx, visit)
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

// Segments hands on every log of the record, each in segments from its first record on, a
// branch behind what it leaves; visits before rehearsals. Who listens to the context is told how many lines are done.
func (r *Record) Segments(ctx context.Context, take func(signedlog.Segment) error) error {
	nothing := func(signedlog.Segment, []signedlog.Digest) struct{} { return struct{}{} }
	return EachSegment(ctx, r, nothing, func(s signedlog.Segment, _ struct{}) error { return take(s) })
}

// EachSegment is Segments with look called of each segment before, with the digests of its
// records, on all cores.
func EachSegment[T any](ctx context.Context, r *Record, look func(signedlog.Segment, []signedlog.Digest) T, take func(signedlog.Segment, T) error) error {
	logs, err := r.Logs()
	if err != nil {
		return err
	}
	done, all := 0, 0
	for _, l := range logs {
		all += int(l.N - l.Base) //nolint:gosec // lines of one record
	}
	return r.view(func(tx txn) error {
		for _, b := range books() {
			rows, err := logsOf(tx.in(b))
			if err != nil {
				return err
			}
			for _, log := range rows {
				err := eachLooked(tx, log, look, func(l looked[T]) error {
					if err := ctx.Err(); err != nil {
						return err
					}
					done += len(l.Cores)
					progress.Say(ctx, "lines", min(done, all), all)
					return take(l.Segment, l.what)
				})
				if err != nil {
					return err
				}
			}
		}
		return nil
	})
}
