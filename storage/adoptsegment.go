package storage

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"loosebox/exam"
)

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
	key := ""
	if kept {
		key = string(asideKey(s.Segment, s.digests[len(s.digests)-1]))
	}
	a.done.Aside, a.done.aside = append(a.done.Aside, text), append(a.done.aside, key)
	return nil
}

// What a segment is set aside for, beside what Verify says.
var (
	errGap       = errors.New("records before them are missing")
	errNamespace = errors.New("they are rehearsals among visits, or visits among rehearsals")
	errShape     = errors.New("this program cannot read what is in them")
	errMark      = errors.New("nothing in them says that they are rehearsals")
	errClock     = errors.New("their clock does not go forward, or is beyond any that a record reaches")
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
	case first.Namespace != tx.namespace:
		return errNamespace, nil
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
		note(a.branched, tx.namespace, log.name)
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
				note(a.came, tx.namespace, l.about)
			}
		}
	}
	if err := a.take(tx, count); err != nil {
		return nil, err
	}
	return nil, log.write(tx)
}

// fresh returns the records of a segment after the one that is held, and the clock of the last; log
// is the row that holds it, nil for a new log.
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

func allIDs(list []exam.HorseID) bool {
	return !slices.ContainsFunc(list, func(h exam.HorseID) bool { _, ok := parseID(string(h)); return !ok })
}

// take stores where lines are, and notes what must be derived again.
func (a *adoption) take(tx txn, list []located) error {
	for _, l := range list {
		switch l.kind {
		case exam.LineEntry:
			a.done.Entries++
			note(a.visits, tx.namespace, l.about)
		case exam.LineHorse:
			a.changed(tx)
			note(a.horses, tx.namespace, l.about)
		case exam.LineRound:
			a.done.Rounds++
		case exam.LinePractice:
			a.done.Settings++
			a.settings[l.setting] = true
		case exam.LineJoin:
			a.changed(tx)
		case exam.LineSettings:
		}
	}
	return putAll(tx, list)
}

// changed counts a line about horses; those of simulated ones are nobody's business.
func (a *adoption) changed(tx txn) {
	if tx.namespace == visitsNamespace {
		a.done.Changes++
	}
}
