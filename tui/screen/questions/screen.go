// Package questions is the one screen of every procedure: it draws the questions of
// a script, takes their answers, and asks for the next question only when what an
// answer stores is on the disk. One file draws one kind of question.
package questions

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/caution"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/source"
)

// part draws one question and takes its keys.
type part interface {
	// Lines draws at most size.H lines of at most size.W columns.
	Lines(size layout.Size) []string
	Press(p keys.Press) tea.Cmd
	Keys() []keys.Binding
	Typing() bool
	// Escape is asked before esc goes back or leaves; true means that the part used
	// the key itself.
	Escape() bool
}

// silent is a part on which nothing is typed and nothing opens.
type silent struct{}

// Typing is never true.
func (silent) Typing() bool { return false }

// Escape uses nothing.
func (silent) Escape() bool { return false }

// scanPart is a part that makes something of a chip that was read.
type scanPart interface {
	// TakeScan says whether it took the chip.
	TakeScan(nav.Scan) (tea.Cmd, bool)
}

// Screen is the nav.Screen of a script.
type Screen struct {
	base.Screen
	name   nav.Name
	id     exam.VisitID
	at     *order.Job
	script script.Script

	question *script.Question
	part     part
	// parts are those that were shown, so that the way back finds the cursor where it
	// was.
	parts  map[*script.Question]part
	said   string
	asked  bool // leaving was asked about
	told   caution.Display
	open   bool // all cautions are shown
	origin source.Panel
}

// Of is the maker of the screen of a kind of procedure.
func Of(name script.Name) nav.Maker {
	kind := script.KindOf(name)
	return func(deps *nav.Deps, to nav.Address) nav.Screen {
		s := &Screen{name: nav.Name(name), id: to.Visit, parts: map[*script.Question]part{}}
		s.Screen = base.Screen{Deps: deps, Press: s.press}
		s.Load = func() tea.Cmd {
			return base.Read(s, func() (order.Stand, error) { return order.Look(deps.Desk, s.id) }, s.take)
		}
		s.at = &order.Job{Syringes: deps.Syringes, Units: deps.Settings.Units, Call: deps.Settings.Call(), Chosen: to.Procedure, Now: func() time.Time { return deps.Now() }, Waits: deps.Waits}
		s.script = kind.Make(s.at, to.Number, script.Name(to.From))
		if kind.Unread {
			s.Loaded = true
			s.next()
		}
		return s
	}
}

// do goes where an answer leads.
func (s *Screen) do(m script.Move) tea.Cmd {
	switch {
	case len(m.Write) > 0:
		return s.write(m.Write)
	case m.Next != nil:
		s.show(m.Next)
		s.said = m.Say
		return nil
	case m.Say != "":
		s.said = m.Say
		return nil
	}
	switch m.To.Kind {
	case script.Hub:
		return s.toHub()
	case script.Back:
		return nav.Back()
	case script.To:
		return nav.Replace(nav.Address{Screen: nav.Name(m.To.Name), Visit: s.id, Number: m.To.Number})
	case script.Here:
	}
	s.next()
	return nil
}

// show puts a question up, with its cautions.
func (s *Screen) show(q *script.Question) {
	if q.Stage != "" {
		s.told = s.Deps.Tell(s.id, procedure.At(s.at.Visit, q.Stage))
	}
	if q.Cautions != nil {
		s.told = caution.Display{All: q.Cautions}
	}
	if s.parts[q] == nil {
		s.parts[q] = s.make(q)
	}
	s.question, s.part = q, s.parts[q]
	if q.Rehearsed && s.Deps.Patient != nil && s.Deps.Patient.NeedleIn() {
		s.part = &asked{s, s.Deps.Patient}
	}
}

// make is the part that draws a question.
func (s *Screen) make(q *script.Question) part {
	switch {
	case q.Form != nil:
		return newForm(s, q)
	case q.Checks != nil:
		return newChecks(s, q.Checks)
	case q.Places != nil:
		return newPlaces(s, q)
	case q.Marks != nil:
		return &marks{s: s, q: q, seen: make([]bool, len(q.Marks.Lines))}
	case q.Rail != nil:
		return &rail{s: s, rail: q.Rail}
	}
	return newPick(s, q)
}

// next asks the script what comes next.
func (s *Screen) next() {
	m := s.script.Next()
	s.open = false
	s.show(m.Next)
	s.said = m.Say
}

// tick makes a question again that changes with the clock.
func (s *Screen) tick() {
	if s.question != nil && s.question.Ticks {
		s.question = s.script.Next().Next
		s.part = s.make(s.question)
	}
}

// say puts a sentence under the part until the next key.
func (s *Screen) say(text string) { s.said = text }

// options are what the fields of a part are made of.
func (s *Screen) options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
}

// Update takes the clock, and what every screen takes.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch msg.(type) {
	case nav.ClockMsg:
		s.tick()
		return nil
	case keys.Press:
		s.tick()
	}
	return s.Screen.Update(msg)
}

func (s *Screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded {
		return nil
	}
	switch {
	case keys.Dangers().Is(p) && s.name != nav.Dangers:
		return nav.Go(nav.Address{Screen: nav.Dangers, Visit: s.id, Number: s.script.Number(), From: s.name})
	case s.origin.Press(p):
		return nil
	case keys.Cautions().Is(p) && !s.part.Typing():
		s.open = !s.open
		return nil
	case keys.Source().Is(p) && !s.open && s.sourced() && !s.part.Typing():
		s.origin.Show(s.script.Title(), s.script.Sources())
		return nil
	case s.open:
		return nil
	}
	s.said, s.asked = "", false
	return s.part.Press(p)
}

// more gives a key beside the answers.
func (s *Screen) more(p keys.Press) (tea.Cmd, bool) {
	for _, o := range s.question.More {
		switch b := binding(o); {
		case b.Is(p):
			return s.do(o.Do()), true
		case b.Names(p):
			s.say("Not yet: " + o.Off + ".")
			return nil, true
		}
	}
	return nil, false
}

// binding is the key of an option.
func binding(o script.Option) keys.Binding {
	return keys.Letter(o.Key, o.Words, o.Hint).OffIf(o.Off)
}

func bindings(list []script.Option) []keys.Binding {
	out := make([]keys.Binding, len(list))
	for i, o := range list {
		out[i] = binding(o)
	}
	return out
}

// toHub leads to what follows the exam; a rehearsal goes on where it was.
func (s *Screen) toHub() tea.Cmd {
	if s.Deps.Patient != nil {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.After, Visit: s.id, Horse: s.at.Horse.ID})
}
