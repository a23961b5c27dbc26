// Package practice is the screen that measures the scatter of a person's taps, with thirty taps on a steady pulse. The
// interval of that person's counts is computed from it.
package practice

import (
	"fmt"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

const (
	leadIn = 2  // taps to get in, left out by tap.Scatter
	wanted = 30 // taps after them
	idle   = 8  // beats without a tap after which the pulse stops
)

type stage int

const (
	ready stage = iota
	running
	done
)

type screen struct {
	base.Screen
	rate *form.OneOf

	stage   stage
	run     int // of the pulse: ticks of another run do nothing
	pulse   pulse
	lit     bool
	taps    *tap.Counter
	paired  int // taps that go with a beat, after the lead-in
	touched int // beats there were at the last tap
	result  result

	said string
	sure string // what was asked once: the second press does it
	kept bool
}

// New makes the practice for the person named in the settings.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	choices := []exam.Choice{
		{Key: "32", Words: "32 /min", Hint: "a beat every 1.9 s, the slowest that people can follow"},
		{Key: "40", Words: "40 /min", Hint: "a beat every 1.5 s"},
		{Key: "60", Words: "60 /min", Hint: "a beat every second"},
	}
	return &screen{Screen: base.Screen{Deps: deps}, rate: form.NewOneOf("pulse", choices, "40", entry.Options{Theme: deps.Theme, Now: deps.Now})}
}

func (s *screen) Title() string { return "Tap practice" }

// Right names the person whose taps they are.
func (s *screen) Right() string { return notation.CleanLine(s.Deps.Settings.Person, 40) }

// Questions that are asked once.
const (
	askStop  = "stop"
	askLeave = "leave"
	askAgain = "again"
)

// Escape stops the pulse, and asks once before taps are lost.
func (s *screen) Escape() bool {
	switch {
	case s.stage == running && s.taps.Taps() > 0 && s.sure != askStop:
		return s.ask(askStop, "esc again stops the practice and discards its taps")
	case s.stage == running:
		s.stop("")
		return true
	case s.Saving():
		return true
	case s.stage == done && !s.kept && s.result.refused == "" && s.sure != askLeave:
		return s.ask(askLeave, "esc again leaves without saving this")
	}
	return false
}

func (s *screen) ask(what, text string) bool {
	s.sure, s.said = what, text
	return true
}

func (s *screen) Keys() []keys.Binding {
	switch s.stage {
	case running:
		return []keys.Binding{keys.Tap().With("tap", "tap at each block; a held key counts once")}
	case done:
		off := s.result.refused
		if s.kept {
			off = "it is saved already"
		}
		return []keys.Binding{
			keys.Accept().With("save", "save this for the person named at the top").OffIf(off),
			keys.CountAgain().With("new practice", "practice again; asks once more if this one is not saved"),
		}
	case ready:
	}
	return append([]keys.Binding{keys.Accept().With("begin", "start the pulse")}, s.rate.Keys()...)
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case lookMsg:
		if m.of == s && m.run == s.run && s.stage == running {
			return s.look()
		}
	case keys.Press:
		sure := s.sure
		s.said, s.sure = "", ""
		return s.press(m, sure)
	}
	return s.Screen.Update(msg)
}

func (s *screen) press(p keys.Press, sure string) tea.Cmd {
	switch s.stage {
	case running:
		if keys.Tap().Is(p) {
			s.tap(p.At)
		}
		return nil
	case done:
		return s.pressDone(p, sure)
	case ready:
	}
	switch {
	case keys.Accept().Is(p):
		return s.start(p.At)
	case keys.Tap().Is(p):
		s.said = "enter starts the pulse; space then taps"
	default:
		s.rate.Press(p)
	}
	return nil
}

func (s *screen) pressDone(p keys.Press, sure string) tea.Cmd {
	switch {
	case s.Saving():
	case keys.Accept().Is(p):
		return s.keep()
	case keys.CountAgain().Is(p):
		if s.kept || s.result.refused != "" || sure == askAgain {
			s.stop("")
			return nil
		}
		s.ask(askAgain, "not saved: n again discards it, enter saves it")
	}
	return nil
}

// lookMsg is the tick of one run of one screen.
type lookMsg struct {
	of  *screen
	run int
}

// start begins the pulse one beat after the press.
func (s *screen) start(at time.Time) tea.Cmd {
	perMin, _ := strconv.Atoi(s.rate.Chosen())
	period := time.Minute / time.Duration(max(perMin, 1))
	s.stage, s.kept, s.lit, s.paired, s.touched = running, false, false, 0, 0
	s.run++
	s.pulse = pulse{period: period, start: at.Add(period)}
	s.taps = tap.NewCounter(tap.Options{What: tap.Heart})
	return s.look()
}

// stop goes back to where the pulse is chosen.
func (s *screen) stop(said string) {
	s.stage, s.said, s.sure = ready, said, ""
}

// look draws the block where a beat is due, and asks to be called when that changes.
func (s *screen) look() tea.Cmd {
	lit, beat, wait := s.pulse.step(s.Deps.Now())
	s.lit = lit
	if len(s.pulse.late)-s.touched > idle {
		s.stop(fmt.Sprintf("the pulse stopped: no tap for %d beats", idle))
		return nil
	}
	next := s.Deps.Later(wait, lookMsg{s, s.run})
	if beat {
		return tea.Batch(s.Deps.Ring(), next)
	}
	return next
}

// tap takes a press at the moment it reached the program.
func (s *screen) tap(at time.Time) {
	since := at.Sub(s.pulse.start).Seconds()
	s.taps.Press(since)
	s.touched = len(s.pulse.late)
	taps := s.taps.Raw()
	sigma, bias, n, err := tap.Scatter(taps, s.pulse.beats(since))
	if s.paired = n; err == nil && n >= wanted {
		s.stage, s.lit = done, false
		s.result = s.read(sigma, bias, n, taps)
	}
}
