package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// ErrNotOpen is wrapped where a record was closed already.
var ErrNotOpen = errors.New("the record was closed already")

// Broken is one stored thing that differs from what was written.
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
		for _, b := range namespaces() {
			c := &checker{Report: &report, ctx: ctx, namespace: b, now: map[id]*summary{}, thin: map[id]thinSum{}, beside: beside}
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
			filled, err := g.filled(tx)
			if err != nil && !report.note("", err) {
				return err
			}
			if filled {
				continue
			}
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

// checker is one namespace under check.
type checker struct {
	*Report
	ctx       context.Context
	namespace namespace
	own       []byte          // public key of this machine; nil where it has none
	now       map[id]*summary // fresh summary of every horse
	// thin are the sums of each horse's closed visits that stand, as its outline holds them.
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
	// held is the newest record of each other log that this machine's own lines say it held.
	held  map[signedlog.ID]signedlog.Head
	saved []byte // what it says
}

// check reads one namespace.
func (c *checker) check(tx txn) error {
	before := len(c.Broken)
	c.lines, c.found, c.held = map[exam.LineKind]int{}, map[exam.LineKind]int{}, map[signedlog.ID]signedlog.Head{}
	for _, part := range []func(txn) error{c.logs, c.others, c.joins, c.horses, c.visits, c.rounds, c.common, c.named, c.summaries, c.snapshots, c.settings} {
		if err := catchFaults(func() error { return part(tx) }); err != nil && !c.note("", err) {
			return err
		}
	}
	if c.namespace == rehearsalsNamespace {
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
	if c.namespace != visitsNamespace {
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

// rounds reads every line of every round.
func (c *checker) rounds(tx txn) error {
	return eachOfRound(tx, "", maxDay, func(exam.RoundLine) error {
		c.found[exam.LineRound]++
		return c.ctx.Err()
	})
}
