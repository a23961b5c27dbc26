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
)

// Page is the page of a visit, before it is set.
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
	Practice exam.Letterhead
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

// verdict writes a heading, the level of the visit, and the count of its danger signs where it has one.
func (p Page) verdict(w *writer, heading string) {
	w.heading(heading)
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
	}
}

func (p Page) remarks(w *writer) {
	p.verdict(w, "out of range, in full")
	if d := p.Verdict.Danger; d != nil {
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
		w.wrap("    comment: ", p.Visit.NoteText(n))
		noteHistory(w, n)
	}
	for _, line := range History(f, step) {
		w.wrap("    ", line)
	}
}
