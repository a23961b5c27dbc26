package after

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/after"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case !s.Loaded:
		return nil
	case s.recheck != nil:
		if s.recheck.form.Press(p) == form.Save && s.recheck.form.Check() {
			return s.save()
		}
		return nil
	}
	s.said = ""
	switch {
	case s.cursor.Move(p, len(s.lines)):
	case keys.Choose().Is(p):
		return s.open(s.lines[s.cursor.Cursor])
	case keys.Record().Is(p) && s.Deps.Patient == nil:
		return nav.Go(nav.Address{Screen: nav.Record, Visit: s.id})
	case keys.Review().Is(p):
		return nav.Go(nav.Address{Screen: nav.Review, Visit: s.id})
	}
	return nil
}

// open goes to the screen of a line. A procedure that is locked is not begun: the
// screen says why, and one that is begun can still be stopped there.
func (s *screen) open(l after.Task) tea.Cmd {
	to := nav.Address{Horse: s.seen.Visit.Horse.ID, Visit: s.id, Number: l.Number}
	if l.State == after.Locked && l.Number == 0 && l.Kind != after.Close {
		s.said = l.Why
		return nil
	}
	switch l.Kind {
	case after.Recheck:
		return s.openRecheck(l.Number)
	case after.Close:
		return s.openClose(l)
	case after.ByVet:
		to.Screen, to.Number = nav.Injection, script.ByVet
	default: // a line is named as its screen
		to.Screen = nav.Name(l.Kind)
		if l.Kind == after.Injection && l.Number == 0 && !l.Again && l.Procedure != nil {
			to.Procedure = *l.Procedure
		}
	}
	return nav.Go(to)
}

// openClose opens the question how to close, or the screen of what keeps the visit open.
func (s *screen) openClose(l after.Task) tea.Cmd {
	switch {
	case l.State == after.Locked:
		to, _, _ := nav.Unfinished(s.seen.Visit, s.Deps.Now())
		return nav.Go(to)
	case l.State == after.Done:
		return nav.Go(nav.Address{Screen: nav.Review, Visit: s.id})
	}
	return nav.Go(nav.Address{Screen: nav.Review, Visit: s.id, Finish: true})
}
