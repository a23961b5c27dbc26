// Package dangers is the screen of the signs of danger in and after an injection
// or a draw: what is seen, what to do first, what to tell the veterinarian. It is
// one key away from the screens of a needle and of a watch, and a sign chosen there
// is written down at once.
package dangers

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
	"loosebox/tui/screen/list"
)

type screen struct {
	*flow.Screen
	to   nav.Address
	list list.List
	// chosen is the sign that is being written down, said what is seen of it, where
	// what writing it down does, and before how many entries there were.
	chosen procedure.Danger
	said   string
	where  string
	before int
}

// New makes the screen over the procedure in the address. What it shows needs no
// record, so it is there before the visit is read.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	from := to
	to.Screen = nav.Dangers
	s := &screen{Screen: flow.New(deps, to), to: from}
	s.Run(s)
	s.Keep(procedure.Cautions())
	s.Start(&signs{s: s})
	return s.Screen
}

// Number is that of the procedure it was opened from.
func (s *screen) Number() int { return s.to.Number }

// Title is the same for every horse, so that it is read at a glance.
func (s *screen) Title() string { return "Signs of danger" }

// Right says where a sign would be written down, or where it was.
func (s *screen) Right() string {
	switch {
	case !s.Ready():
		return ""
	case s.recorded():
		return s.where
	}
	return needle.TargetOf(s.Stand.Visit, s.to.From, s.to.Number).Words
}

// Sources says where the signs were read.
func (s *screen) Sources() []explain.Part { return needle.DangerSources() }

// Next is the list, and what to read out once a sign is written down.
func (s *screen) Next() flow.Part {
	if s.recorded() {
		return &told{s: s}
	}
	return &signs{s: s}
}

// recorded says that the chosen sign is stored.
func (s *screen) recorded() bool { return s.chosen.Key != "" && s.Stand.Visit.Entries > s.before }

// choose asks what is seen of a sign, to write it down.
func (s *screen) choose(d procedure.Danger) tea.Cmd {
	if !s.Ready() {
		s.Say("The visit is not read, so nothing can be written down. What to do first holds all the same.")
		return nil
	}
	s.Show(&seeing{s: s, d: d, seen: make([]bool, len(d.Seen))})
	return nil
}

func recordKey() keys.Binding {
	return keys.Digit().With("is seen", "choose what you see; then it is written down with time, product, lot and amount")
}
