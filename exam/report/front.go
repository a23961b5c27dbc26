package report

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Front is the first page of a visit: what the veterinarian reads in half a minute, and room to sign.
func Front(p Page) []Block {
	p = p.asRead()
	w := &writer{}
	p.identity(w)
	p.warnings(w)
	p.vitalTable(w)
	p.standOut(w)
	p.givenNow(w)
	p.next(w)
	p.usualBySystem(w)
	p.noRange(w)
	p.notLooked(w)
	p.signatures(w)
	return w.blocks
}

// State says in a word or two whether the page is of a visit that is finished.
func (p Page) State() string {
	switch v := p.Visit; {
	case !v.Stands():
		return "VOIDED, does not count"
	case !v.Closed():
		return "OPEN, not finished"
	default:
		return "closed " + v.ClosedAt.Format("2 Jan 2006 15:04")
	}
}

// Foot stands on every page: which animal by name and chip, which visit, how it stands, and when it was printed.
func (p Page) Foot() string {
	v := p.Visit
	chip := "no chip recorded"
	if v.Horse.Chip != "" {
		chip = "chip " + notation.CleanLine(v.Horse.Chip, 20)
	}
	parts := []string{notation.CleanLine(v.Horse.Name, 30), chip, "visit " + v.OpenedAt.Format("2 Jan 2006 15:04"), p.State()}
	if !p.Printed.IsZero() {
		parts = append(parts, "printed "+p.Printed.Format("2 Jan 2006 15:04"))
	}
	return strings.Join(parts, " · ")
}

// sexOf is the sex of a horse in a list of what it is; "not known" alone would not say of what.
func sexOf(h exam.Horse) string {
	if h.Sex == exam.SexUnknown {
		return "sex " + h.Sex.String()
	}
	if h.InFoal {
		return join(", ", h.Sex.String(), "in foal")
	}
	return h.Sex.String()
}

// identity is the box at the head: the animal with its chip, its owner, and the visit.
func (p Page) identity(w *writer) {
	v, h := p.Visit, p.Visit.Horse
	w.block().Box = true
	chip := h.Chip
	if chip == "" {
		chip = "not recorded"
	}
	for _, f := range []struct{ label, text string }{
		{"Horse     ", notation.CleanLine(h.Name, 0)},
		{"Visit     ", v.OpenedAt.Format("2 January 2006 15:04 -07:00")},
		{"Animal    ", join(", ", h.Kind.String(), h.AgeWords(v.OpenedAt), sexOf(h), h.Breed, h.Colour, h.Markings)},
		{"State     ", p.State()},
		{"Chip      ", join(", ", chip, named("UELN", h.UELN))},
		{"By        ", v.By},
		{"Laptops   ", v.OnLaptops()},
		{"Owner     ", join(", ", h.Owner, h.OwnerAddress, h.OwnerPhone)},
		{"Routine   ", join(", ", p.Routine, p.covered().String())},
		{"Location  ", h.Place},
		{"Last 30 minutes", states(v.Context)},
		{"Cautions  ", strings.Join(h.Cautions, ", ")},
		{"Reactions ", strings.Join(h.Reactions, ", ")},
		{"Medicine  ", medicine(v)},
		{"Reason    ", v.Reason},
		{"Ranges    ", v.Class().Name.String()},
	} {
		if f.text != "" {
			w.wrap(fmt.Sprintf("%-17s", strings.TrimSpace(f.label)), notation.CleanNote(f.text))
		}
	}
}

// warnings are what must not be missed about the page itself.
func (p Page) warnings(w *writer) {
	v := p.Visit
	var lines []string
	lines = append(lines, Standing(v)...)
	if v.Source != "" {
		lines = append(lines, "Taken from "+notation.CleanLine(v.Source, 0)+".")
	}
	if v.ClosedBeforeOpened() {
		lines = append(lines, clockSetBack)
	}
	if v.WithoutHandOff != "" {
		lines = append(lines, "Closed without a hand-off: "+notation.CleanLine(v.WithoutHandOff.String(), 0)+".")
	}
	if len(lines) == 0 {
		return
	}
	w.heading("")
	for _, l := range lines {
		level := ranges.LevelUsual
		if !v.Stands() || v.ClosedBeforeOpened() {
			level = ranges.LevelRecheck
		}
		w.levelled(level, "", l)
	}
}

func (p Page) left(id exam.StepID) bool {
	return slices.ContainsFunc(p.Left, func(k exam.Key) bool { return k.Step == id })
}

// usualBySystem names, a line for each system, the steps that were looked at, judged, and raised no remark.
func (p Page) usualBySystem(w *writer) {
	first := true
	for _, system := range exam.Systems() {
		var names []string
		for _, step := range p.Steps.All() {
			if step.System != system || step.Kind == exam.KindNote || slices.Contains(vitalSteps(), step.ID) || p.remarked(step.ID) || p.unjudged(step.ID) {
				continue
			}
			if _, ok := p.Visit.First(step.ID); ok {
				names = append(names, strings.ToLower(step.Name))
			}
		}
		if len(names) == 0 {
			continue
		}
		if first {
			w.heading("checked, nothing out of range")
			first = false
		}
		w.wrap(fmt.Sprintf("%-22s ", system.String()), strings.Join(names, ", "))
	}
}

// noRange names the steps that could not be judged and raised no remark: nobody says of them that they are in range.
func (p Page) noRange(w *writer) {
	var names []string
	for _, n := range p.Verdict.NotJudged {
		name := strings.ToLower(p.name(exam.Key{Step: n.Step}))
		if !slices.Contains(vitalSteps(), n.Step) && !p.remarked(n.Step) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) > 0 {
		w.heading("recorded, not judged")
		w.wrap("", strings.Join(names, ", "))
	}
}

func (p Page) unjudged(id exam.StepID) bool {
	return slices.ContainsFunc(p.Verdict.NotJudged, func(n judge.NotJudged) bool { return n.Step == id })
}

// remarked says that a step stands out, alone or in a combination.
func (p Page) remarked(id exam.StepID) bool {
	return slices.ContainsFunc(p.Verdict.Remarks, func(r exam.Remark) bool {
		return r.Step == id || slices.ContainsFunc(r.Of, func(k exam.Key) bool { return k.Step == id })
	})
}

// notLooked is what was not done, by reason, and what nobody answered.
func (p Page) notLooked(w *writer) {
	names := map[string][]string{}
	var reasons []string
	add := func(reason string, k exam.Key) {
		name := strings.ToLower(p.name(exam.Key{Step: k.Step}))
		if len(names[reason]) == 0 {
			reasons = append(reasons, reason)
		}
		if !slices.Contains(names[reason], name) {
			names[reason] = append(names[reason], name)
		}
	}
	for _, f := range p.Visit.Findings {
		if !f.Done() {
			add(f.WhyNot(), f.Key())
		}
	}
	for _, k := range p.Left {
		add("not answered", k)
	}
	for i, r := range reasons {
		if i == 0 {
			w.heading("not done, and not answered")
		}
		w.wrap(r+": ", fewOf(names[r], 10))
	}
}

// fewOf joins the first names and says how many more there are.
func fewOf(names []string, most int) string {
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
