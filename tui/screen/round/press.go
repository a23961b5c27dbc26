package round

import (
	"errors"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

func (s *screen) Keys() []keys.Binding {
	switch {
	case s.ask != nil:
		return s.ask.keys()
	case s.find != nil:
		return s.find.keys()
	}
	c, ok := s.here()
	none, late := "", ""
	if !ok {
		none = "no horse is under the cursor"
	}
	if s.day < s.today {
		late = "this day is over"
	}
	begin := keys.Begin().OffIf(none)
	if c.Visit != "" && c.State == round.Begun && !c.Elsewhere {
		begin = begin.With("go on", "go on with the exam that is not finished")
	}
	leave := keys.LeaveOut().OffIf(either(none, late))
	if ok && back(c) {
		leave = leave.With("put back", "put this horse back on the round")
	}
	seen := keys.Seen().OffIf(either(none, late))
	if s.day > s.today {
		seen = seen.OffIf("this day is still to come")
	}
	all := keys.HandAll().OffIf(late)
	if len(s.round.Left()) == 0 {
		all = all.OffIf("no horse is left")
	}
	return []keys.Binding{
		keys.Choose().With("open", "open this horse: who it is, its visits, what is due").OffIf(none), keys.Up(), keys.Down(), begin,
		keys.PickHorse().OffIf(late), leave, seen, keys.HandOver().OffIf(either(none, late)), all, keys.InTurn().OffIf(either(none, late)),
		keys.Source().With("why", "show the reasons for this order"),
		keys.Left().With("day", "see the round of the day before or after"), keys.Right(), keys.PageDown(),
	}
}

func either(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// back says that something was decided today that can be taken back.
func back(c round.Call) bool {
	return c.State == round.LeftOut || c.State == round.Handed || c.State == round.Done && c.Note != ""
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.turnDay() && s.ask != nil {
		s.ask = nil
		return nav.Fail(errors.New("midnight has passed: this is yesterday's round. Nothing was saved; right shows today's"))
	}
	switch {
	case s.ask != nil:
		return s.answer(p)
	case s.find != nil:
		return s.look(p)
	case s.cursor.Move(p, len(s.round.Calls)):
		return nil
	}
	b, ok := keys.Find(s.Keys(), p)
	switch {
	case !ok || b.Off != "":
		return nil
	case keys.Left().Is(p):
		return s.other(-1)
	case keys.Right().Is(p):
		return s.other(1)
	case !s.loaded:
		return nil
	case keys.Source().Is(p):
		s.source = !s.source
	case keys.PickHorse().Is(p):
		s.find = &finder{}
		return s.search()
	case keys.HandAll().Is(p):
		return s.open(handOver, s.round.Left()...)
	}
	c, ok := s.here()
	if !ok {
		return nil
	}
	return s.decide(p, c)
}

// decide are the keys about the horse under the cursor.
func (s *screen) decide(p keys.Press, c round.Call) tea.Cmd {
	switch {
	case keys.Choose().Is(p):
		return nav.Go(nav.Address{Screen: nav.Horse, Horse: c.Horse.ID})
	case keys.Begin().Is(p):
		if c.Visit != "" && c.State == round.Begun && !c.Elsewhere {
			return nav.Go(nav.Address{Screen: nav.Exam, Horse: c.Horse.ID, Visit: c.Visit})
		}
		return nav.Go(nav.Address{Screen: nav.Start, Horse: c.Horse.ID})
	case keys.LeaveOut().Is(p) && back(c):
		if fail := s.named(); fail != nil {
			return fail
		}
		return s.add("", exam.RoundLine{Horse: c.Horse.ID, Act: exam.RoundBack})
	case keys.LeaveOut().Is(p):
		return s.open(leaveOut, c)
	case keys.Seen().Is(p):
		return s.open(seen, c)
	case keys.HandOver().Is(p):
		return s.open(handOver, c)
	case keys.InTurn().Is(p):
		return s.open(turn, c)
	}
	return nil
}

// named refuses where the machine knows nobody: a line says by whom.
func (s *screen) named() tea.Cmd {
	if s.Deps.Settings.Person != "" {
		return nil
	}
	return nav.Fail(errors.New("set your name in the settings first (g on the home screen)"))
}

// other goes to the day before or after.
func (s *screen) other(by int) tea.Cmd {
	at, err := time.Parse(notation.DayForm, s.day)
	if err != nil {
		return nil
	}
	s.day, s.loaded, s.round = at.AddDate(0, 0, by).Format(notation.DayForm), false, round.Round{}
	s.cursor.Cursor = 0
	return s.load()
}
