// Package start is the screen before an exam: by whom, which routine, why the
// horse is seen and what it had been doing; then it opens the visit.
package start

import (
	"errors"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

// maxReason is the longest reason, in characters: a few words.
const maxReason = 120

type screen struct {
	deps     *nav.Deps
	id       exam.HorseID
	offered  string       // routine to offer first
	visit    exam.VisitID // the open visit that is gone on with; empty for a new one
	from     nav.Name
	was      exam.Context // of that visit
	worker   string       // who worked on it last
	openedAt time.Time

	loaded bool
	horse  exam.Horse
	open   string // says that a visit of the horse is not finished
	saving bool

	form    *form.Form
	person  *form.Text
	routine *form.Choice
	reason  *form.Text
	states  *form.Marks
	air     *form.Text
	humid   *form.Text
	globe   *form.Text

	asked    bool // for medicine, once
	medicine *form.Marks
	given    *form.Text
}

// New makes the start of an exam of the horse in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	return &screen{deps: deps, id: to.Horse, offered: to.Routine, visit: to.Visit, from: to.From}
}

func (s *screen) Init() tea.Cmd {
	if s.resuming() {
		return s.loadOpen()
	}
	return s.load()
}

func (s *screen) Title() string {
	title := "Begin an exam"
	if s.resuming() {
		title = "Go on with an exam"
	}
	if !s.loaded {
		return title
	}
	return fmt.Sprintf(title+" · %s, %s, %s", exam.CleanLine(s.horse.Name, 30), s.horse.Kind, s.horse.AgeWords(s.deps.Now()))
}

func (s *screen) Right() string { return "" }
func (s *screen) Typing() bool  { return s.loaded && s.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if !s.loaded || s.saving {
		return nil
	}
	return s.form
}

func (s *screen) Escape() bool { return false }

// Cautions are empty here: the body shows them in full.
func (s *screen) Cautions() []string { return nil }

func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.form.Keys()
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedStartMsg:
		return s.take(m)
	case begunVisitMsg:
		return s.begun(m)
	case keys.Press:
		if s.loaded && !s.saving && s.form.Press(m) == form.Save && s.form.Check() && s.medicineAsked() {
			s.saving = true
			if s.resuming() {
				return s.goOn()
			}
			return s.begin()
		}
	}
	return nil
}

func (s *screen) take(m loadedStartMsg) tea.Cmd {
	switch {
	case m.visit != s.visit || s.loaded || !s.resuming() && m.id != s.id:
		return nil
	case m.err != nil:
		return nav.Fail(m.err)
	}
	s.loaded, s.horse, s.open, s.id = true, m.horse, m.open, m.id
	s.worker, s.openedAt = m.worker, m.openedAt
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	s.person = form.NewText("by whom", s.deps.Settings.Person, 60, needsName, o)
	s.routine = form.NewChoice("routine", s.routines(), s.first(), o)
	s.reason = form.NewText("reason", "", maxReason, nil, o).Hint(func(string) string {
		return "why the horse is seen, in a few words; may stay empty"
	})
	s.states = form.NewMarks("last 30 minutes", states(), keysOf(m.was.States), []string{string(exam.StateRest)}, o)
	s.form = form.New(s.deps.Theme, "begin the exam", "begin")
	if s.resuming() {
		s.form = form.New(s.deps.Theme, "go on with the exam", "go on")
	}
	s.addSurroundings(o)
	s.addMedicine(m.was.Medicines, o)
	s.form.Add(s.person, nil)
	s.form.Add(s.routine, s.resuming)
	s.form.Add(s.reason, s.resuming)
	s.form.Add(s.states, nil)
	for _, row := range []*form.Text{s.air, s.humid, s.globe} {
		s.form.Add(row, s.unasked)
	}
	s.form.Add(s.medicine, nil)
	s.form.Add(s.given, s.noMedicine)
	switch {
	case s.resuming() && s.from == nav.Review:
		s.form.Go(s.states)
	case !s.resuming() && s.deps.Settings.Person != "":
		s.form.Go(s.routine)
	}
	if s.resuming() {
		s.withContext(m.was)
		s.open = fmt.Sprintf("This visit was begun %s; %s worked on it last. Who is working now?", m.openedAt.Format("2 Jan 2006 15:04"), exam.CleanLine(m.worker, 40))
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

func needsName(text string) error {
	if strings.TrimSpace(text) == "" {
		return errors.New("every entry says by whom: write your name or initials")
	}
	return nil
}

// routines are the choices of a routine, each with how much it asks of this horse.
func (s *screen) routines() []exam.Choice {
	class := exam.ClassOf(s.horse, s.deps.Now())
	out := make([]exam.Choice, len(s.deps.Routines))
	for i, r := range s.deps.Routines {
		places := 0
		for _, ask := range r.For(class, s.deps.Steps).Asks {
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
	for _, name := range []string{s.offered, steps.ByAge(s.horse, s.deps.Now()), s.deps.Settings.Routine} {
		for _, r := range s.deps.Routines {
			if r.Name == name {
				return name
			}
		}
	}
	if len(s.deps.Routines) == 0 {
		return ""
	}
	return s.deps.Routines[0].Name
}

func states() []exam.Choice {
	var out []exam.Choice
	for _, state := range exam.States() {
		out = append(out, exam.Choice{Key: string(state), Words: string(state)})
	}
	return out
}

// handling are two lines for everybody: common practice in handbooks of safe
// handling (approach at the shoulder, handler on the same side, never crouch or kneel,
// never pass under the horse).
func handling() []string {
	return []string{
		"Come to the shoulder, speaking. Never crouch, kneel or pass under neck or belly.",
		"Handler on your side; behind the horse stay touching it, or well out of reach.",
	}
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the horse .."
	}
	t := s.deps.Theme
	s.states.Hint = s.repeat()
	var lines []string
	if len(s.horse.Cautions) > 0 {
		text := "! " + exam.CleanLine(strings.Join(s.horse.Cautions, " · "), exam.MaxNote)
		lines = layout.Wrap(text, size.W)
		lines = lines[:min(len(lines), max(size.H/3, 1))]
		for i := range lines {
			lines[i] = t.Caution.Render(layout.Pad(lines[i], size.W))
		}
	}
	for _, text := range handling() {
		for _, line := range layout.Wrap(text, size.W) {
			lines = append(lines, t.Faint.Render(line))
		}
	}
	if s.open != "" {
		lines = append(lines, layout.Wrap(s.open, size.W)...)
	}
	lines = append(lines, "")
	if s.saving {
		lines = append(lines, t.Faint.Render("opening the visit .."))
	}
	lines = append(lines, s.form.Lines(layout.Size{W: size.W, H: max(size.H-len(lines), 1)})...)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }
