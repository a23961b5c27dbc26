// Package report writes a visit for reading: as text for a person, as JSON for a
// program. Nothing in it decides; it sets down what the record and the judge say.
package report

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
	"loosebox/exam/score"
	"loosebox/exam/settle"
	tape "loosebox/exam/weight"
)

// Page is what a report is made of.
type Page struct {
	Visit   exam.Visit
	Earlier []exam.Visit // newest first; they lend the last known weight
	Others  []exam.Visit // all others of the horse, so that two of one day are told apart
	Entries []exam.Entry // every line of the visit, for what stood before a correction
	Verdict judge.Verdict
	Left    []exam.Key // places of the routine without value or reason
	// Coverage is how much of the routine is answered.
	Coverage exam.Coverage
	Routine  string // title of the routine
	Steps    *exam.Steps
	// Units are those in which the page is read; files of the record are in those that were typed.
	Units notation.Units
	// Judge says what is usual; a page without one shows no usual ranges beside the vital signs.
	Judge *judge.Judge
	// Practice is the letterhead; it may be empty.
	Practice exam.Practice
	// Printed is when the page is made; zero where it is not said.
	Printed time.Time
	// Charts are the findings out of range over the horse's visits, for pages that
	// can draw them.
	Charts []chart.Series

	read notation.Units // of a page whose values are in them
}

// Title names the horse and the day.
func (p Page) Title() string {
	return notation.CleanLine(p.Visit.Horse.Name, 60) + ", " + p.day()
}

// day is the day of the visit, with its time where another visit of the horse has
// the same day.
func (p Page) day() string {
	for _, v := range p.Others {
		if v.ID != p.Visit.ID && v.OpenedAt.Format(notation.DayForm) == p.Visit.OpenedAt.Format(notation.DayForm) {
			return p.Visit.OpenedAt.Format("2 January 2006 15:04")
		}
	}
	return p.Visit.OpenedAt.Format("2 January 2006")
}

// Text writes the page as plain text of at most width columns, by system, with
// remarks first, and what was not done and why.
func Text(p Page, width int) string { return SetText(Blocks(p), max(width, 40)) }

// Blocks is the whole page of a visit, for whoever sets it: the first page, then the details.
func Blocks(p Page) []Block { return append(Front(p), Details(p)...) }

// asRead is the page in the units in which it is read.
func (p Page) asRead() Page {
	if len(p.Units) == 0 {
		return p
	}
	if p.Judge != nil {
		p.Judge = p.Judge.Reads(p.Units)
		p.Verdict = p.Judge.Visit(p.Visit, p.Earlier)
	}
	p.Visit, p.Earlier = p.Visit.As(p.Units, p.Steps), exam.VisitsAs(p.Earlier, p.Units, p.Steps)
	p.Units, p.read = nil, p.Units // once
	return p
}

// Details are everything that the record holds of a visit, with scores and sources.
func Details(p Page) []Block {
	p = p.asRead()
	w := &writer{}
	p.remarks(w)
	w.blocks[0].NewPage = true
	p.findings(w)
	p.scores(w)
	p.notDone(w)
	p.rest(w)
	p.procedures(w)
	p.afterwards(w)
	w.cited()
	w.heading("")
	w.line("Recorded, measured and compared; no diagnosis. The veterinarian decides.")
	return w.blocks
}

// medicine is that of the last 24 hours before the exam; of a visit that was taken
// from elsewhere only where it is known.
func medicine(v exam.Visit) string {
	text := v.Context.MedicineText()
	if text == "" && v.Source == "" && !v.OnlyPapers() {
		text = "not asked"
	}
	if text == "" {
		return ""
	}
	return text + ", last 24 hours"
}

// clockSetBack stands behind the time of a visit that closed before it opened.
const clockSetBack = "This is before it was opened: the clock was set back. Check the times of this visit."

func states(c exam.Context) string {
	words := make([]string, 0, len(c.States)+2)
	for _, s := range c.States {
		words = append(words, s.String())
	}
	if c.Air != nil {
		words = append(words, "air "+c.Air.Text(1))
	}
	if c.Humid != nil {
		words = append(words, notation.FormatNumber(*c.Humid, 0)+" % humidity")
	}
	if c.Globe != nil {
		words = append(words, "wet-bulb globe "+c.Globe.Text(1))
	}
	if c.Note != "" {
		words = append(words, c.Note)
	}
	return strings.Join(words, ", ")
}

func (p Page) name(k exam.Key) string {
	name := string(k.Step)
	if step, ok := p.Steps.ByID(k.Step); ok {
		name = step.Name
	}
	if k.Site != exam.NoSite {
		name += ", " + k.Site.String()
	}
	return name
}

func (p Page) remarks(w *writer) {
	w.heading("out of range, in full")
	c := p.covered()
	if len(p.Verdict.Remarks) == 0 && c.Answered > 0 {
		w.line(fmt.Sprintf("No answer so far is out of range (%s answered)", c.Short()))
		return
	}
	w.line(c.Level(p.Verdict.Level))
	if d := p.Verdict.Danger; d != nil {
		w.levelled(p.Verdict.Level, "", d.Line())
		for _, l := range d.Lines() {
			w.wrap("  ", l)
		}
		w.wrap("  ", "source "+w.cite(d.Evidence, d.Source))
	}
	for _, r := range p.Verdict.Remarks {
		g := group{remark: r}
		if r.Site != exam.NoSite {
			g.sites = []string{r.Site.String()}
		}
		w.levelled(r.Level, fmt.Sprintf("%-13s", r.Level), join(" ", g.named(p)+whyOf(r, notation.CleanNote(r.Why)), w.cite(r.Evidence, r.Source)))
	}
}

// covered is how much of the visit is answered; where nobody said of which routine,
// only the answers are counted.
func (p Page) covered() exam.Coverage {
	if p.Coverage.Of > 0 {
		return p.Coverage
	}
	return p.Visit.CoverageIn(nil, p.Steps)
}

func (p Page) findings(w *writer) {
	for _, system := range exam.Systems() {
		first := true
		for _, step := range p.Steps.All() {
			if step.System != system {
				continue
			}
			for _, f := range p.Visit.Findings {
				if f.Step != step.ID || !f.Done() {
					continue
				}
				if first {
					w.heading(system.String())
					first = false
				}
				p.finding(w, step, f)
			}
		}
	}
}

func (p Page) finding(w *writer, step exam.Step, f exam.Finding) {
	text := f.Value.Show(step)
	if how := join("; ", How(f.Value), f.Value.ShowParts(step)); how != "" {
		text += " (" + how + ")"
	}
	if f.Note != "" {
		text += "; " + notation.CleanNote(f.Note)
	}
	w.wrap(fmt.Sprintf("%-34s ", p.name(f.Key())), text)
	for _, n := range p.Visit.NotesAt(f.Key()) {
		w.wrap("    comment: ", notation.CleanNote(n.Text))
		noteHistory(w, n)
	}
	for _, line := range History(f, step) {
		w.wrap("    ", line)
	}
}

// How says in a few words how a value was measured.
func How(v exam.Value) string {
	var parts []string
	if c := v.Count; c != nil {
		parts = append(parts, c.Method.String())
		switch {
		case c.HalfWidth > 0:
			parts = append(parts, fmt.Sprintf("+/- %s /min in this count, %d taps", notation.FormatNumber(c.HalfWidth, 1), c.Taps()))
		case c.WindowS > 0:
			parts = append(parts, fmt.Sprintf("%d in %s s", c.Counted, notation.FormatNumber(c.WindowS, 0)))
		}
		if c.Evenness != "" {
			parts = append(parts, c.EvennessWords())
		}
	}
	if v.Weight != nil {
		unit := notation.Kilograms
		if v.Number != nil {
			unit = v.Number.Unit
		}
		parts = append(parts, weighed(*v.Weight, unit)...)
	}
	if len(v.TrialsS) > 1 {
		times := make([]string, len(v.TrialsS))
		for i, t := range v.TrialsS {
			times[i] = notation.FormatNumber(t, 1)
		}
		parts = append(parts, "median of "+strings.Join(times, ", ")+" s")
	}
	return strings.Join(parts, "; ")
}

// weighed says how a weight was found, by which equation, and between what the true one is likely to lie, in
// the unit of the weight. A guess is marked behind its number already.
func weighed(w exam.Weight, unit notation.Unit) []string {
	var parts []string
	switch {
	case w.Equation != "":
		parts = append(parts, "by "+w.Equation)
	case w.Mark() == "":
		parts = append(parts, w.Method.String())
	}
	if w.HighKg > 0 && w.Method != exam.WeightScale {
		span := tape.SpanWords(w.LowKg, w.HighKg, unit)
		if w.BandPercent > 0 {
			parts = append(parts, fmt.Sprintf("%d of 100 animals: %s", w.BandPercent, span))
		} else {
			parts = append(parts, "likely "+span)
		}
	}
	return parts
}

func (p Page) notDone(w *writer) {
	first := true
	for _, f := range p.Visit.Findings {
		if f.Done() {
			continue
		}
		if first {
			w.heading("Not done")
			first = false
		}
		text := f.NotDone.String()
		if f.Note != "" {
			text += ": " + notation.CleanNote(f.Note)
		}
		w.wrap(fmt.Sprintf("%-34s ", p.name(f.Key())), text)
		step, _ := p.Steps.ByID(f.Step)
		for _, line := range History(f, step) {
			w.wrap("    ", line)
		}
	}
	for i, k := range p.Left {
		if i == 0 {
			w.heading("Not answered")
		}
		w.line(p.name(k))
	}
}

func (p Page) rest(w *writer) {
	for i, n := range p.Verdict.NotJudged {
		if i == 0 {
			w.heading("Recorded, not judged")
		}
		w.wrap(fmt.Sprintf("%-34s ", p.name(exam.Key{Step: n.Step, Site: n.Site})), n.Why)
	}
	first := true
	for _, n := range p.Visit.Notes {
		if n.Silent() {
			continue
		}
		if n.Step != "" {
			if f, ok := p.Visit.Finding(exam.Key{Step: n.Step, Site: n.Site}); ok && f.Done() {
				continue // shown under its finding
			}
		}
		if first {
			w.heading("Notes")
			first = false
		}
		w.wrap(n.At.Format("15:04 "), notation.CleanNote(n.Text))
		noteHistory(w, n)
	}
}

// Document is the page as JSON, schema loosebox/show/1. Numbers carry their
// unit beside them; times are RFC 3339 with offset.
type Document struct {
	Schema string     `json:"schema"`
	Visit  exam.Visit `json:"visit"`
	Class  string     `json:"class"`
	Level  exam.Level `json:"level"`
	// Answered of Steps of the routine are answered; Steps is 0 where it is not known.
	Answered int           `json:"steps_answered"`
	Steps    int           `json:"steps"`
	Remarks  []exam.Remark `json:"remarks"`
	// Danger are the danger signs from published studies, of an animal that is told, where a count applies.
	Danger    *judge.Danger      `json:"danger_signs,omitempty"`
	NotJudged []judge.NotJudged  `json:"not_judged"`
	Left      []Place            `json:"left"`
	Corrected []CorrectedFinding `json:"corrected"`
	Scores    []score.Line       `json:"scores"` // every score that the findings allow
	// Certificates hold what a rabies certificate asks, for each such dose.
	Certificates []Certificate `json:"certificates,omitempty"`
	// Unsettled is what two laptops wrote without knowing of each other, until it is settled.
	Unsettled []settle.Item `json:"unsettled,omitempty"`
}

// Place is a step and site in JSON.
type Place struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site,omitempty"`
}

// JSON makes the document.
func JSON(p Page) Document {
	d := Document{
		Schema: "loosebox/show/1", Visit: p.Visit, Class: string(p.Visit.Class().Name), Level: p.Verdict.Level,
		Answered: p.covered().Answered, Steps: p.covered().Of,
		Remarks: append([]exam.Remark{}, p.Verdict.Remarks...), NotJudged: append([]judge.NotJudged{}, p.Verdict.NotJudged...),
		Danger: p.Verdict.Danger,
		Left:   []Place{}, Corrected: []CorrectedFinding{}, Certificates: Certificates(p.Visit),
		Unsettled: settle.OfVisit(p.Visit, p.Steps),
		Scores:    score.Lines(score.Summary(p.Visit, p.Earlier)),
	}
	for _, k := range p.Left {
		d.Left = append(d.Left, Place{k.Step, k.Site})
	}
	for _, f := range p.Visit.Findings {
		d.Corrected = append(d.Corrected, replaced(f)...)
	}
	return d
}
