// Package class gathers what the students of a class did in one set exam: a table by person, by step and by fault, as
// blocks for a page, as CSV and as a screen, and a mark sheet for each to print and sign.
package class

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
)

// Attempt is one rehearsal of the exam.
type Attempt struct {
	Number int // of this student, from 1, in the order of beginning
	Marks  rehearse.Marks
	Score  rehearse.Points // by the points of the exam
	Failed []string        // faults that fail at once
	Late   bool            // begun or ended after the deadline
	Extra  bool            // more than the exam allows
}

// passed reports whether the attempt counts and reaches the pass mark without a fault that fails at once.
func (a Attempt) passed(s rehearse.Set) bool {
	return a.counts() && a.Score.Percent >= s.Pass-1e-9 && len(a.Failed) == 0
}

// counts says that the attempt is finished, in time and within those allowed.
func (a Attempt) counts() bool { return a.Marks.Finished && !a.Late && !a.Extra }

// Student is one person of the class. Best is the attempt that counts, with the most points of those that pass, else of
// all that count; nil where none does.
type Student struct {
	Name     string
	Attempts []Attempt
	Best     *Attempt
	Passed   bool
}

// Results are those of everybody who took the exam, by name.
type Results struct {
	Set      rehearse.Set
	Students []Student
}

// New gathers the rehearsals of an exam. People are one when their names differ in nothing but case and spaces.
func New(s rehearse.Set, all []rehearse.Marks) Results {
	c := Results{Set: s}
	sorted := slices.SortedStableFunc(slices.Values(all), func(a, b rehearse.Marks) int { return a.At.Compare(b.At) })
	for _, m := range sorted {
		i := slices.IndexFunc(c.Students, func(x Student) bool { return progress.SamePerson(x.Name, m.By) })
		if i < 0 {
			i = len(c.Students)
			c.Students = append(c.Students, Student{Name: m.By})
		}
		st := &c.Students[i]
		n := len(st.Attempts) + 1
		st.Attempts = append(st.Attempts, Attempt{
			Number: n, Marks: m, Score: m.ScoreBy(s.Weights), Failed: s.Failed(m),
			Late:  !s.Deadline.IsZero() && m.At.Add(time.Duration(m.TotalS*float64(time.Second))).After(s.Deadline),
			Extra: s.Attempts > 0 && n > s.Attempts,
		})
	}
	for i := range c.Students {
		c.Students[i].choose(s)
	}
	slices.SortFunc(c.Students, func(a, b Student) int { return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return c
}

func (st *Student) choose(s rehearse.Set) {
	for i := range st.Attempts {
		a := &st.Attempts[i]
		better := st.Best == nil || a.passed(s) && !st.Best.passed(s) || a.passed(s) == st.Best.passed(s) && a.Score.Percent > st.Best.Score.Percent
		if a.counts() && better {
			st.Best = a
		}
	}
	st.Passed = st.Best != nil && st.Best.passed(s)
}

// Result is what became of a student, in words.
func (c Results) Result(st Student) string {
	switch {
	case st.Passed:
		return "passed"
	case st.Best == nil && !st.Attempts[0].Marks.Finished:
		return "not finished"
	case st.Best == nil:
		return "late"
	case len(st.Best.Failed) > 0:
		return "failed at once: " + strings.Join(st.Best.Failed, "; ")
	}
	return "failed"
}

// PlaceTally is what the class made of one place of the routine; only attempts that count are in it.
type PlaceTally struct {
	Name                             string
	Key                              exam.Key
	Asked, Right, InPart, Wrong, Not int
}

// Places lists every place of the routine in its order.
func (c Results) Places() []PlaceTally {
	var out []PlaceTally
	for _, st := range c.Students {
		if st.Best == nil {
			continue
		}
		for _, f := range st.Best.Marks.Findings {
			k := exam.Key{Step: f.Step, Site: f.Site}
			i := slices.IndexFunc(out, func(p PlaceTally) bool { return p.Key == k })
			if i < 0 {
				i = len(out)
				out = append(out, PlaceTally{Name: f.Name, Key: k})
			}
			out[i].add(f.Outcome)
		}
	}
	return out
}

func (p *PlaceTally) add(o rehearse.Outcome) {
	p.Asked++
	switch o {
	case rehearse.OutcomeRight:
		p.Right++
	case rehearse.OutcomeInPart, rehearse.OutcomeMeasuredOff:
		p.InPart++
	case rehearse.OutcomeWrong:
		p.Wrong++
	case rehearse.OutcomeNotExamined:
		p.Not++
	}
}

// Fault is one fault with those who made it.
type Fault struct {
	Kind  rehearse.FaultKind
	Name  string
	By    []string
	Count int
}

// Faults lists every fault of the attempts that count, those that most people made first.
func (c Results) Faults() []Fault {
	var out []Fault
	for _, st := range c.Students {
		if st.Best == nil {
			continue
		}
		for _, f := range st.Best.Marks.Faults() {
			i := slices.IndexFunc(out, func(x Fault) bool { return x.Kind == f.Kind && x.Name == f.Name })
			if i < 0 {
				i = len(out)
				out = append(out, Fault{Kind: f.Kind, Name: f.Name})
			}
			out[i].Count++
			if !slices.Contains(out[i].By, st.Name) {
				out[i].By = append(out[i].By, st.Name)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Fault) int {
		return cmp.Or(len(b.By)-len(a.By), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Name, b.Name))
	})
	return out
}
