package report

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/episode"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

// checksWide is how many checks stand side by side on a page; more begin a table of their own.
const checksWide = 6

// EpisodeInput is what the page of an episode is made of.
type EpisodeInput struct {
	Horse   exam.Horse
	Episode episode.Episode
	Now     time.Time // when the page is made
}

// Title names the horse, and the day or days of the checks.
func (c EpisodeInput) Title() string {
	return notation.CleanLine(c.Horse.Name, 60) + ", checks of " + c.days("2 January 2006")
}

// days are the day of the oldest and of the newest check, once where it is the same.
func (c EpisodeInput) days(form string) string {
	columns := c.Episode.Table.Columns
	first, last := columns[len(columns)-1].At.Format(form), columns[0].At.Format(form)
	if first == last {
		return last
	}
	return first + " to " + last
}

// Foot stands on every page: which animal by name and chip, which checks, and when the page was printed.
func (c EpisodeInput) Foot() string {
	chip := "no chip recorded"
	if c.Horse.Chip != "" {
		chip = "chip " + notation.CleanLine(c.Horse.Chip, 20)
	}
	return strings.Join([]string{
		notation.CleanLine(c.Horse.Name, 30), chip, notation.Counted(len(c.Episode.Table.Columns), "check") + " " + c.days("2 Jan 2006"),
		"printed " + c.Now.Format("2 Jan 2006 15:04"),
	}, " · ")
}

// Charts are temperature, heart and breathing over the checks, each where two or more hold it.
func (c EpisodeInput) Charts(j *judge.Judge, table *exam.Steps, units notation.Units, checks []exam.Visit) []chart.Series {
	return chart.Of(j, table, units, []exam.Key{{Step: "temp.rectal"}, {Step: "heart.rate"}, {Step: "breath.rate"}}, checks)
}

// Blocks is the page: the animal, when the next check is due, what changed, what was given, and the checks as columns
// with their times, the oldest at the left.
func (c EpisodeInput) Blocks() []Block {
	w := &writer{}
	c.identity(w)
	c.next(w)
	c.turns(w)
	c.given(w)
	for to := len(c.Episode.Table.Columns); to > 0; to -= checksWide {
		c.side(w, max(to-checksWide, 0), to)
	}
	w.heading("for the veterinarian")
	w.line("Recorded, measured and compared; no diagnosis. The veterinarian decides.")
	b := w.block()
	b.Room, b.Sign = 2, []string{"Veterinarian, date and time"}
	return w.blocks
}

func (c EpisodeInput) identity(w *writer) {
	h, columns := c.Horse, c.Episode.Table.Columns
	w.block().Box = true
	newest := columns[0]
	for _, f := range []struct{ label, text string }{
		{"Horse     ", notation.CleanLine(h.Name, 0)},
		{"Checks    ", notation.Counted(len(columns), "check") + ", " + c.days("2 January 2006")},
		{"Animal    ", join(", ", h.Kind.String(), h.AgeWords(newest.At), sexOf(h), h.Breed, h.Colour)},
		{"By        ", newest.By},
		{"Chip      ", cmp.Or(h.Chip, "not recorded")},
		{"Ranges    ", newest.Class.String()},
		{"Owner     ", join(", ", h.Owner, h.OwnerPhone)},
		{"Location  ", h.Place},
		{"Cautions  ", strings.Join(h.Cautions, ", ")},
		{"Reactions ", strings.Join(h.Reactions, ", ")},
	} {
		if f.text != "" {
			w.wrap(f.label, notation.CleanNote(f.text))
		}
	}
}

func (c EpisodeInput) next(w *writer) {
	w.heading("next check")
	n := c.Episode.Next
	if n == nil {
		w.line("None is set.")
		return
	}
	at := n.Time.In(c.Now.Location())
	text := at.Format("2 Jan 2006 15:04")
	if late := c.Now.Sub(at); late >= time.Minute {
		w.levelled(ranges.LevelRecheck, "", fmt.Sprintf("%s, %s late when this page was made", text, notation.Span(late)))
		return
	}
	w.line(join(", ", text, notation.CleanLine(n.What, 60)))
}

func (c EpisodeInput) turns(w *writer) {
	if len(c.Episode.Table.Columns) < 2 {
		return
	}
	w.heading("changed since the check before, beyond normal variation")
	for _, t := range c.Episode.Turns {
		w.levelled(t.Level, "", join(" ", t.Level.Sign(), notation.CleanLine(t.Words(), 0)))
	}
	if len(c.Episode.Turns) == 0 {
		w.line("nothing")
	}
}

func (c EpisodeInput) given(w *writer) {
	w.heading("medicine")
	for _, g := range c.Episode.Given {
		text := g.Words + ", by " + g.By
		if g.Said {
			text = g.Words + ", as it was said"
		}
		w.wrap(g.At.Format("2 Jan 15:04 "), notation.CleanLine(text, 0))
	}
	if len(c.Episode.Given) == 0 {
		w.line("none in these checks")
	}
}

// side sets the checks from..to of the table, newest first there, as columns with the oldest at the left.
func (c EpisodeInput) side(w *writer, from, to int) {
	columns := c.Episode.Table.Columns
	w.heading("the checks")
	if len(columns) > checksWide {
		w.block().Heading = fmt.Sprintf("checks %d to %d of %d", len(columns)-to+1, len(columns)-from, len(columns))
	}
	t := &Table{Head: []string{""}}
	for i := to - 1; i >= from; i-- {
		t.Head = append(t.Head, c.stamp(i))
	}
	for i := range c.Episode.Table.Rows {
		if r := &c.Episode.Table.Rows[i]; answeredIn(r, from, to) {
			t.Rows = append(t.Rows, checkRow(r, from, to))
		}
	}
	if from == 0 {
		t.Now = len(t.Head) - 1
	}
	w.block().Table = t
}

// stamp is the time of a check, with its day where the checks are of several.
func (c EpisodeInput) stamp(i int) string {
	columns := c.Episode.Table.Columns
	form := "15:04"
	if columns[0].At.Format(notation.DayForm) != columns[len(columns)-1].At.Format(notation.DayForm) {
		form = "2 Jan 15:04"
	}
	text := columns[i].At.Format(form)
	if columns[i].Open {
		text += " open"
	}
	return text
}

func answeredIn(r *compare.StepRow, from, to int) bool {
	for _, c := range r.Cells[from:to] {
		if !c.Empty {
			return true
		}
	}
	return false
}

// checkRow is a finding over the checks, with what is usual for it. Its level is that of the newest check of the row.
func checkRow(r *compare.StepRow, from, to int) TableRow {
	name := episode.Named(r)
	if r.Unit != notation.NoUnit && r.Unit != notation.Points {
		name += ", " + string(r.Unit)
	}
	row := TableRow{Cells: []string{notation.CleanLine(name, 0)}, Level: r.Cells[from].Level}
	for i := to - 1; i >= from; i-- {
		c := r.Cells[i]
		text := notation.CleanLine(c.Text, 0)
		if c.NotDone != "" {
			text = "not done"
		}
		row.Cells = append(row.Cells, join(" ", c.Level.Sign(), text))
	}
	return row
}
