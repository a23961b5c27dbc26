package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"reflect"

	"loosebox/exam"
)

// ErrNotOpen is wrapped where a record was closed already.
var ErrNotOpen = errors.New("the record was closed already")

// Broken is one thing that is not as it was written.
type Broken struct {
	Visit string `json:"visit"` // empty where no visit is concerned
	Seq   int    `json:"seq"`   // 0 where no single entry is concerned
	What  string `json:"what"`
	// Line is the place in its machine's chain; 0 where it has none.
	Line uint64 `json:"line,omitempty"`
}

// Report is what Check found.
type Report struct {
	Visits     int      `json:"visits"`
	Entries    int      `json:"entries"` // of visits and rehearsals
	Rehearsals int      `json:"rehearsals"`
	Machines   int      `json:"machines"`   // that wrote
	Lines      int      `json:"lines"`      // on their chains
	Signatures int      `json:"signatures"` // of closed visits
	Broken     []Broken `json:"broken"`
	OK         bool     `json:"ok"`
}

// First is what was broken first, in the order in which the lines were written as
// far as that is known; false where nothing is.
func (r Report) First() (Broken, bool) {
	var first Broken
	for i, b := range r.Broken {
		if i == 0 || b.Line > 0 && (first.Line == 0 || b.Line < first.Line) {
			first = b
		}
	}
	return first, len(r.Broken) > 0
}

// Check reads the whole record: the pages of the file, every entry and every
// revision of a horse against its digest, every visit against its chain and its
// head, and everything derived against a fresh fold; visits and rehearsals
// alike; then the chain of every machine that wrote, and every signature. It changes nothing. What is broken is reported, not returned as an
// error.
func (r *Record) Check(ctx context.Context) (Report, error) {
	report := Report{Broken: []Broken{}}
	var closed map[id]int
	r.writing.Lock()
	err := r.inspect(true)
	r.writing.Unlock()
	if !report.note("", err) {
		return Report{}, r.explain(err)
	}
	err = r.view(func(tx txn) error {
		for _, b := range books() {
			c := &checker{Report: &report, ctx: ctx, book: b, now: map[id]*summary{}, closed: map[id]int{}}
			if err := c.check(tx.in(b)); err != nil {
				return err
			}
			if b == bookVisits {
				closed = c.closed
			}
		}
		c := &chains{
			Report: &report, ctx: ctx, public: map[id][]byte{}, closed: closed,
			covered: map[id]map[int]struct{}{}, upTo: map[id]int{},
		}
		if err := c.check(tx); err != nil {
			return err
		}
		return c.place(tx)
	})
	if err != nil && !report.note("", err) {
		return Report{}, err
	}
	report.OK = len(report.Broken) == 0
	return report, nil
}

// checker gathers what a fresh reading of one book's lines gives, and what differs.
type checker struct {
	*Report
	ctx  context.Context
	book book
	now  map[id]*summary // fresh summary of every horse
	seen []id            // visits that have entries, in key order
	// closed is the entry that closed each visit.
	closed map[id]int
}

// check reads one book.
func (c *checker) check(tx txn) error {
	before := len(c.Broken)
	for _, part := range []func(txn) error{c.horses, c.visits, c.heads, c.summaries, c.snapshots, c.settings, c.rounds} {
		if err := guarded(func() error { return part(tx) }); err != nil && !c.note("", err) {
			return err
		}
	}
	if c.book == bookRehearsals {
		for i := range c.Broken[before:] {
			b := &c.Broken[before+i]
			b.What = "among the rehearsals: " + b.What
		}
	}
	return nil
}

// note reports an error that is damage; false for any other.
func (r *Report) note(visit string, err error) bool {
	if err == nil {
		return true
	}
	if !errors.Is(err, exam.ErrDamaged) {
		return false
	}
	r.Broken = append(r.Broken, Broken{Visit: visit, What: err.Error()})
	return true
}

func (c *checker) broken(visit id, seq int, format string, args ...any) {
	c.Broken = append(c.Broken, Broken{Visit: visit.String(), Seq: seq, What: fmt.Sprintf(format, args...)})
}

// horses reads every revision of every horse.
func (c *checker) horses(tx txn) error {
	return eachHorse(tx, func(horse id, h exam.Horse, err error) error {
		if err != nil {
			c.note("", err)
			return nil
		}
		s := new(summary)
		c.now[horse] = s
		return s.setHorse(h)
	})
}

// visits reads every line of every visit and folds it.
func (c *checker) visits(tx txn) error {
	return eachVisit(c.ctx, tx, func(visit id, list []exam.Entry, broken []Broken) error {
		c.count(len(list))
		c.seen = append(c.seen, visit)
		if seq := closedFrom(list); seq > 0 {
			c.closed[visit] = seq
		}
		if len(broken) > 0 {
			c.Broken = append(c.Broken, broken...)
			return nil
		}
		v, err := exam.Fold(list)
		if err != nil {
			c.note(visit.String(), err)
			return nil
		}
		c.note(visit.String(), belongs(tx, v))
		c.compare(tx, visit, v)
		return nil
	})
}

func (c *checker) count(entries int) {
	c.Entries += entries
	if c.book == bookRehearsals {
		c.Rehearsals++
		return
	}
	c.Visits++
}

// belongs says whether a visit is kept in the right book.
func belongs(tx txn, v exam.Visit) error {
	if (exam.Opening{Source: v.Source}).IsRehearsal() != (tx.book == bookRehearsals) {
		return damaged("visit %s belongs into the other book of the record", v.ID)
	}
	return nil
}

// compare sets one visit beside its head and its snapshot.
func (c *checker) compare(tx txn, visit id, v exam.Visit) {
	horse, ok := parseID(string(v.Horse.ID))
	if s := c.now[horse]; !ok || s == nil {
		c.broken(visit, 1, "its horse %q is not in the record", v.Horse.ID)
	} else {
		s.addVisit(slotOf(visit, v.OpenedAt), !v.Closed())
		if !v.Stands() {
			s.strikeVisit(visit)
		}
	}
	data, err := getRow(tx, bucketHeads, visit[:])
	if err == nil && data == nil {
		err = damaged("its head is missing")
	}
	if err != nil {
		c.note(visit.String(), err)
		return
	}
	h, err := decodeHead(data)
	switch {
	case err != nil:
		c.note(visit.String(), err)
	case h.seq != v.Entries || h.last != v.Last:
		c.broken(visit, v.Entries, "%d entries are there, %d were written", v.Entries, h.seq)
	case h.closed != v.Closed() || h.struck == v.Stands() || h.horse != horse:
		c.broken(visit, 0, "its head does not fit its entries")
	}
	if !v.Closed() {
		return
	}
	stored, err := readSnapshot(tx, visit)
	if err != nil {
		c.note(visit.String(), err)
	} else if !reflect.DeepEqual(stored, v) {
		c.broken(visit, 0, "its snapshot is not the fold of its entries")
	}
}

// heads finds visits all of whose entries are gone, and wrong totals.
func (c *checker) heads(tx txn) error {
	have := make(map[id]bool, len(c.seen))
	for _, v := range c.seen {
		have[v] = true
	}
	n := 0
	err := eachRow(tx, bucketHeads, func(key, _ []byte) error {
		n++
		if len(key) != 16 || !have[id(key)] {
			c.Broken = append(c.Broken, Broken{Visit: fmt.Sprintf("%x", key), What: "none of its entries is there"})
		}
		return nil
	})
	if err != nil {
		return err
	}
	want, err := readTotals(tx)
	if err == nil && (want.visits != n || want.horses != len(c.now)) {
		err = damaged("%d horses and %d visits are there, %d and %d were written", len(c.now), n, want.horses, want.visits)
	}
	return err
}

func (c *checker) summaries(tx txn) error {
	n := 0
	err := eachSummary(tx, func(horse id, stored *summary) error {
		n++
		fresh := c.now[horse]
		if fresh == nil || !fresh.same(stored) {
			c.note("", damaged("the summary of horse %s does not fit its visits", horse))
		}
		return nil
	})
	if err == nil && n != len(c.now) {
		err = damaged("%d horses are listed, %d are there", n, len(c.now))
	}
	return err
}

// same says that two summaries list the same horse, visits and open visits.
func (s *summary) same(o *summary) bool {
	return bytes.Equal(s.Horse, o.Horse) && bytes.Equal(s.Visits, o.Visits) && maps.Equal(s.openSet(), o.openSet()) && maps.Equal(s.struckSet(), o.struckSet())
}

// snapshots finds snapshots that belong to nothing.
func (c *checker) snapshots(tx txn) error {
	return eachRow(tx, bucketSnapshots, func(key, _ []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		data, err := getRow(tx, bucketHeads, key)
		if err != nil {
			return err
		}
		if h, err := decodeHead(data); err != nil || !h.closed {
			c.Broken = append(c.Broken, Broken{Visit: fmt.Sprintf("%x", key), What: "a snapshot without a closed visit"})
		}
		return nil
	})
}

func (c *checker) settings(tx txn) error {
	if c.book != bookVisits {
		return nil // both have the same
	}
	_, err := readSettings(tx)
	return err
}
