package exam

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// press handles a key: while something is being written to the disk no key
// counts, so that one press cannot answer two steps.
func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded || s.field == nil || s.Saving() {
		return nil
	}
	if !keys.RestUsual().Names(p) {
		s.rest.clear()
	}
	if s.origin.Press(p) {
		return nil
	}
	if s.panel.kind != noPanel {
		return s.pressPanel(p)
	}
	if s.horse.asks() {
		return s.save(s.horse.Press(p)...)
	}
	result, cmd := s.field.Press(p)
	switch result {
	case entry.Taken:
		return cmd
	case entry.Accepted:
		return tea.Batch(cmd, s.accept())
	case entry.Ignored:
	}
	if cmd, ok := s.pressLeg(p); ok {
		return cmd
	}
	return s.pressScreen(p)
}

func (s *screen) pressScreen(p keys.Press) tea.Cmd {
	switch {
	case keys.Later().Is(p):
		return s.move(+1)
	case keys.Earlier().Is(p):
		return s.move(-1)
	case s.field.Typing():
		return nil
	case s.usual().Names(p):
		return s.answerUsual(s.usual(), []exam.Key{s.key()})
	case s.allUsual().Names(p):
		return s.answerUsual(s.allUsual(), s.openKeys())
	case s.restUsual().Names(p):
		return s.answerRest()
	case keys.NotDone().Is(p):
		s.panel = newReasons(len(s.openKeys()) > 1)
	case keys.Write().Is(p):
		s.panel = newNote("Comment on "+s.step().Name, s.Deps)
	case keys.How().Is(p):
		s.how = !s.how
	case keys.Source().Is(p):
		if s.field.Busy() {
			return s.leaving(nil)
		}
		s.origin.Show(s.placeName(), s.explain())
	case keys.Order().Is(p):
		s.openOrder()
	case keys.After().Is(p):
		if s.field.Busy() {
			return s.leaving(nil)
		}
		return s.depart(nav.Address{Screen: nav.After, Visit: s.id})
	case s.horse.Patient == nil && (keys.QuickCount().Is(p) || keys.Sums().Is(p)):
		if s.field.Busy() {
			return s.leaving(nil)
		}
		if keys.Sums().Is(p) {
			return s.depart(nav.Address{Screen: nav.Sums, Horse: s.visit.Horse.ID})
		}
		return s.depart(nav.Address{Screen: nav.Tally, Heard: "heart"})
	case keys.Review().Is(p):
		if s.field.Busy() {
			return s.leaving(nil)
		}
		return s.depart(nav.Address{Screen: nav.Review, Visit: s.id})
	default:
		return s.horse.command(p)
	}
	return nil
}

// depart opens a screen on top of the exam.
func (s *screen) depart(to nav.Address) tea.Cmd {
	s.horse.leave()
	return nav.Go(to)
}

// accept stores the field's answer.
func (s *screen) accept() tea.Cmd {
	v, err := s.field.Value()
	if err != nil {
		s.say(exam.Level(0), err.Error())
		return nil
	}
	k := s.key()
	return s.answer(exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v})
}

// answer stores findings, in a rehearsal after the entries of the patient. If that asks a question first, the answer stays in
// the widget.
func (s *screen) answer(findings ...exam.Entry) tea.Cmd {
	began, _ := s.field.Began()
	var entries []exam.Entry
	for _, f := range findings {
		before, ready := s.horse.before(exam.Key{Step: f.Step, Site: f.Site}, began)
		if !ready {
			return nil
		}
		entries = append(append(entries, before...), f)
	}
	return s.save(entries...)
}

func (s *screen) answerUsual(b keys.Binding, places []exam.Key) tea.Cmd {
	if b.Off != "" {
		s.say(exam.Level(0), "Not here: "+b.Off+".")
		return nil
	}
	v, ok := s.step().UsualValue()
	if !ok {
		return nil
	}
	if why := s.horse.tooSoon(places, v); why != "" {
		s.say(exam.Level(0), "Not yet: "+why+".")
		return nil
	}
	entries := make([]exam.Entry, len(places))
	for i, k := range places {
		entries[i] = exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v}
	}
	return s.answer(entries...)
}

// move goes to the ask before or after without an answer.
func (s *screen) move(by int) tea.Cmd {
	if s.field.Busy() {
		return s.leaving(nil)
	}
	if s.horse.blind() {
		s.openOrder()
		return nil
	}
	n := len(s.routine.Asks)
	s.said = ""
	return s.enter((s.now + by + n) % n)
}

// openOrder lets the person choose where to go: in the order at the left, or, in
// a blind rehearsal, by name.
func (s *screen) openOrder() {
	if s.horse.blind() {
		s.openNext()
		return
	}
	s.panel = panel{kind: orderPanel, cursor: s.now}
}

// leaving keeps a running count on the screen and says so.
func (s *screen) leaving(cmd tea.Cmd) tea.Cmd {
	if s.field.Busy() {
		s.say(exam.Level(0), "A count or timer is running. enter saves it; esc twice discards it.")
		return nil
	}
	return cmd
}
