package storage

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"loosebox/exam"
	"loosebox/exam/progress"
)

// ErrNotOpen is wrapped where a record was closed already.
var ErrNotOpen = errors.New("the record was closed already")

// Broken is one thing that is not as it was written.
type Broken struct {
	Visit string `json:"visit"` // empty where no visit is concerned
	Seq   int    `json:"seq"`   // 0 where no single entry is concerned
	What  string `json:"what"`
	// Log and Line are the record of a log that it was found in; empty and 0 where it
	// was found elsewhere.
	Log  string `json:"log,omitempty"`
	Line uint64 `json:"line,omitempty"`
}

// Report is what Check found.
type Report struct {
	Visits     int      `json:"visits"`
	Entries    int      `json:"entries"` // of visits and rehearsals
	Rehearsals int      `json:"rehearsals"`
	Waiting    int      `json:"waiting"`    // visits whose beginning is not here
	Apart      int      `json:"apart"`      // lines that laptops wrote after they were out
	Aside      int      `json:"aside"`      // parts of logs that are kept until they fit
	Machines   int      `json:"machines"`   // that wrote
	Lines      int      `json:"lines"`      // of all logs
	Settings   int      `json:"settings"`   // lines about settings of the practice
	Signatures int      `json:"signatures"` // that were verified
	Writers    []Writer `json:"writers"`    // one for each log
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

// Check reads the whole record: the pages of the file, every log by its chain and its
// signatures, every line, every visit and everything derived against a fresh fold; visits
// and rehearsals alike. It changes nothing. What is broken is reported, not returned as
// an error.
func (r *Record) Check(ctx context.Context) (Report, error) {
	report := Report{Broken: []Broken{}, Writers: []Writer{}}
	r.writing.Lock()
	err := r.inspect(true)
	r.writing.Unlock()
	if !report.note("", err) {
		return Report{}, r.explain(err)
	}
	err = r.viewOnAll(func(tx txn, beside []txn) error {
		for _, b := range books() {
			c := &checker{Report: &report, ctx: ctx, book: b, now: map[id]*summary{}, thin: map[id]thinSum{}, beside: beside}
			if r.machine != nil {
				c.own = r.machine.public()
			}
			if err := c.check(tx.in(b)); err != nil {
				return err
			}
		}
		_, aside, err := asideOf(tx, nil)
		if err != nil && !report.note("", err) {
			return err
		}
		report.Aside = len(aside)
		gaps, err := readGaps(tx)
		if err != nil && !report.note("", err) {
			return err
		}
		for _, g := range gaps {
			report.Broken = append(report.Broken, Broken{
				What: g.String(),
				Log:  g.Log, Line: g.From,
			})
		}
		return nil
	})
	if err != nil && !report.note("", err) {
		return Report{}, err
	}
	report.OK = len(report.Broken) == 0
	return report, nil
}

// checker is one book under check.
type checker struct {
	*Report
	ctx  context.Context
	book book
	own  []byte          // public key of this machine; nil where it has none
	now  map[id]*summary // fresh summary of every horse
	// thin are the sums of the closed visits as outlines hold them.
	thin map[id]thinSum
	// beside are transactions of the same state, one for each core.
	beside []txn
	tell   func() // how many lines are read
	// lines counts the lines of the logs by kind, found those that something names.
	lines, found map[exam.LineKind]int
	totals       totals
	groups       groups // that the lines make
	heads        int    // of all records
	settled      uint64 // clock of the newest line of settings
	saved        []byte // what it says
}

// check reads one book.
func (c *checker) check(tx txn) error {
	before := len(c.Broken)
	c.lines, c.found = map[exam.LineKind]int{}, map[exam.LineKind]int{}
	for _, part := range []func(txn) error{c.logs, c.joins, c.horses, c.visits, c.rounds, c.common, c.named, c.summaries, c.snapshots, c.settings} {
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
	return eachKey(tx, bucketHorseLines, func(horse id) error {
		said, err := revisions(tx, horse)
		if err != nil {
			c.note("", err)
			return nil
		}
		c.found[exam.LineHorse] += len(said)
		s := new(summary)
		c.now[horse] = s
		now, err := foldHorse(tx, c.groups, horse)
		if err != nil {
			c.note("", err)
			return nil
		}
		return s.setHorse(now)
	})
}

// joins reads the lines that join horses and sets the groups beside them.
func (c *checker) joins(tx txn) error {
	if c.book != bookVisits {
		return nil
	}
	lines, err := readJoins(tx)
	if err != nil {
		return err
	}
	c.found[exam.LineJoin] = len(lines)
	if c.groups, err = makeGroups(tx); err != nil {
		return err
	}
	if stored, err := readGroups(tx); err != nil || !bytes.Equal(stored, c.groups) {
		return errors.Join(err, damaged("which horses are joined does not fit the lines: \"loosebox rebuild\" makes it again"))
	}
	return nil
}

// checkedVisit is a visit as it was read for itself.
type checkedVisit struct {
	id      id
	head    head
	wrong   error // its head cannot be read
	lines   int
	fold    exam.Visit
	why     error // it cannot be folded
	belongs error
	// stored is why its snapshot cannot be read; fits, that it is the fold.
	stored error
	fits   bool
	thin   thinSum // of a closed visit
}

// readVisitAlone reads and folds a visit; it may run beside others.
func readVisitAlone(tx txn, key, data []byte) (c checkedVisit) {
	c.id = id(key)
	if c.head, c.wrong = decodeHead(data); c.wrong != nil || c.head.waiting {
		return c
	}
	list, _, err := entriesAt(tx, c.id, c.head.where)
	c.lines, c.why = len(list), err
	if err == nil {
		c.fold, c.why = exam.Fold(list)
	}
	if c.why != nil {
		return c
	}
	c.belongs = belongs(tx.book, c.fold)
	if c.fold.Closed() {
		stored, err := readSnapshot(tx, c.id)
		c.stored, c.fits = err, err == nil && reflect.DeepEqual(stored, c.fold)
		if c.thin, err = sumThin(c.fold.Thin()); err != nil {
			c.stored = err
		}
	}
	return c
}

// aFew is how many visits one core is given at a time.
const aFew = 32

// visits reads every line of every visit and folds it, on all cores.
func (c *checker) visits(tx txn) error {
	n, err := readTotals(tx)
	if err != nil {
		n = totals{} // it is damaged, which the check of the totals says
	}
	type row struct{ key, data []byte }
	var work []func([]row) ([]checkedVisit, error)
	for _, t := range c.beside {
		own := t.in(c.book)
		work = append(work, func(rows []row) (out []checkedVisit, err error) {
			for _, r := range rows {
				out = append(out, readVisitAlone(own, r.key, r.data))
			}
			return out, nil
		})
	}
	a := newAssembly(work, func(few []checkedVisit) error {
		for _, v := range few {
			c.visit(v)
		}
		progress.Say(c.ctx, "visits", c.totals.visits, n.visits)
		return c.ctx.Err()
	})
	var few []row
	err = eachRow(tx, bucketVisits, func(key, data []byte) error {
		if len(key) != 16 {
			return damaged("a visit has a wrong key")
		}
		if few = append(few, row{key, data}); len(few) < aFew {
			return nil
		}
		now := few
		few = nil
		return a.Put(now)
	})
	if err == nil && len(few) > 0 {
		err = a.Put(few)
	}
	return a.End(err)
}

// visit counts a visit that was read, and sets it beside its head and its horse.
func (c *checker) visit(v checkedVisit) {
	if v.wrong != nil {
		c.note(v.id.String(), v.wrong)
		return
	}
	if v.head.waiting {
		c.Waiting++
		c.found[exam.LineEntry] += v.head.where.lines()
		return
	}
	c.totals.visits++
	if c.book == bookRehearsals {
		c.Rehearsals++
	} else {
		c.Visits++
	}
	c.Entries += v.lines
	c.found[exam.LineEntry] += v.lines
	if v.why != nil {
		c.note(v.id.String(), v.why)
		return
	}
	c.note(v.id.String(), v.belongs)
	c.compare(v)
}

// compare sets one visit beside its head and its snapshot.
func (c *checker) compare(v checkedVisit) {
	fold, h := v.fold, v.head
	horse, ok := parseID(string(fold.Horse.ID))
	if s := c.now[horse]; !ok || s == nil {
		c.broken(v.id, 1, "its horse %q is not in the record", fold.Horse.ID)
	} else {
		s.addVisit(slotOf(v.id, fold.OpenedAt), !fold.Closed())
		if !fold.Stands() {
			s.strikeVisit(v.id)
		}
		s.settleVisit(v.id, len(fold.Unsettled()) > 0)
	}
	switch {
	case h.seq != fold.Entries || h.last != fold.Last:
		c.broken(v.id, fold.Entries, "%d entries are there, %d were written", fold.Entries, h.seq)
	case h.closed != fold.Closed() || h.struck == fold.Stands() || h.horse != horse:
		c.broken(v.id, 0, "its head does not fit its entries")
	}
	if fold.Closed() {
		c.thin[v.id] = v.thin
	}
	switch {
	case !fold.Closed():
	case v.stored != nil:
		c.note(v.id.String(), v.stored)
	case !v.fits:
		c.broken(v.id, 0, "its snapshot is not the fold of its entries")
	}
}

// rounds reads every line of every round.
func (c *checker) rounds(tx txn) error {
	return eachOfRound(tx, "", maxDay, func(exam.RoundLine) error {
		c.found[exam.LineRound]++
		return c.ctx.Err()
	})
}

// common sets what stands of the practice's settings beside the lines about them.
func (c *checker) common(tx txn) error {
	n := 0
	err := eachRow(tx, bucketSettingLines, func(key, data []byte) error {
		where, err := decodeRuns(data)
		if err != nil {
			return err
		}
		n++
		c.found[exam.LinePractice] += where.lines()
		want, err := stands(tx, exam.SettingKey(key))
		if err != nil {
			c.note("", err)
			return nil
		}
		if stored, err := readRuns(tx, bucketStanding, key); err != nil || !slices.Equal(stored, want) {
			c.note("", cmp.Or(err, damaged("what stands of the setting %s does not fit its lines: \"loosebox rebuild\" makes it again", key)))
		}
		return nil
	})
	if err != nil {
		return err
	}
	c.Settings += c.found[exam.LinePractice]
	return eachRow(tx, bucketStanding, func([]byte, []byte) error {
		if n--; n < 0 {
			return damaged("a setting stands about which there is no line")
		}
		return nil
	})
}

// named makes sure that every line of the logs is one of a visit, a horse or a round.
func (c *checker) named(tx txn) error {
	for _, k := range []exam.LineKind{exam.LineEntry, exam.LineHorse, exam.LineRound, exam.LineJoin, exam.LinePractice} {
		if c.lines[k] != c.found[k] {
			c.note("", damaged("the logs have %d lines of the kind %s, but only %d are indexed: \"loosebox rebuild\" finds them again",
				c.lines[k], k, c.found[k]))
		}
	}
	kept := 0
	if err := eachRow(tx, bucketSeen, func([]byte, []byte) error { kept++; return nil }); err != nil {
		return err
	}
	if kept != c.heads {
		c.note("", damaged("the logs say %d times how much they held of others, %d are kept: \"loosebox rebuild\" makes them again", c.heads, kept))
	}
	want, err := readTotals(tx)
	if err == nil && (want.visits != c.totals.visits || want.horses != len(c.now)) {
		err = damaged("%d horses and %d visits are there, %d and %d were written", len(c.now), c.totals.visits, want.horses, want.visits)
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
			return nil
		}
		c.note("", outlineFits(tx, horse, stored, c.thin))
		return nil
	})
	if err == nil && n != len(c.now) {
		err = damaged("%d horses are listed, %d are there", n, len(c.now))
	}
	return err
}

// same says that two summaries list the same horse, visits and open visits.
func (s *summary) same(o *summary) bool {
	return bytes.Equal(s.Horse, o.Horse) && bytes.Equal(s.Visits, o.Visits) && maps.Equal(s.openSet(), o.openSet()) && maps.Equal(s.struckSet(), o.struckSet()) &&
		maps.Equal(setOf(s.Unsettled), setOf(o.Unsettled))
}

// snapshots finds snapshots that belong to nothing.
func (c *checker) snapshots(tx txn) error {
	return eachRow(tx, bucketSnapshots, func(key, _ []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		data, err := getRow(tx, bucketVisits, key)
		if err != nil {
			return err
		}
		if h, err := decodeHead(data); err != nil || !h.closed {
			c.Broken = append(c.Broken, Broken{Visit: fmt.Sprintf("%x", key), What: "a snapshot without a closed visit"})
		}
		return nil
	})
}
