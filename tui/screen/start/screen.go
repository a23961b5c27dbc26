// Package start is the screen before an exam. It asks who examines, which routine, why the horse is seen and what it had been
// doing, then opens the visit.
package start

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
	"loosebox/tui/theme"
)

// maxReason is the longest reason, in characters: a few words.
const maxReason = 120

type screen struct {
	form.Screen
	offered string       // routine to offer first
	visit   exam.VisitID // the open visit that is gone on with; empty for a new one
	from    nav.Name
	id      exam.HorseID
	begun

	person  *form.Text
	routine *form.OneOf
	reason  *form.Text
	states  *form.Several
	air     *form.Text
	humid   *form.Text
	globe   *form.Text

	told     bool // who has the horse open on another laptop, once
	asked    bool // for medicine, once
	medicine *form.Several
	given    *form.Text
}

// New makes the start of an exam of the horse in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, offered: to.Routine, visit: to.Visit, from: to.From}
	s.Deps, s.Load, s.Store = deps, s.load, s.store
	if s.resuming() {
		s.Load = s.loadOpen
	}
	return s
}

func (s *screen) Title() string {
	title := "Begin an exam"
	if s.resuming() {
		title = "Go on with an exam"
	}
	if !s.Loaded {
		return title
	}
	return fmt.Sprintf(title+" · %s, %s, %s", notation.CleanLine(s.horse.Name, 30), s.horse.Kind, s.horse.AgeWords(s.Deps.Now()))
}

func (s *screen) store() tea.Cmd {
	switch {
	case s.others != "" && !s.told:
		s.told = true
		return nil
	case !s.medicineAsked():
		return nil
	case s.resuming():
		return s.goOn()
	}
	return s.begin()
}

func (s *screen) take(b begun) tea.Cmd {
	s.begun, s.id = b, b.horse.ID
	o := s.Options()
	s.person = form.NewPerson(s.Deps.Settings.Person, form.InitialsOfEntries, o)
	s.routine = form.NewOneOf("routine", s.routines(), s.first(), o)
	s.reason = form.NewText("reason", "", maxReason, nil, o).Hint(func(string) string {
		return "why the horse is seen; may stay empty"
	})
	s.states = form.NewMarks("last 30 minutes", states(), keysOf(b.was.States), []string{string(exam.StateRest)}, o)
	f := form.New(s.Deps.Theme, "begin the exam", "begin")
	if s.resuming() {
		f = form.New(s.Deps.Theme, "go on with the exam", "go on")
	}
	s.addSurroundings(o)
	s.addMedicine(b.was.Medicines, o)
	f.With(s.person)
	f.Add(s.routine, s.resuming)
	f.Add(s.reason, s.resuming)
	f.With(s.states)
	for _, row := range []*form.Text{s.air, s.humid, s.globe} {
		f.Add(row, s.unasked)
	}
	f.With(s.medicine)
	f.Add(s.given, s.noMedicine)
	s.Begin(f)
	switch {
	case s.resuming() && s.from == nav.Review:
		f.Go(s.states)
	case !s.resuming() && s.Deps.Settings.Person != "":
		f.Go(s.routine)
	}
	if s.resuming() {
		s.withContext()
		if s.open = ""; b.elsewhere != "" { // both people should know of each other
			s.open = b.elsewhere + " Ask there before you go on. An exam of your own: esc, then b. "
		}
		visit := "This visit"
		if b.before != "" {
			s.open, visit = s.open+b.before+" ", "It"
		}
		s.open += visit + fmt.Sprintf(" began %s; %s worked on it last. Who is working now?", notation.ShownAt(b.openedAt, s.Deps.Now()), notation.CleanLine(b.worker, 40))
	}
	return nil
}

func keysOf[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, k := range list {
		out[i] = string(k)
	}
	return out
}

// routines are the choices of a routine, each with how much it asks of this horse.
func (s *screen) routines() []exam.Choice {
	class := exam.ClassOf(s.horse, s.Deps.Now())
	out := make([]exam.Choice, len(s.Deps.Routines))
	for i, r := range s.Deps.Routines {
		places := 0
		for _, ask := range r.For(class, s.Deps.Steps).Asks {
			places += len(ask.Sites)
		}
		out[i] = exam.Choice{Key: r.Name, Words: r.Title, Hint: fmt.Sprintf("%s: %s", r.About, answers(places))}
	}
	return out
}

func answers(n int) string {
	if n == 1 {
		return "1 answer"
	}
	return fmt.Sprintf("%d answers", n)
}

// first is the routine that stands when the screen opens: the one asked for, the
// one for its age where it is young, the person's default, or the first of all.
func (s *screen) first() string {
	for _, name := range []string{s.offered, steps.ByAge(s.horse, s.Deps.Now()), s.Deps.Settings.Routine} {
		for _, r := range s.Deps.Routines {
			if r.Name == name {
				return name
			}
		}
	}
	if len(s.Deps.Routines) == 0 {
		return ""
	}
	return s.Deps.Routines[0].Name
}

func states() []exam.Choice {
	var out []exam.Choice
	for _, state := range exam.States() {
		out = append(out, exam.Choice{Key: string(state), Words: state.String()})
	}
	return out
}

// handling are two lines for everybody: common practice in handbooks of safe
// handling (approach at the shoulder, handler on the same side, never crouch or kneel,
// never pass under the horse).
func handling() []string {
	return []string{
		"Come to the shoulder, speaking. Never crouch, kneel or pass under neck or belly.",
		"Handler on your side. Behind the horse: touching it, or well out of reach.",
	}
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the horse .."
	}
	t := s.Deps.Theme
	s.states.Hint = s.repeat()
	var lines []string
	if len(s.horse.Cautions) > 0 {
		text := theme.Caution + " " + notation.CleanLine(strings.Join(s.horse.Cautions, " · "), notation.MaxNote)
		lines = layout.Wrap(text, size.W)
		lines = lines[:min(len(lines), max(size.H/3, 1))]
		for i := range lines {
			lines[i] = t.Caution.Render(layout.Pad(lines[i], size.W))
		}
	}
	for _, text := range handling() {
		lines = append(lines, s.Faint(text, size.W)...)
	}
	if s.clock != "" {
		for _, line := range layout.Wrap(theme.Caution+" "+s.clock, size.W) {
			lines = append(lines, t.Warn.Render(layout.Pad(line, size.W)))
		}
	}
	if s.told {
		text := s.others + " Ask there what was given. ctrl+s again begins an exam of your own: both stay."
		for _, line := range layout.Wrap(theme.Caution+" "+text, size.W) {
			lines = append(lines, t.Warn.Render(layout.Pad(line, size.W)))
		}
	} else if s.open != "" {
		lines = append(lines, layout.Wrap(s.open, size.W)...)
	}
	lines = append(lines, "")
	if s.Saving() {
		lines = append(lines, t.Faint.Render("opening the visit .."))
	}
	return s.DrawUnder(size, lines)
}
