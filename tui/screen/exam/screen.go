// Package exam is the screen of an exam: the order of steps at the left, and at the right the present step with its range,
// its last values and its widget (tui/entry).
//
// It goes through the asks of the routine. A key goes to the widget first; an accepted answer is stored, and the screen
// moves on only once it is on the disk.
package exam

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
	"loosebox/tui/caution"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/source"
)

// keptVisits is how many earlier visits are read for last values and own ranges.
const keptVisits = 20

type screen struct {
	base.Screen
	id    exam.VisitID
	at    exam.Key // where to begin; then come back at once
	asked bool     // who is working now was asked
	once  bool     // opened for one place: go back after the answer

	seen
	total int // places in the routine

	now    int // index into routine.Asks
	comeTo int // where to come back to after a jump; -1 for none
	field  *entry.Sites
	said   string // the remark about the answer before, or what went wrong
	level  exam.Level
	plain  bool // said is only that a usual answer, or none, was saved
	how    bool
	origin source.Panel // where the numbers come from
	leave  bool         // asked whether to leave a running count
	panel  panel
	horse  company
	told   caution.Display // the cautions of the step
	rest   rest            // what one key answered in this area
}

// New makes the exam screen of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit, at: to.At, asked: to.From == nav.Start, once: to.At.Step != "", comeTo: -1, horse: company{Patient: deps.Patient}}
	s.Screen = base.Screen{Deps: deps, Load: s.load}
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Exam"
	}
	h := s.visit.Horse
	return fmt.Sprintf("%s, %s, %s", notation.CleanLine(h.Name, 30), h.Kind, h.AgeWords(s.visit.OpenedAt))
}

func (s *screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return s.horse.right(fmt.Sprintf("%d of %d", s.total-len(s.visit.Left(s.routine)), s.total))
}

func (s *screen) Cautions() []string { return s.visit.Horse.Cautions }

func (s *screen) Typing() bool {
	return s.panel.typing() || (s.panel.kind == noPanel && s.field != nil && s.field.Typing())
}

// Typed is the entry field, or the text that lies over it.
func (s *screen) Typed() keys.Light {
	if !s.Loaded || s.field == nil || s.Saving() || s.origin.Open() {
		return nil
	}
	return s.panel.typed(s)
}

// Escape closes what is open within the screen, and asks once before a running
// count is left.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	switch {
	case s.panel.kind == nextPanel && s.panel.find == "": // there is nothing to close
	case s.panel.kind == nextPanel:
		s.openNext()
		return true
	case s.panel.kind != noPanel:
		if s.panel.kind == whyPanel {
			s.say(exam.Level(0), "Nothing was changed.")
		}
		s.panel = panel{}
		return true
	}
	if s.field != nil && s.field.Busy() && !s.leave {
		s.leave = true
		s.say(exam.Level(0), "A count or timer is running. esc again discards it.")
		return true
	}
	s.horse.leave()
	return false
}

// Instead leads esc on the last step to the review, which takes the place of the exam.
func (s *screen) Instead() (nav.Address, bool) {
	last := s.Loaded && !s.once && s.horse.Patient == nil && s.now == len(s.routine.Asks)-1
	return nav.Address{Screen: nav.Review, Visit: s.id}, last
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	cmd, own := s.update(msg), s.horse.update(msg)
	return tea.Batch(cmd, own, s.horse.follow(s))
}

func (s *screen) update(msg tea.Msg) tea.Cmd {
	if p, ok := msg.(keys.Press); ok {
		return s.press(p)
	}
	cmd := s.Screen.Update(msg)
	if cmd == nil && s.field != nil {
		return s.field.Update(msg)
	}
	return cmd
}

// take puts a visit that was read on the screen and goes to where the exam stands.
func (s *screen) take(v seen) tea.Cmd {
	fresh := !s.Loaded
	if fresh && s.asksFirst(v.visit) {
		return nav.Replace(nav.Address{Screen: nav.Start, Horse: v.visit.Horse.ID, Visit: v.visit.ID})
	}
	s.Loaded, s.seen = true, v
	s.total = 0
	for _, ask := range s.routine.Asks {
		s.total += len(ask.Sites)
	}
	switch {
	case fresh && s.once:
		cmd := s.enter(s.find(s.at))
		s.field.Go(s.at.Site)
		return cmd
	case fresh:
		s.now = s.nextOpen(0)
		if s.horse.blind() {
			s.openNext()
		}
		if to, _, ok := nav.NeedleIn(s.visit, s.Deps.Now()); ok { // what happened is asked before the exam goes on
			return tea.Sequence(s.enter(s.now), s.depart(to))
		}
	case s.field != nil && s.now < len(s.routine.Asks):
		return nil // shown again: the field keeps what was typed
	}
	return s.enter(s.now)
}

// options are what the fields of a step are made of, the horse's own past included.
func (s *screen) options(step exam.Step) entry.Options {
	o := entry.Options{
		Theme: s.Deps.Theme, Now: s.Deps.Now, Settings: s.Deps.Settings, Person: s.person(),
		Bell: s.Deps.Ring(), Later: s.Deps.Later, Class: s.visit.Class(), Horse: s.visit.Horse,
	}
	o.Nothing = step.Kind == exam.KindNote
	if text, ok := s.Deps.Judge.Range(s.visit.Class(), step, s.prefer()); ok && text.Low != nil && text.High != nil {
		o.Example = notation.Quantity{Value: (*text.Low + *text.High) / 2, Unit: text.Unit}
	}
	if step.Kind == exam.KindWeight {
		o.Measured = weight.Measured(s.visit)
	}
	for _, v := range s.earlier {
		f, ok := v.First(step.ID)
		if !ok {
			continue
		}
		switch step.Kind {
		case exam.KindCount:
			if rate, ok := f.Value.In(notation.PerMinute); ok && o.UsualRate == 0 {
				o.UsualRate = rate
			}
		case exam.KindWeight:
			if o.LastWeight == nil {
				o.LastWeight = &entry.EarlierWeight{Value: f.Value, At: f.At}
			}
		case exam.KindNumber, exam.KindTime, exam.KindPick, exam.KindMarks, exam.KindScale, exam.KindEvent, exam.KindNote:
		}
	}
	return o
}

// asksFirst says that an open visit is gone on with by another person than who worked on it last, or by nobody knows
// whom, or long after it began: who is working now is asked first, and that is said.
func (s *screen) asksFirst(v exam.Visit) bool {
	return !s.asked && !s.once && s.horse.Patient == nil && !v.Closed() &&
		(v.Worker() != s.Deps.Settings.Person || exam.BegunBefore(v, s.Deps.Now()) != "")
}

// person is who answers now: the person of this machine, or who began the visit.
func (s *screen) person() string {
	if s.Deps.Settings.Person != "" {
		return s.Deps.Settings.Person
	}
	return s.visit.By
}

func (s *screen) say(l exam.Level, text string) { s.level, s.said, s.plain = l, text, false }

func (s *screen) View(size layout.Size) string {
	if !s.Loaded || s.field == nil {
		return "Reading the visit .."
	}
	return s.draw(size)
}
