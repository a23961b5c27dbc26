package after

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// clock is a moment of a visit for a person: the time, and the day where it is
// another than today.
func (in Input) clock(at time.Time) string { return notation.ClockDay(at, in.Now) }

func (in Input) handOff() Task {
	l := Task{Kind: HandOff, State: Open, Text: "not handed off yet", Why: "read the page to the veterinarian"}
	n := len(in.Visit.HandOffs)
	if n == 0 {
		return l
	}
	last := in.Visit.HandOffs[n-1]
	l.Text = fmt.Sprintf("handed off %s to %s", in.clock(last.At), last.To)
	if last.How != "" {
		l.Text += ", " + last.How.String()
	}
	if last.ReadBack {
		l.Text += ", read back"
	} else {
		l.Text += ", not read back"
	}
	if n > 1 {
		l.Text += fmt.Sprintf(" (%d in all)", n)
	}
	l.State, l.Why = Done, ""
	if news, ok := authorization.Untold(in.Visit, in.Remarks); ok {
		l.State, l.Why = Open, "new since then: "+news
	}
	return l
}

// decisions lists those that are not corrected, each with what became of it, and
// the next one.
func (in Input) decisions() []Task {
	var out []Task
	standing := slices.DeleteFunc(slices.Clone(in.Visit.Decisions), func(d exam.Decided) bool { return d.Corrected })
	slices.SortStableFunc(standing, func(a, b exam.Decided) int { return a.Since().Seq - b.Since().Seq })
	for _, d := range standing {
		out = append(out, in.decision(d))
	}
	next := Task{Kind: Decision, State: Open, Text: "save a decision of the veterinarian"}
	switch {
	case len(standing) == 0:
		next.Why = "it unlocks the procedures"
	case out[len(out)-1].State == Locked:
		next.Why = "the earlier decision is no longer valid"
	}
	return append(out, next)
}

func (in Input) decision(d exam.Decided) Task {
	l := Task{Kind: Decision, State: Done, Number: d.Seq}
	what := "everything"
	if len(d.Covers) > 0 {
		words := make([]string, len(d.Covers))
		for i, c := range d.Covers {
			words[i] = c.Text()
		}
		what = strings.Join(words, "; ")
	}
	l.Text = fmt.Sprintf("%s, %s %s: %s (%s)", d.Ruling, d.Vet, in.clock(d.Since().At), what, d.How)
	if d.First != nil {
		l.Text += ", corrected " + in.clock(d.At)
	}
	if in.Visit.Closed() && !d.AfterClosing {
		return l
	}
	// Whether it still opens anything is asked of the one gate.
	for _, c := range d.Covers {
		if d.Ruling != exam.GoAhead {
			break
		}
		now, err := authorization.Covering(in.Visit, in.Remarks, in.procedure(c))
		switch {
		case err == nil && now.Seq == d.Seq:
			l.State, l.Why = Done, "valid until "+in.clock(in.Visit.Holds(d))
			return l
		case err != nil && now.Seq == d.Seq:
			l.State, l.Why = Locked, err.Error()
		case l.Why == "":
			l.Why = "a later decision replaces it"
		}
	}
	return l
}

func (in Input) procedure(c exam.CoveredProcedure) exam.Procedure {
	return exam.Procedure{Kind: c.Kind, Product: c.Product, Route: c.Route, At: in.Now}
}
