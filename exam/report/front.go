package report

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
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
		{"          ", join(", ", h.Kind.String(), h.AgeWords(v.OpenedAt), h.Sex.String(), h.Breed, h.Colour, h.Markings)},
		{"State     ", p.State()},
		{"Chip      ", join(", ", chip, named("UELN", h.UELN))},
		{"By        ", v.By},
		{"Owner     ", join(", ", h.Owner, h.OwnerAddress, h.OwnerPhone)},
		{"Routine   ", join(", ", p.Routine, p.covered().String())},
		{"Location  ", h.Place},
		{"Activity  ", states(v.Context)},
		{"Cautions  ", strings.Join(h.Cautions, ", ")},
		{"Reactions ", strings.Join(h.Reactions, ", ")},
		{"Medicine  ", medicine(v)},
		{"Reason    ", v.Reason},
		{"Ranges    ", v.Class().Name.String()},
	} {
		if f.text != "" {
			w.wrap(f.label, notation.CleanNote(f.text))
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
		lines = append(lines, "Closed without a hand-off: "+notation.CleanLine(v.WithoutHandOff, 0)+".")
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

// vitalSteps are the vital signs of the table, in the order in which they are read aloud; the first three always have a row.
func vitalSteps() []exam.StepID {
	return []exam.StepID{"temp.rectal", "heart.rate", "breath.rate", "gum.colour", "gum.refill", "gut.sounds", "limb.digitalpulse", "weight.body"}
}

const alwaysVital = 3

func (p Page) vitalTable(w *writer) {
	t := &Table{Head: []string{"", "now", "usual", "last"}, Now: 1}
	for i, id := range vitalSteps() {
		step, ok := p.Steps.ByID(id)
		if !ok {
			continue
		}
		text := p.said(p.Visit, step)
		if text == "" && i >= alwaysVital && !p.left(id) {
			continue
		}
		if text == "" {
			text = "not taken"
		}
		level := p.levelOf(id)
		t.Rows = append(t.Rows, Row{Level: level, Cells: []string{join(" ", chart.Sign(level), step.Name), text, p.usual(step), p.lastSaid(step)}})
	}
	w.heading("vital signs")
	w.block().Table = t
}

// said is what was found at every site of a step, like answers together; empty where nobody looked.
func (p Page) said(v exam.Visit, step exam.Step) string {
	var words []string
	at := map[string][]string{}
	for _, f := range v.Findings {
		if f.Step != step.ID {
			continue
		}
		text := "not done, " + notation.CleanLine(f.NotDone.String(), 0)
		if f.Done() {
			text = notation.CleanNote(f.Value.Show(step))
		}
		if len(at[text]) == 0 {
			words = append(words, text)
		}
		if f.Site != exam.NoSite && f.Site != exam.Overall {
			at[text] = append(at[text], f.Site.String())
		} else {
			at[text] = append(at[text], "")
		}
	}
	out := make([]string, len(words))
	for i, text := range words {
		sites := strings.Join(at[text], ", ")
		switch {
		case strings.Trim(sites, ", ") == "":
			out[i] = text
		case len(words) == 1 && len(at[text]) == len(step.Sites):
			out[i] = fmt.Sprintf("%s, all %d sites", text, len(step.Sites))
		default:
			out[i] = sites + ": " + text
		}
	}
	return strings.Join(out, "; ")
}

// usual is what is usual for the animal's class, in the unit of the finding.
func (p Page) usual(step exam.Step) string {
	if p.Judge == nil {
		return ""
	}
	unit := step.Prefer(p.read)
	if f, ok := p.Visit.First(step.ID); ok && f.Value.Number != nil {
		unit = f.Value.Number.Unit
	}
	r, held := p.Judge.Range(p.Visit.Class(), step, unit)
	if !held {
		return ""
	}
	return r.Usual
}

// lastSaid is the newest earlier answer with its day, and its time where that is the day of the visit.
func (p Page) lastSaid(step exam.Step) string {
	for _, v := range exam.LookedAt(p.Earlier) {
		if _, ok := v.First(step.ID); !ok {
			continue
		}
		form := "2 Jan 2006"
		if v.OpenedAt.Format(form) == p.Visit.OpenedAt.Format(form) {
			form += " 15:04"
		}
		return p.said(v, step) + ", " + v.OpenedAt.Format(form)
	}
	return ""
}

// levelOf is the highest level that a step has on its own.
func (p Page) levelOf(id exam.StepID) exam.Level {
	level := ranges.LevelUsual
	for _, r := range p.Verdict.Remarks {
		if r.Step == id && !r.Combination {
			level = max(level, r.Level)
		}
	}
	return level
}

func (p Page) left(id exam.StepID) bool {
	return slices.ContainsFunc(p.Left, func(k exam.Key) bool { return k.Step == id })
}

// usualBySystem names, a line for each system, the steps that were looked at and raised no remark.
func (p Page) usualBySystem(w *writer) {
	first := true
	for _, system := range exam.Systems() {
		var names []string
		for _, step := range p.Steps.All() {
			if step.System != system || step.Kind == exam.KindNote || slices.Contains(vitalSteps(), step.ID) || p.remarked(step.ID) {
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
			add(notation.CleanLine(f.NotDone.String(), 0), f.Key())
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
