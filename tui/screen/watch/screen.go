// Package watch is the screen of the time in which a horse is looked at after an
// injection: how long it still runs, what to look for, and how it ended.
package watch

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

type screen struct {
	*flow.Screen
	number int // of the injection
	now    time.Time
}

// New makes the screen of the watch after the injection in the address; number 0
// is the one that ends first.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	to.Screen = nav.Watch
	s := &screen{Screen: flow.New(deps, to), number: to.Number, now: deps.Now()}
	s.Run(s)
	return &clocked{s.Screen, s}
}

// clocked hands the root's clock to the screen, so that drawing reads no clock.
type clocked struct {
	*flow.Screen
	s *screen
}

// Update takes the time on the way.
func (c *clocked) Update(msg tea.Msg) tea.Cmd {
	if m, ok := msg.(nav.ClockMsg); ok {
		c.s.now = m.Now
		return nil
	}
	c.s.now = c.Deps.Now()
	return c.Screen.Update(msg)
}

// Number is that of the injection.
func (s *screen) Number() int { return s.number }

// Title names the horse.
func (s *screen) Title() string { return "Watch: " + s.Horse() }

// Right says after which injection.
func (s *screen) Right() string {
	i, ok := s.Stand.Visit.Injection(s.number)
	if !ok {
		return ""
	}
	return fmt.Sprintf("after injection %d", i.Number)
}

// Sources says what the minutes rest on.
func (s *screen) Sources() []explain.Part { return needle.WatchSources() }

// Next is the running watch, or how it ended.
func (s *screen) Next() flow.Part {
	s.Tell(procedure.AtWatch)
	if s.number == 0 {
		s.number = first(s.Stand.Visit.Watching())
	}
	w, ok := s.watch()
	switch {
	case !ok:
		return s.none()
	case w.Running():
		return &running{s: s, w: w}
	}
	return s.ended(w)
}

func first(list []exam.Watch) int {
	n := 0
	var ends time.Time
	for _, w := range list {
		if n == 0 || w.Ends().Before(ends) {
			n, ends = w.Injection, w.Ends()
		}
	}
	return n
}

// watch is the running watch of the injection, or the last one that ran.
func (s *screen) watch() (exam.Watch, bool) {
	var out exam.Watch
	found := false
	for _, w := range s.Stand.Visit.Watches {
		if w.Injection == s.number && (!found || w.Running() || !out.Running()) {
			out, found = w, true
		}
	}
	return out, found
}

func (s *screen) write(l exam.WatchLine) tea.Cmd {
	return s.Write(exam.Entry{Kind: exam.EntryWatch, Watch: &l})
}

// none offers a watch after an injection that was given and is not watched.
func (s *screen) none() flow.Part {
	if i, ok := s.Stand.Visit.Injection(s.number); ok && i.WentIn() && !s.Stand.Visit.Closed() {
		given := fmt.Sprintf("Injection %d, %s, %s %s, is not watched. The watch begins now.", i.Number, exam.CleanLine(i.Order.Product, 40), i.State, i.EndAt.Format("15:04"))
		return flow.NewMinutes(s.Screen, i.Number, func(width int) []string { return append(layout.Wrap(given, width), "") })
	}
	return &flow.Pick{S: s.Screen, Options: []flow.Option{{Words: "back", Do: nav.Back}}, Head: func(width int) []string {
		return append([]string{""}, layout.Wrap("No watch runs in this visit. One begins when an injection is given.", width)...)
	}}
}

// ended says how the watch ended.
func (s *screen) ended(w exam.Watch) flow.Part {
	t := s.Deps.Theme
	return &flow.Pick{S: s.Screen, Options: []flow.Option{{Words: "back", Do: nav.Back}}, Head: func(width int) []string {
		lines := []string{t.Strong.Render("Written down: " + string(w.State))}
		if w.State == exam.WatchDeclined {
			lines = append(lines, fmt.Sprintf("%s, by %s", w.At.Format("15:04"), exam.CleanLine(w.By, 40)))
		} else {
			lines = append(lines, fmt.Sprintf("%d minutes from %s, to %s, by %s", w.Minutes, w.At.Format("15:04"), w.EndAt.Format("15:04"), exam.CleanLine(w.EndBy, 40)))
		}
		if w.Why != "" {
			lines = append(lines, "why: "+exam.CleanLine(w.Why, 0))
		}
		if w.SignWords != "" {
			lines = append(lines, s.TellVet(w.SignWords, width)...)
		}
		return lines
	}}
}
