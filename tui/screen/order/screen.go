// Package order is the screen on which a person puts the groups of a routine into the order that they keep to: from a
// distance, the left side, a leg. A group is moved as a whole; what is saved is a routine of the person's own.
package order

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	routine exam.Routine
	groups  [][]exam.Ask
	cursor  list.List
	held    bool // the group under the cursor moves with it
	changed bool
	leave   bool // asked once whether to leave without saving
	said    string
}

// New makes the order of the routine that the address names, of the first where it names none.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Press: s.press, Loaded: true}
	for i, r := range deps.Routines {
		if i == 0 || r.Name == to.Routine {
			s.routine = r
		}
	}
	s.routine.Asks = slices.Clone(s.routine.Asks)
	if len(s.routine.Asks) > 0 && s.routine.Asks[0].Heading == "" {
		s.routine.Asks[0].Heading = "at first" // a file of one's own may begin without one
	}
	s.groups = s.routine.Groups()
	return s
}

func (s *screen) Title() string { return "Order · " + s.routine.Title }

func (s *screen) Right() string {
	if s.changed {
		return "not saved"
	}
	return fmt.Sprintf("%d groups", len(s.groups))
}

// Escape puts a group down, and asks once before an order is left that is not saved.
func (s *screen) Escape() bool {
	switch {
	case s.held:
		s.held = false
		return true
	case s.changed && !s.leave:
		s.leave, s.said = true, "This order is not saved. esc again discards it; ctrl+s saves it."
		return true
	}
	return false
}

// Keys of the order.
func (s *screen) Keys() []keys.Binding {
	take, save := keys.TakeUp(), keys.SaveOrder()
	if s.held {
		return []keys.Binding{take.With("drop", "drop the group here"), keys.Up().With("move group", "move the group")}
	}
	switch {
	case s.Deps.KeepRoutine == nil:
		save = save.OffIf("there is no folder for your own routines")
	case !s.changed:
		save = save.OffIf("nothing was moved yet")
	}
	return []keys.Binding{take, keys.Up(), save}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	was := s.cursor.Cursor
	switch {
	case len(s.groups) == 0:
	case keys.TakeUp().Is(p):
		s.held = !s.held
	case s.cursor.Move(p, len(s.groups)):
		if s.held && was != s.cursor.Cursor {
			s.move(was, s.cursor.Cursor)
		}
	case keys.SaveOrder().Is(p):
		return s.save()
	}
	s.leave, s.said = false, ""
	return nil
}

// move puts a group at another place; those between close up.
func (s *screen) move(from, to int) {
	group := s.groups[from]
	s.groups = append(s.groups[:from:from], s.groups[from+1:]...)
	s.groups = append(s.groups[:to:to], append([][]exam.Ask{group}, s.groups[to:]...)...)
	s.changed = true
}

// save stores the order as the person's own routine and offers it first from now on.
func (s *screen) save() tea.Cmd {
	if s.Deps.KeepRoutine == nil || !s.changed || s.held {
		return nil
	}
	keep, store, settings := s.Deps.KeepRoutine, s.Deps.Store, s.Deps.Settings
	own := steps.OwnOrder(s.routine, s.groups, settings.Person)
	settings.Routine = own.Name
	return base.Write(s, func() (exam.Settings, error) {
		if err := keep(own); err != nil {
			return settings, fmt.Errorf("this order is NOT saved: %w", err)
		}
		if err := store.SaveSettings(settings); err != nil {
			return settings, fmt.Errorf("the order is saved as %s, but it is not offered first: %w", own.Name, err)
		}
		return settings, nil
	}, func(set exam.Settings) tea.Cmd {
		s.routine, s.groups, s.changed = own, own.Groups(), false
		s.said = "Saved as " + own.Title + ". The next exam uses this order; an exam already begun keeps its own."
		return tea.Sequence(nav.Kept(own), nav.Settled(set))
	})
}
