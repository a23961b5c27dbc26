package review

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded {
		return nil
	}
	if s.origin.Press(p) {
		return nil
	}
	if s.stuck {
		return s.pressStuck(p)
	}
	if s.untold {
		return s.pressUntold(p)
	}
	if s.closing {
		return s.pressClosing(p)
	}
	switch {
	case keys.Up().Is(p):
		s.step(-1)
	case keys.Down().Is(p):
		s.step(+1)
	case keys.PageUp().Is(p):
		s.cursor = max(s.cursor-10, 0)
		s.step(0)
	case keys.PageDown().Is(p):
		s.cursor = min(s.cursor+10, max(len(s.lines)-1, 0))
		s.step(0)
	case s.can(keys.Accept(), p):
		return nav.Go(nav.Address{Screen: nav.Exam, Visit: s.id, At: s.lines[s.cursor].at})
	case keys.Source().Is(p):
		s.show()
	case s.can(s.before(), p):
		return nav.Go(nav.Address{Screen: nav.Start, Horse: s.Visit.Horse.ID, Visit: s.id, From: nav.Review})
	case s.due().Is(p):
		return nav.Go(nav.Address{Screen: nav.Due, Horse: s.Visit.Horse.ID})
	case keys.Compare().Is(p):
		return nav.Go(nav.Address{Screen: nav.Compare, Horse: s.Visit.Horse.ID, Visit: s.id})
	case s.can(s.again(), p):
		return nav.Go(nav.Address{Screen: nav.Again, Horse: s.Visit.Horse.ID})
	case s.Deps.Patient == nil && keys.Episode().Is(p):
		return nav.Go(nav.Address{Screen: nav.Episode, Horse: s.Visit.Horse.ID, Visit: s.id})
	case keys.After().Is(p):
		return nav.Go(nav.Address{Screen: nav.After, Visit: s.id})
	case s.can(s.signOff(), p):
		return nav.Go(nav.Address{Screen: nav.SignOff, Visit: s.id})
	case s.Visit.Struck == nil && s.can(keys.AddLater(), p):
		return nav.Go(nav.Address{Screen: nav.Late, Visit: s.id})
	case s.can(keys.EnterAgain(), p), s.can(keys.Strike(), p):
		return nav.Go(nav.Address{Screen: nav.Strike, Visit: s.id})
	case keys.Finish().Is(p) && !s.Visit.Closed():
		s.ask()
	}
	return nil
}

// ask asks how to close the visit, or says what keeps it open. What is for the
// veterinarian and not handed off is asked about first.
func (s *screen) ask() {
	s.without, s.choice = "", 0
	if _, _, s.stuck = s.keepsOpen(); !s.stuck {
		s.askHow()
	}
}

// askHow asks how to close a visit that nothing keeps open.
func (s *screen) askHow() {
	_, s.untold = authorization.Untold(s.Visit, s.Verdict.Remarks)
	s.closing, s.reason = !s.untold, noReason
}

// pressStuck leads to what keeps the visit open.
func (s *screen) pressStuck(p keys.Press) tea.Cmd {
	to, must, ok := s.keepsOpen()
	switch {
	case ok && keys.Accept().Is(p):
		s.stuck = false
		return nav.Go(to)
	case !must && s.anyway().Is(p):
		s.stuck = false
		s.askHow()
	}
	return nil
}

// keepsOpen is what is still to do before the visit is closed; must says that it
// cannot be closed before.
func (s *screen) keepsOpen() (to nav.Address, must, ok bool) {
	if to, _, ok = nav.Unfinished(s.Visit, s.Deps.Now()); ok {
		return to, true, true
	}
	to, _, ok = nav.Unwatched(s.Visit)
	return to, false, ok
}

// step moves the cursor, over headings.
func (s *screen) step(by int) {
	n := len(s.lines)
	if n == 0 {
		return
	}
	i := s.cursor + by
	for i >= 0 && i < n && s.lines[i].head {
		if by < 0 {
			i--
		} else {
			i++
		}
	}
	if i >= 0 && i < n {
		s.cursor = i
	}
}

func (s *screen) pressClosing(p keys.Press) tea.Cmd {
	if len(s.Left) == 0 {
		if keys.Accept().Is(p) {
			s.closing = false
			return s.close("")
		}
		return nil
	}
	reasons := exam.Reasons()[:4] // "other" wants words, which belong to one step
	switch {
	case keys.Up().Is(p):
		s.reason = (max(s.reason, 0) + len(reasons) - 1) % len(reasons)
	case keys.Down().Is(p):
		s.reason = (s.reason + 1) % len(reasons)
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(reasons) {
			s.reason = i
		}
	case s.can(s.closes(), p):
		s.closing = false
		return s.close(reasons[s.reason])
	}
	return nil
}

// noReason is the reason for what was not done until a person chooses one: enter alone says nothing of a horse.
const noReason = -1

// closes closes the visit.
func (s *screen) closes() keys.Binding {
	b := keys.Accept().With("close visit", "close the visit; unanswered steps become not done with this reason")
	if len(s.Left) > 0 && s.reason == noReason {
		return b.OffIf("choose the reason first: 1 to 4, or the arrows")
	}
	return b
}
