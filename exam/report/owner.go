package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// OwnerBlocks is the page for the owner: what was looked at and what was found, in
// plain words beside what is usual, what was given, and what was agreed. It holds
// no remark, no level, no note and no caution: those are for the veterinarian and
// for whoever handles the horse, and the owner hears of them from the veterinarian.
func OwnerBlocks(p Page, j *judge.Judge) []Block {
	p = p.asRead()
	w := &writer{}
	v, h := p.Visit, p.Visit.Horse
	w.block().Box = true
	if v.Struck != nil {
		w.wrap("State  ", "This visit was entered by mistake and does not count. It was voided on "+v.Struck.At.Format(longDay)+notation.CleanNote(because(v.Struck.Why))+".")
	}
	w.wrap("Horse  ", notation.CleanNote(h.Name))
	w.wrap("Owner  ", notation.CleanNote(h.Owner))
	w.wrap("Animal ", notation.CleanNote(join(", ", h.Kind.String(), h.AgeWords(v.OpenedAt), sexOf(h), h.Colour)))
	w.wrap("Chip   ", cmp.Or(notation.CleanNote(h.Chip), "not recorded"))
	w.wrap("Seen   ", notation.CleanNote(join(", ", v.OpenedAt.Format(longDay+", 15:04"), h.Place)))
	w.wrap("By     ", notation.CleanNote(v.By))
	w.wrap("Steps  ", p.covered().String())
	if !v.Closed() {
		w.wrap("State  ", "this visit is not finished yet")
	}
	if v.Reason != "" {
		w.wrap("Why    ", notation.CleanNote(v.Reason))
	}
	n := len(w.blocks)
	p.ownerFindings(w, j)
	p.ownerNotDone(w)
	p.ownerProcedures(w)
	p.ownerSources(w, j)
	w.heading("What this page is")
	w.line("It shows what was seen and measured on that day. It is not a diagnosis. Your veterinarian says what it means and what to do.")
	w.line("If your horse looks ill or in pain, or after an injection anything worries you, call your veterinarian at once.")
	w.blocks[n].TwoColumns = true
	return w.blocks
}

func (p Page) ownerFindings(w *writer, j *judge.Judge) {
	for _, system := range exam.Systems() {
		first := true
		for _, step := range p.Steps.All() {
			if step.System != system || step.Kind == exam.KindNote {
				continue
			}
			lines := p.ownerStep(j, step)
			if len(lines) > 0 && first {
				w.heading(system.String())
				first = false
			}
			for _, l := range lines {
				w.wrap(fmt.Sprintf("%-34s ", l.Label), l.Text)
			}
		}
	}
}

// ownerSources names where the usual ranges of the page come from: only those that are published.
func (p Page) ownerSources(w *writer, j *judge.Judge) {
	var sources []string
	for _, f := range p.Visit.Findings {
		step, ok := p.Steps.ByID(f.Step)
		if !ok || !f.Done() || f.Value.Number == nil {
			continue
		}
		if r, held := j.Range(p.Visit.Class(), step, f.Value.Number.Unit); held && r.Evidence == ranges.Published && !slices.Contains(sources, r.Source) {
			sources = append(sources, r.Source)
		}
	}
	for i, s := range sources {
		if i == 0 {
			w.heading("Published sources of what is usual")
		}
		w.wrap("["+number(i+1)+"] ", s)
	}
}

// ownerStep is one line for all sites that were found alike, or one for each.
func (p Page) ownerStep(j *judge.Judge, step exam.Step) []BlockLine {
	var lines []BlockLine
	alike := true
	for _, f := range p.Visit.Findings {
		if f.Step != step.ID || !f.Done() {
			continue
		}
		text := notation.CleanNote(p.ownerValue(j, step, f) + ownerHistory(f, step))
		alike = alike && (len(lines) == 0 || lines[0].Text == text)
		lines = append(lines, BlockLine{Label: plain(step, f.Site), Text: text})
	}
	if len(lines) < 2 || !alike {
		return lines
	}
	return []BlockLine{{Label: plain(step, exam.NoSite), Text: fmt.Sprintf("%s, at all %d sites", lines[0].Text, len(lines))}}
}

// longDay is a date as owners read it.
const longDay = "2 January 2006"

// ownerHistory says what stood there before, or that it was written down later.
func ownerHistory(f exam.Finding, step exam.Step) string {
	text := ""
	for i := len(f.Before) - 1; i >= 0; i-- {
		text += "; before: " + Stood(f.Before[i], step)
	}
	switch {
	case text != "":
		text = "; corrected on " + f.At.Format(longDay) + text
	case f.Added:
		text = "; entered later, on " + f.At.Format(longDay)
	}
	if f.Disputed() {
		for _, o := range f.Differ {
			text += "; another answer, not yet compared: " + Stood(o, step)
		}
	}
	return text
}

func plain(step exam.Step, site exam.Site) string {
	name := step.Name
	if step.Plain != "" {
		name = step.Plain
	}
	return join(", ", name, site.String())
}

// ownerValue is the value with what is usual beside it, and how a weight was found.
func (p Page) ownerValue(j *judge.Judge, step exam.Step, f exam.Finding) string {
	text := f.Value.Show(step)
	if w := f.Value.Weight; w != nil && w.Mark() == "" { // a guess is marked behind its number
		text += " (" + f.Value.Weight.Method.String() + ")"
	}
	if f.Value.Number == nil {
		return text
	}
	if r, ok := j.Range(p.Visit.Class(), step, f.Value.Number.Unit); ok && r.Usual != "" {
		text += "; usual " + r.Usual
	}
	return text
}

func (p Page) ownerNotDone(w *writer) {
	var names []string
	for _, f := range p.Visit.Findings {
		if step, ok := p.Steps.ByID(f.Step); ok && !f.Done() {
			names = append(names, strings.ToLower(plain(step, f.Site))+" ("+f.WhyNot()+")")
		}
	}
	if len(names) > 0 {
		w.heading("Not checked this time")
		w.line(strings.Join(names, "; "))
	}
}

// ownerProcedures says what was given and taken, and what comes next.
func (p Page) ownerProcedures(w *writer) {
	var given []string
	for _, i := range p.Visit.Injections {
		if i.State != exam.InjectionGiven {
			continue
		}
		when := ""
		if i.EndAt != nil {
			when = i.EndAt.Format(longDay + ", 15:04")
		}
		given = append(given, join(", ", i.Product(), ml(i.GivenML), yes(i.GivenProduct == "", named("lot", i.Order.Lot), ""), when, yes(i.GivenProduct == "", named("next due", notation.Shown(i.Order.NextDue)), ""),
			withdrawal(i.Order)))
	}
	for _, d := range p.Visit.Draws {
		if d.State == exam.DrawDone {
			given = append(given, join(", ", "blood taken for "+d.Order.For, ml(d.DrawnML())))
		}
	}
	if len(given) > 0 {
		w.heading("Given and taken")
		for _, g := range given {
			w.line(notation.CleanNote(g))
		}
	}
	for i, r := range p.Visit.Rechecks {
		if i == 0 {
			w.heading("Agreed")
		}
		w.wrap(r.When(r.At)+"  ", notation.CleanNote(r.What))
	}
	if r, _, ok := p.Visit.SignedOff(); ok {
		w.heading("Read by your veterinarian")
		w.line(notation.CleanNote(join(": ", r.By+", "+r.At.Format(longDay), quoted(r.Words))))
	}
	if n := len(p.Visit.Decisions); n > 0 {
		w.heading("Your veterinarian")
		w.line(notation.CleanNote(p.Visit.Decisions[n-1].Vet + " has the findings of this visit and decided what was done."))
	}
}
