package explain

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/score"
)

// Section is what there is to know of one thing.
type Section struct {
	Head  string
	Lines []string
}

// Subject is the place that is asked about.
type Subject struct {
	Judge *judge.Judge
	Step  exam.Step
	Site  exam.Site
	Visit exam.Visit
	// Finding is nil before there is an answer.
	Finding *exam.Finding
	Earlier []exam.Visit  // newest first
	Unit    notation.Unit // that the range is shown in; empty: the finding's, or the step's
}

// Parts explains a finding, or before there is one what an answer will be set beside. It is never empty.
func Parts(a Subject) []Section {
	if a.Unit == notation.NoUnit {
		a.Unit = a.Step.Unit
		if f := a.Finding; f != nil && f.Value.Number != nil && f.Value.Number.Unit != notation.NoUnit {
			a.Unit = f.Value.Number.Unit
		}
	}
	var out []Section
	add := func(head string, lines []string) {
		if len(lines) > 0 {
			out = append(out, Section{head, lines})
		}
	}
	if a.Finding != nil && a.Finding.Done() {
		add("How it was found", Value(a.Judge, a.Step, a.Finding.Value, a.Visit))
		add("What is said of it", a.remark())
	}
	if b, ok := score.BasisOf(a.Step.ID); ok && a.Finding == nil {
		add("Score", based(b))
	}
	add("Range", a.ranged())
	add("So far", score.SignsSoFar(a.Visit, a.Step.ID))
	if b, ok := score.GoesInto(a.Step.ID); ok {
		add("What it goes into", based(b))
	}
	if len(a.Step.Choices) > 0 && (a.Finding == nil || !a.Finding.Done()) {
		add("What the answers say", answers(a.Judge, a.Step.For(a.Visit.Horse)))
	}
	add("This horse's range", a.own())
	add("Change", a.change())
	var stirred []string
	for _, e := range score.EffectsOn(a.Visit.Context, a.Step.ID) {
		stirred = append(stirred, e.Lines()...)
	}
	add("Effect of the last 30 minutes", stirred)
	if len(out) == 0 {
		add("Range", []string{"No range is known for this step."})
	}
	return out
}

func (a Subject) ranged() []string {
	class := a.Visit.Class()
	text, held := a.Judge.Range(class, a.Step, a.Unit)
	switch {
	case held:
		lines := []string{fmt.Sprintf("range for %s: %s", class.Name, text.Line)}
		if text.Practice {
			lines = append(lines, "This row is the practice's own.")
		}
		if text.Words != "" {
			lines = append(lines, text.Words)
		}
		return append(lines, text.Sources...)
	case text.Why != "":
		return []string{text.Why}
	}
	return nil
}

func (a Subject) own() []string {
	if !a.Step.Kind.Measured() {
		return nil
	}
	r, ok := a.Judge.OwnAt(a.Visit, exam.Key{Step: a.Step.ID, Site: a.Site}, a.Unit, a.Earlier)
	if !ok {
		return nil
	}
	dates := exam.DatesOf(append([]exam.Visit{a.Visit}, a.Earlier...)...)
	head := fmt.Sprintf("%s to %s from %d earlier visits, %s to %s", notation.FormatNumber(r.Low, 1), notation.Quantity{Value: r.High, Unit: r.Unit}.Text(1),
		r.Visits, dates.Show(r.FirstAt), dates.Show(r.LastAt))
	return append([]string{head}, judge.OwnSource(r)...)
}

func (a Subject) change() []string {
	k := exam.Key{Step: a.Step.ID, Site: a.Site}
	if a.Finding == nil {
		n, last, at, ok := compare.NoiseAhead(a.Judge, a.Visit, k, a.Unit, a.Earlier)
		if !ok {
			return nil
		}
		return append([]string{fmt.Sprintf("against %s on %s", notation.Quantity{Value: last, Unit: a.Unit}.Text(1), exam.DatesOf(append([]exam.Visit{a.Visit}, a.Earlier...)...).Show(at))}, n.Explain()...)
	}
	c := compare.ChangeAt(a.Judge, a.Visit, k, a.Step, a.Unit, a.Earlier)
	if c.Verdict == compare.NoVerdict {
		return nil
	}
	return append([]string{c.Means}, c.Noise.Explain()...)
}

// remark is what the judge says of the finding, with the source of the limit it crossed.
func (a Subject) remark() []string {
	r, ok := a.Judge.Finding(a.Visit, *a.Finding, a.Earlier)
	if !ok || r.Why == "" {
		return nil
	}
	return Remark(r)
}

// Remark says why something was remarked and where that comes from.
func Remark(r exam.Remark) []string {
	lines := []string{fmt.Sprintf("%s: %s", r.Level, r.Why)}
	switch {
	case r.Source != "":
		lines = append(lines, fmt.Sprintf("source: %s (%s)", r.Source, r.Evidence))
	case r.Evidence != "":
		lines = append(lines, "evidence: "+r.Evidence.String())
	}
	if r.Practice {
		lines = append(lines, "by the practice's own row")
	}
	return lines
}
