package exam

import (
	"fmt"
	"slices"
)

// Numbers numbers the lines of one visit from 1, in the order in which they are read, and
// translates between these numbers and the identities by which stored lines name each other. A
// record stores identities only: a number could be given on two laptops at once. The zero value is
// a visit without lines.
type Numbers struct {
	last  Hash
	seqs  map[Hash]int
	lines []Hash
	// injections and draws are the identities of the lines that began them, by number.
	injections, draws []Hash
}

// Next gives a line that was read its place and numbers. What it names and the visit
// does not hold gets the number 0; a procedure whose beginning is not held begins with
// the first of its lines. What e points to is changed in place: it must be the caller's own.
func (n *Numbers) Next(e Entry, identity Hash) Entry {
	if n.seqs == nil {
		n.seqs = map[Hash]int{}
	}
	e.Seq, e.Prev, e.Hash = len(n.lines)+1, n.last, identity
	e.Corrects, e.Settles, e.Apart = n.seqs[e.CorrectsLine], n.held(e.SettlesLines), n.held(e.ApartLines)
	e.Unseen = slices.Clone(e.Apart)
	if l := e.Injection; l != nil {
		l.Number = numberOf(&n.injections, l.Of, identity)
		if l.Order != nil {
			l.Order.Decision = n.seqs[l.Order.DecisionLine]
		}
	}
	if l := e.Draw; l != nil {
		l.Number = numberOf(&n.draws, l.Of, identity)
		if l.Order != nil {
			l.Order.Decision = n.seqs[l.Order.DecisionLine]
		}
	}
	if l := e.Watch; l != nil {
		l.Injection = slices.Index(n.injections, l.Of) + 1
	}
	if e.Formality != nil && e.Formality.Control != nil {
		c := e.Formality.Control
		c.Injection = slices.Index(n.injections, c.Of) + 1
	}
	n.seqs[identity] = e.Seq
	n.lines = append(n.lines, identity)
	n.last = identity
	return e
}

// held are the numbers of those of some lines that the visit holds.
func (n *Numbers) held(lines []Hash) []int {
	var out []int
	for _, line := range lines {
		if seq := n.seqs[line]; seq > 0 {
			out = append(out, seq)
		}
	}
	return out
}

// numberOf is the number of the procedure that a line belongs to.
func numberOf(begun *[]Hash, of, self Hash) int {
	if of == "" {
		of = self
	}
	if i := slices.Index(*begun, of); i >= 0 {
		return i + 1
	}
	*begun = append(*begun, of)
	return len(*begun)
}

// Identify turns the numbers of a line that is to be written into identities. The
// line that was given is not changed. The error says which entry is not there.
func (n *Numbers) Identify(e Entry) (Entry, error) {
	var err error
	if e.CorrectsLine, err = n.line(e.Corrects); err != nil {
		return e, err
	}
	if e.SettlesLines, err = n.allLines(e.Settles); err != nil {
		return e, err
	}
	if e.ApartLines, err = n.allLines(e.Apart); err != nil {
		return e, err
	}
	e.Corrects, e.Settles, e.Apart = 0, nil, nil
	if e.Injection != nil {
		l := *e.Injection
		l.Of, l.Number = at(n.injections, l.Number), 0
		if l.Order != nil {
			o := *l.Order
			if o.DecisionLine, err = n.line(o.Decision); err != nil {
				return e, err
			}
			o.Decision, l.Order = 0, &o
		}
		e.Injection = &l
	}
	if e.Draw != nil {
		l := *e.Draw
		l.Of, l.Number = at(n.draws, l.Number), 0
		if l.Order != nil {
			o := *l.Order
			if o.DecisionLine, err = n.line(o.Decision); err != nil {
				return e, err
			}
			o.Decision, l.Order = 0, &o
		}
		e.Draw = &l
	}
	if e.Watch != nil {
		l := *e.Watch
		l.Of, l.Injection = at(n.injections, l.Injection), 0
		e.Watch = &l
	}
	if e.Formality != nil && e.Formality.Control != nil {
		f, c := *e.Formality, *e.Formality.Control
		c.Of, c.Injection = at(n.injections, c.Injection), 0
		f.Control, e.Formality = &c, &f
	}
	return e, nil
}

// Refers says that a line names others of its visit by number.
func (e Entry) Refers() bool {
	return e.Corrects != 0 || len(e.Settles) > 0 || len(e.Apart) > 0 || e.Injection != nil || e.Draw != nil || e.Watch != nil ||
		e.Formality != nil && e.Formality.Control != nil
}

func (n *Numbers) allLines(seqs []int) ([]Hash, error) {
	var out []Hash
	for _, seq := range seqs {
		line, err := n.line(seq)
		if err != nil {
			return nil, err
		}
		out = append(out, line)
	}
	return out, nil
}

func (n *Numbers) line(seq int) (Hash, error) {
	if seq < 0 || seq > len(n.lines) {
		return "", fmt.Errorf("there is no entry %d in the visit; nothing was saved", seq)
	}
	return at(n.lines, seq), nil
}

// at is the identity under a number from 1; empty for none.
func at(list []Hash, number int) Hash {
	if number < 1 || number > len(list) {
		return ""
	}
	return list[number-1]
}
