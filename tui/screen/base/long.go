package base

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/progress"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Far is how far a long reading is; its zero value has said nothing yet.
type Far struct{ Done, All int }

// longEvery is how often a screen is told how far a reading is. A reading that takes less time
// never reports.
const longEvery = 200 * time.Millisecond

// farMsg says how far a reading is to the screen that waits for it.
type farMsg struct {
	to   *Screen
	then func() tea.Cmd
}

// ReadLong is Read for what may take long and says through its context how far it is: said is called like Update while it
// runs. It is given up when the screen is left, and when it
// reads anew. A screen that takes nav.ShownMsg itself hands it on, or it never reads again.
func ReadLong[T any](of Of, read func(context.Context) (T, error), take func(T) tea.Cmd, said func(Far)) tea.Cmd {
	s := of.Base()
	if s.giveUp != nil {
		s.giveUp()
	}
	if s.hidden {
		return nil // it reads again when it is shown
	}
	var ctx context.Context
	ctx, s.giveUp = context.WithCancel(context.Background())
	answers := make(chan answerMsg, 1)
	var done, all atomic.Int64
	begin := func() {
		v, err := read(progress.With(ctx, func(_ string, d, a int) {
			done.Store(int64(d))
			all.Store(int64(a))
		}))
		if ctx.Err() != nil {
			answers <- answerMsg{}
			return
		}
		answers <- answerMsg{to: s, err: err, then: func() tea.Cmd { return take(v) }}
	}
	var wait tea.Cmd
	wait = func() tea.Msg {
		select {
		case m := <-answers:
			return m
		case <-time.After(longEvery):
			return farMsg{s, func() tea.Cmd {
				said(Far{int(done.Load()), int(all.Load())})
				return wait
			}}
		}
	}
	return func() tea.Msg {
		go begin()
		return wait()
	}
}

// barWide is the width of a bar of a reading.
const barWide = 20

// Line draws the progress as a bar of at most width columns, with the counts and nouns (a plural,
// "visits"); only text where nothing is known yet.
func (f Far) Line(t *theme.Theme, text, nouns string, width int) string {
	if f.All <= 0 {
		return layout.Cut(text+" ..", width)
	}
	full := barWide * min(f.Done, f.All) / f.All
	bar := t.Good.Render(strings.Repeat(t.Sign.Full, full)) + t.Faint.Render(strings.Repeat(t.Sign.Empty, barWide-full))
	return layout.Cut(fmt.Sprintf("%s  %s  %d of %d %s", text, bar, f.Done, f.All, nouns), width)
}
