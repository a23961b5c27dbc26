package handoff

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// How much of what people wrote is read; the whole of it stands in the file.
const (
	mostComments = 3
	mostComment  = 16 // words
	mostNotDone  = 8  // words of why something was not done
	fewNotDone   = 3  // of them where there are many reasons
	mostWhys     = 3
	onPage       = "reasons on the page"
)

// comments are what people wrote: "anything else", then the notes of steps, then
// those of the visit.
func (in Input) comments() []string {
	list := in.written()
	var lines []string
	for _, c := range list[:min(len(list), mostComments)] {
		lines = append(lines, notation.Capital(c.name)+": "+cut(c.text, mostComment)+".")
	}
	if n := len(list) - mostComments; n > 0 {
		lines = append(lines, fmt.Sprintf("%d more comments on the page.", n))
	}
	return lines
}

// comment is a text that somebody wrote, and to what.
type comment struct{ name, text string }

// written lists every comment of the visit in the order in which it is read.
func (in Input) written() []comment {
	var first, steps, visit []comment
	for _, f := range in.Visit.Findings {
		switch text := notation.CleanNote(f.Note); {
		case f.Done() && f.Value.Kind == exam.KindNote:
			if text := notation.CleanNote(f.Value.Text); text != "" {
				first = append(first, comment{in.place(f.Key()), text})
			}
		case text != "" && f.Done():
			steps = append(steps, comment{in.place(f.Key()), text})
		}
	}
	for _, n := range in.Visit.Notes {
		switch text := in.Visit.NoteText(n); {
		case text == "":
		case n.Step == "":
			visit = append(visit, comment{"comment", text})
		default:
			steps = append(steps, comment{in.place(exam.Key{Step: n.Step, Site: n.Site}), text})
		}
	}
	return slices.Concat(first, steps, visit)
}

// missing is what was not done and why, and what nobody looked at; the vital signs
// among them were said before.
func (in Input) missing(p *Page) []string {
	vital := func(id exam.StepID) bool {
		return slices.ContainsFunc(p.Vitals, func(v Vital) bool { return !v.Only && slices.Contains(v.Steps, id) })
	}
	names := map[string][]string{}
	var reasons []string
	for _, f := range p.NotDone {
		if f.NotDone == exam.ReasonNotApplicable || vital(f.Step) {
			continue // on the page
		}
		why, name := f.WhyNot(), in.place(f.Key())
		if in.nowhere(f.Step, why) {
			name = in.name(f.Step)
		}
		if len(names[why]) == 0 {
			reasons = append(reasons, why)
		}
		if !slices.Contains(names[why], name) {
			names[why] = append(names[why], name)
		}
	}
	var lines []string
	for _, r := range reasons[:min(len(reasons), mostWhys)] {
		list := names[r]
		text := strings.Join(list[:min(len(list), 3)], ", ")
		if len(list) > 3 {
			text += fmt.Sprintf(" and %d more", len(list)-3)
		}
		lines = append(lines, fmt.Sprintf("Not done, %s: %s.", cut(r, mostNotDone), text))
	}
	if len(reasons) > mostWhys {
		var more []string
		for _, r := range reasons[mostWhys:] {
			more = append(more, names[r]...)
		}
		text := strings.Join(more[:min(len(more), 3)], ", ")
		if len(more) > 3 {
			text += fmt.Sprintf(" and %d more", len(more)-3)
		}
		lines = append(lines, "Not done, "+onPage+": "+text+".")
	}
	if line := in.left(vital); line != "" {
		lines = append(lines, line)
	}
	return lines
}

// nowhere says that a step was done at none of its sites, for the same reason at each.
func (in Input) nowhere(id exam.StepID, why string) bool {
	return !slices.ContainsFunc(in.Visit.Findings, func(f exam.Finding) bool { return f.Step == id && (f.Done() || f.WhyNot() != why) }) &&
		!slices.ContainsFunc(in.Left, func(k exam.Key) bool { return k.Step == id })
}

// left says what nobody looked at yet: a few by name, many by their number.
func (in Input) left(vital func(exam.StepID) bool) string {
	var names []string
	for _, k := range in.Left {
		if name := in.name(k.Step); !vital(k.Step) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	switch {
	case len(names) == 0:
		return ""
	case len(names) <= 3:
		return fmt.Sprintf("Not looked at: %s.", strings.Join(names, ", "))
	case in.Coverage.Of > 0:
		return fmt.Sprintf("Not looked at: %d of %d steps.", len(in.Left), in.Coverage.Of)
	default:
		return fmt.Sprintf("Not looked at: %d steps.", len(in.Left))
	}
}

// background is what else helps to decide.
func (in Input) background() []string {
	v, h := in.Visit, in.Visit.Horse
	var lines []string
	add := func(label, text string) {
		if text != "" {
			lines = append(lines, label+cut(text, 10)+".")
		}
	}
	if !hides(v.Context) { // otherwise it is read beside the vital signs
		lines = append(lines, said(v)...)
	}
	add("Given: ", strings.Join(in.lately(), ", "))
	add("Reactions before: ", strings.Join(h.Reactions, ", "))
	switch {
	case h.InFoal && h.FoalDue != "":
		lines = append(lines, "In foal, due "+notation.Shown(h.FoalDue)+".")
	case h.InFoal:
		lines = append(lines, "In foal.")
	}
	if seen := exam.LookedAt(in.Earlier); len(seen) > 0 && len(in.Table.Columns) > 1 {
		c := in.Table.Columns[1]
		lines = append(lines, fmt.Sprintf("Last seen %s, %s, %s answered.", notation.SayWhen(seen[0].OpenedAt, in.Now), c.Level, c.Coverage.Short()))
	}
	if len(v.Context.NotAtRest()) == 0 {
		add("Last 30 minutes: ", before(v.Context))
	}
	add("Handle with care: ", strings.Join(h.Cautions, ", "))
	add("Owner: ", h.Owner)
	return lines
}

// lately lists what was given in the last 14 days, this visit first.
func (in Input) lately() []string {
	var out []string
	for _, v := range append([]exam.Visit{in.Visit}, in.Earlier...) {
		for _, i := range v.Injections {
			if i.State == exam.InjectionGiven && i.EndAt != nil && in.Now.Sub(*i.EndAt) < 14*24*time.Hour {
				out = append(out, i.Product()+" "+notation.SayWhen(*i.EndAt, in.Now))
			}
		}
		for _, d := range v.Draws {
			if v.ID == in.Visit.ID && d.State == exam.DrawDone && d.EndAt != nil {
				out = append(out, "blood drawn "+notation.SayWhen(*d.EndAt, in.Now))
			}
		}
	}
	return out
}

// request is what is asked. Where nothing is to be decided the page is read for
// information, and no decision is asked for.
func (in Input) request() []string {
	if text := notation.CleanLine(in.Asked, 0); text != "" {
		return []string{cut(text, 20)}
	}
	lines := []string{"Please say: go ahead, wait, or stop."}
	switch {
	case in.Verdict.Level >= ranges.LevelTell || len(dangers(in.Visit)) > 0:
		lines[0] = "Please look at this horse, or say: go ahead, wait, or stop."
	case in.Verdict.Level < ranges.LevelRecheck && in.Visit.Routine != beforeVaccination:
		lines[0] = "This is for your information. Do you want anything else?"
	}
	if due.Wounded(in.Visit) {
		if _, ask := due.Booster(append([]exam.Visit{in.Visit}, in.Earlier...), in.Now); ask {
			lines = append(lines, "There is a wound: is a tetanus booster due?")
		}
	}
	return lines
}

// beforeVaccination is the routine that is made to ask whether to go ahead.
const beforeVaccination = "before-vaccination"
