package compare

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Table is visits side by side, newest first.
type Table struct {
	Horse   exam.Horse // as it was known at the newest visit
	Columns []Column
	Rows    []StepRow // in the order of the record
}

// Column is one visit.
type Column struct {
	ID      exam.VisitID
	At      time.Time
	Routine string
	By      string
	Class   ranges.Class // of the horse at that visit
	Level   exam.Level   // of the visit, combinations included
	Stirred []exam.State // states other than rest
	Open    bool         // not closed yet
	// Coverage is how much of the routine was answered; it is set by Cover.
	Coverage exam.Coverage
}

// Cover says of each column how much of its routine was answered. Visits are those
// of the columns.
func (t *Table) Cover(vs []exam.Visit, routines []exam.Routine, s *exam.Steps) {
	for i := range min(len(vs), len(t.Columns)) {
		t.Columns[i].Coverage = vs[i].CoverageIn(routines, s)
	}
}

// Dates words the days of the columns, so that two of one day are told apart.
func (t Table) Dates() notation.Dates {
	at := make([]time.Time, len(t.Columns))
	for i := range t.Columns {
		at[i] = t.Columns[i].At
	}
	return notation.NewDates(at...)
}

// StepRow is one step and site over the visits. Numbers are in Unit, that of the newest number; Low and High are what is
// usual for the class at the newest visit, nil where no range is held.
type StepRow struct {
	Step exam.StepID
	Site exam.Site
	Name string
	Unit notation.Unit
	// Decimals is how many a number of the row is shown with at most.
	Decimals  int
	Cells     []Cell // one for each column
	Low, High *float64
	Own       *exam.OwnRange // from the visits before the newest
	Change    Change         // of the newest finding against the one before it
}

// Place names the step and site of the row.
func (r *StepRow) Place() string {
	if r.Site == exam.NoSite {
		return r.Name
	}
	return r.Name + ", " + r.Site.String()
}

// Cell is one finding in a row.
type Cell struct {
	Text    string   // a number without its unit, or words
	Number  *float64 // in the row's unit
	AsTyped string   // "101.2 F", where the number was typed in another unit than the row's
	Level   exam.Level
	Rated   bool // the level can be said: it is known what is usual, or a limit is crossed
	NotDone exam.Reason
	Empty   bool // the visit has no entry for the place
	// Borderline is true where the interval of a count straddles a limit.
	Borderline bool
	Corrected  bool // it replaced an earlier answer
	// Unsettled says who gave which of the answers that nobody has settled; Text then has all of them, and there is no Number.
	Unsettled string
	Before    []Was
}

// Was is what a finding said before a correction, oldest first in a list, and who
// corrected it, when and why.
type Was struct {
	Text        string           `json:"value"` // with its unit, or words, or "not done" and the reason
	By          string           `json:"by"`
	At          time.Time        `json:"at"`
	CorrectedBy string           `json:"corrected_by"`
	CorrectedAt time.Time        `json:"corrected_at"`
	Why         exam.AmendReason `json:"why,omitempty"`
}

func was(f *exam.Finding, step exam.Step) []Was {
	var out []Was
	for i, old := range f.Before {
		next := f
		if i+1 < len(f.Before) {
			next = &f.Before[i+1]
		}
		text := "not done, " + old.NotDone.String()
		if old.Done() {
			text = old.Value.Show(step)
		}
		out = append(out, Was{notation.CleanLine(text, 0), old.By, old.At, next.By, next.At, next.Why})
	}
	return out
}

// Visits sets visits side by side. Both lists are newest first; earlier holds the visits before the oldest of vs, for
// the own ranges and for the change against a visit that has no column. A row stands for every step and site that at
// least one of the visits answered.
func Visits(vs, earlier []exam.Visit, j *judge.Judge, s *exam.Steps) Table {
	return VisitsIn(nil, vs, earlier, j, s)
}

// VisitsIn is Visits with numbers in the units in which a person works, by the unit that each replaces; a step whose unit is
// not among them is in that of its newest number.
func VisitsIn(units map[notation.Unit]notation.Unit, vs, earlier []exam.Visit, j *judge.Judge, s *exam.Steps) Table {
	if len(vs) == 0 {
		return Table{}
	}
	every := slices.Concat(vs, earlier)
	t := Table{Horse: vs[0].Horse, Columns: make([]Column, len(vs))}
	found := make([]finder, len(vs))
	for i := range vs {
		standings, level := j.Standings(vs[i], every[i+1:])
		found[i] = finder{standings: standings}
		t.Columns[i] = column(&vs[i])
		t.Columns[i].Level = level
	}
	for _, k := range places(vs, s) {
		t.Rows = append(t.Rows, makeRow(k, every, found, units, j, s))
	}
	return t
}

func column(v *exam.Visit) Column {
	return Column{
		ID: v.ID, At: v.OpenedAt, Routine: v.Routine, By: v.By, Class: v.Class().Name,
		Stirred: v.Context.NotAtRest(), Open: !v.Closed() && v.Source == "",
	}
}

// places lists the steps and sites that at least one visit answered, in the order of the record; those of steps that
// this version does not know come last.
func places(vs []exam.Visit, s *exam.Steps) []exam.Key {
	answered := map[exam.Key]bool{}
	for i := range vs {
		for k := range vs[i].Findings {
			if f := &vs[i].Findings[k]; f.Done() {
				answered[f.Key()] = true
			}
		}
	}
	var out []exam.Key
	take := func(k exam.Key) {
		if answered[k] {
			out = append(out, k)
			delete(answered, k)
		}
	}
	for _, step := range s.All() {
		take(exam.Key{Step: step.ID})
		take(exam.Key{Step: step.ID, Site: exam.Overall})
		for _, site := range step.Sites {
			take(exam.Key{Step: step.ID, Site: site})
		}
	}
	rest := make([]exam.Key, 0, len(answered))
	for k := range answered {
		rest = append(rest, k)
	}
	slices.SortFunc(rest, compareKeys)
	return append(out, rest...)
}

// finder looks standings up by place. Rows come in the order of the standings, so it begins where it last found one.
type finder struct {
	standings []judge.Standing
	next      int
}

func (f *finder) at(k exam.Key) judge.Standing {
	n := len(f.standings)
	for i := range n {
		at := (f.next + i) % n
		if s := &f.standings[at]; s.Step == k.Step && s.Site == k.Site {
			f.next = at + 1
			return *s
		}
	}
	return judge.Standing{}
}
