package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"

	"loosebox/exam/progress"
)

// bar shows on a terminal how far a long piece of work is and how long it takes yet; elsewhere it is silent.
type bar struct {
	e     *env
	what  string
	all   int
	draw  bool
	began time.Time
	drawn time.Time // when it was drawn last
	shown bool      // something of it stands in the terminal
	gc    int       // how often garbage was collected before, in percent of growth
}

// Long work collects garbage less often, as long as the heap stays small: an eighth of the time of a check.
const (
	gcPercent = 400
	gcHeap    = 128 << 20 // bytes; above them it is collected as often as need be
)

// Work that is done sooner than waitBar shows no bar; it is drawn anew every barEvery.
const (
	waitBar  = 400 * time.Millisecond
	barEvery = 100 * time.Millisecond
)

func (e *env) bar(what string, all int) *bar {
	b := &bar{e: e, what: what, all: all, began: e.now(), gc: debug.SetGCPercent(gcPercent)}
	debug.SetMemoryLimit(gcHeap)
	if f, ok := e.errOut.(*os.File); ok && term.IsTerminal(f.Fd()) && e.lookup("TERM") != "dumb" {
		b.draw = true
	}
	return b
}

// progress is a context whose work draws a bar, and what takes the bar away again.
func (e *env) progress(ctx context.Context, verb string) (context.Context, func()) {
	if ctx == nil {
		ctx = context.Background()
	}
	b := e.bar(verb, 0)
	return progress.With(ctx, func(what string, done, all int) {
		if text := verb + " " + what; text != b.what { // another part of the work
			b.what, b.began = text, e.now()
		}
		b.all = all
		b.at(done)
	}), b.end
}

// barWidth is in columns, without its ends.
const barWidth = 30

// at shows that so many are done, and the time that the rest takes at the same pace.
func (b *bar) at(done int) {
	now := b.e.now()
	if !b.draw || b.all <= 0 || now.Sub(b.drawn) < barEvery || now.Sub(b.began) < waitBar && !b.shown {
		return
	}
	b.drawn, b.shown = now, true
	_, _ = fmt.Fprint(b.e.errOut, "\r"+b.line(done, now)) // nobody reads it: no matter
}

func (b *bar) line(done int, now time.Time) string {
	done = min(done, b.all)
	full := barWidth * done / b.all
	text := fmt.Sprintf("%s [%s%s] %d %%", b.what, strings.Repeat("#", full), strings.Repeat(".", barWidth-full), 100*done/b.all)
	if spent := now.Sub(b.began); done > 0 && spent >= time.Second {
		left := time.Duration(float64(spent) / float64(done) * float64(b.all-done)).Round(time.Second)
		text += ", " + left.String() + " left"
	}
	return fmt.Sprintf("%-78.78s", text)
}

// end clears the line. It may be called again.
func (b *bar) end() {
	debug.SetGCPercent(b.gc)
	debug.SetMemoryLimit(math.MaxInt64)
	if b.shown {
		_, _ = fmt.Fprint(b.e.errOut, "\r"+strings.Repeat(" ", 78)+"\r") // nobody reads it: no matter
		b.shown = false
	}
}
