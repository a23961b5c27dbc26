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

// Far is the progress of a long read: Done of All. Its zero value means that nothing was reported yet.
type Far struct{ Done, All int }

// longEvery is how often a screen gets the progress of a read. A shorter read never reports.
const longEvery = 200 * time.Millisecond

// farMsg carries the progress of a read to its screen.
type farMsg struct {
	to   *Screen
	then func() tea.Cmd
}

// ReadLong is Read for a long read that reports its progress through its context (exam/progress): said is called, on the
// event loop, while it runs. It is cancelled when the screen is covered or closed, and when it reads again. A screen that
// handles nav.ShownMsg itself must pass it on, or it never reads again.
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

// barWide is the width of the progress bar in columns.
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
