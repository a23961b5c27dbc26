package tui

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// watches holds the running observations of all visits. They have one line on every screen, a tick a second while one is
// not over, and the bell at its end.
type watches struct {
	deps    *nav.Deps
	running []running // the one that ends first comes first
	now     time.Time
	run     int        // of the ticks; those of an earlier run do nothing
	seen    nav.Screen // the watch screen that ctrl+w opened last
	shows   int        // which watch it shows
}

// running is a watch that runs, with its horse.
type running struct {
	visit exam.VisitID
	horse string
	exam.Watch
}

// readWatchesMsg holds the running watches read from the record.
type readWatchesMsg struct {
	running []running
	err     error
}

// tickWatchesMsg is one second.
type tickWatchesMsg struct{ run int }

// read returns the command that reads the running watches from the record.
func (w *watches) read() tea.Cmd {
	if w.deps.Store == nil {
		return nil
	}
	at := w.deps.Desk
	return func() tea.Msg {
		open, err := at.Waiting()
		if err != nil {
			return readWatchesMsg{err: fmt.Errorf("the running observations cannot be read: %w", err)}
		}
		var out []running
		for _, v := range open {
			for _, x := range v.Watching() {
				out = append(out, running{v.ID, v.Horse.Name, x})
			}
		}
		slices.SortStableFunc(out, func(a, b running) int { return cmp.Or(a.Ends().Compare(b.Ends()), cmp.Compare(a.horse, b.horse)) })
		return readWatchesMsg{running: out}
	}
}

// take stores what was read, and starts the ticks where a watch is not over.
func (w *watches) take(m readWatchesMsg) tea.Cmd {
	if m.err != nil {
		return nav.Fail(m.err)
	}
	w.running, w.now = m.running, w.deps.Now()
	w.run++
	return w.next()
}

// at is how a watch stands at a moment.
func (w *watches) at(x running, now time.Time) exam.Watched {
	return w.deps.Waits.Watch(x.visit, x.Watch, now)
}

// next returns the command of the next tick; nil once every watch is over.
func (w *watches) next() tea.Cmd {
	for _, x := range w.running {
		if w.at(x, w.now).Left > 0 {
			return w.deps.Later(time.Second, tickWatchesMsg{w.run})
		}
	}
	return nil
}

// tick handles one second: it rings where a watch ends, and sends the time to the screens.
func (w *watches) tick(m tickWatchesMsg) tea.Cmd {
	if m.run != w.run {
		return nil
	}
	before := w.now
	w.now = w.deps.Now()
	now := w.now
	cmds := []tea.Cmd{func() tea.Msg { return nav.ClockMsg{Now: now} }, w.next()}
	for _, x := range w.running {
		was, is := w.at(x, before), w.at(x, now)
		if was.Left > 0 && is.Left == 0 || is.Asks && !was.Asks {
			cmds = append(cmds, w.deps.Ring())
			break
		}
	}
	return tea.Batch(cmds...)
}

// line is the one line of the frame; empty while nothing runs.
func (w *watches) line(width int) string {
	if len(w.running) == 0 {
		return ""
	}
	text, over := "", false
	for i, x := range w.running {
		if i > 0 {
			text += "; "
		}
		is := w.at(x, w.now)
		over = over || is.Left == 0 || is.Asks
		if is.Left == 0 {
			text += notation.CleanLine(x.horse, 24) + " time is up: check the horse"
			continue
		}
		text += fmt.Sprintf("%s %d:%02d", notation.CleanLine(x.horse, 24), int(is.Left.Minutes()), int(is.Left.Seconds())%60)
		if is.Asks {
			text += " at most: go by another clock"
		}
	}
	t := w.deps.Theme
	line := layout.Ends("observe: "+text, "ctrl+w", width)
	if over {
		return t.Warn.Render(line)
	}
	return t.Strong.Render(line)
}

// address is what ctrl+w opens: the watch that ends first, or from a watch the one after it.
func (w *watches) address(top nav.Screen) nav.Address {
	if top == w.seen {
		w.shows++
	} else {
		w.shows = 0
	}
	x := w.running[w.shows%len(w.running)]
	return nav.Address{Screen: nav.Watch, Visit: x.visit, Number: x.Injection}
}

// watch opens the watch that ends first, or from it the next one in its place.
func (a *App) watch() tea.Cmd {
	to := a.watches.address(a.top().Screen)
	if a.top().Screen == a.watches.seen {
		a.stack = a.stack[:len(a.stack)-1]
	}
	cmd := a.open(a.deps, to)
	a.watches.seen = a.top().Screen
	return cmd
}
