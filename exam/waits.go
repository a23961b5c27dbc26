package exam

import (
	"fmt"
	"strings"
	"sync"
	"time"

	"loosebox/exam/notation"
)

// slipSlack is by how much the clock may be set, while a person waits, before anybody is told.
const slipSlack = time.Minute

// Waits measures what a person waits for by this run's own time, which goes on evenly however the clock on the wall is set. It
// remembers when this run first looked at a line, and what the clock said then; before that only the clock on the wall is
// known. The zero value is ready; nil remembers nothing. It is safe for several goroutines.
type Waits struct {
	// Between is how much time passed between two readings of the clock, by the run's own time and on the wall; nil is
	// BothClocks.
	Between func(from, to time.Time) (own, wall time.Duration)

	mu    sync.Mutex
	first map[savedLine]time.Time
}

// savedLine is a line of a visit by the time at which it was saved, in ns.
type savedLine struct {
	visit VisitID
	at    int64
}

// BothClocks measures a time between two readings of the clock by the monotonic clock, which stands still while a laptop
// sleeps, and by the clock on the wall.
func BothClocks(from, to time.Time) (own, wall time.Duration) {
	return to.Sub(from), to.Round(0).Sub(from.Round(0))
}

// Clocks is how much time passed between two readings of the clock, by the run's own time and on the wall.
func (w *Waits) Clocks(from, to time.Time) (own, wall time.Duration) {
	if w == nil || w.Between == nil {
		return BothClocks(from, to)
	}
	return w.Between(from, to)
}

// Passed is how long ago a line of a visit was saved.
type Passed struct {
	At, Now time.Time // when it was saved, as the record has it; and now
	// Own is at least how long ago: by the clock until this run first looked at the line, and by the run's own time since.
	Own time.Duration
	// Slip is how much further than the run's own time the clock has gone since, below zero where it was set back. Ahead is
	// how much later than the clock the line was when this run first looked. Both are 0 up to a minute.
	Slip, Ahead time.Duration
}

// Since is how long ago a line was saved that has the time at.
func (w *Waits) Since(id VisitID, at, now time.Time) Passed {
	first := now
	if w != nil {
		first = w.firstLook(savedLine{id, at.UnixNano()}, now)
	}
	own, wall := w.Clocks(first, now)
	before := first.Round(0).Sub(at)
	p := Passed{At: at, Now: now, Own: max(before, 0) + max(own, 0), Slip: wall - own, Ahead: max(-before, 0)}
	if p.Slip.Abs() <= slipSlack {
		p.Slip = 0
	}
	if p.Ahead <= slipSlack {
		p.Ahead = 0
	}
	return p
}

func (w *Waits) firstLook(line savedLine, now time.Time) time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.first == nil {
		w.first = map[savedLine]time.Time{}
	}
	if _, seen := w.first[line]; !seen {
		w.first[line] = now
	}
	return w.first[line]
}

// EarlierThan says that a line has an earlier time than one that came before it, by more than a minute: the clock was set back.
func EarlierThan(line, before time.Time) bool { return line.Before(before.Add(-slipSlack)) }

// ByNow is At as the clock of now would have shown it.
func (p Passed) ByNow() time.Time { return p.At.Add(p.Slip - p.Ahead) }

// Clock says that the clock was set since the line, or that the laptop slept, which looks the same where the clock went
// forward; empty where neither is so. What is the line: "the needle went in".
func (p Passed) Clock(what string) string {
	var said []string
	if p.Ahead > 0 {
		said = append(said, fmt.Sprintf("By the record %s at %s, but this laptop's clock said %s.", what, notation.ClockDay(p.At, p.Now), notation.ClockDay(p.At.Add(-p.Ahead), p.Now)))
	}
	by := longSpan(p.Slip.Abs().Round(time.Minute))
	switch {
	case p.Slip > 0:
		said = append(said, fmt.Sprintf("Since %s this laptop slept for %s, or its clock was set forward.", what, by))
	case p.Slip < 0:
		said = append(said, fmt.Sprintf("Since %s this laptop's clock was set back by %s.", what, by))
	}
	return strings.Join(said, " ")
}

// longSpan is a span in hours and minutes, or in days from two of them on.
func longSpan(d time.Duration) string {
	if days := int(d.Hours() / 24); days > 1 {
		return fmt.Sprintf("%d days", days)
	}
	return notation.Span(d)
}

// Watched is how a running watch stands.
type Watched struct {
	Left time.Duration // at most; 0 when it is over
	// Ends is by the clock of now; but of one that is over, after a sleep or a clock that was set forward, by that of then,
	// as the laptop may have slept since.
	Ends time.Time
	// Doubt is why the clock of this laptop is not to be trusted, in sentences; empty where nothing speaks against it.
	Doubt string
	// Asks says that a person has to look at another clock before the watch ends: nothing here knows whether it is over.
	Asks bool
}

// Watch is how a running watch of a visit stands now.
func (w *Waits) Watch(id VisitID, x Watch, now time.Time) Watched {
	p, whole := w.Since(id, x.At, now), x.Ends().Sub(x.At)
	s := Watched{Left: max(whole-p.Own, 0), Ends: p.ByNow().Add(whole), Doubt: p.Clock("the observation began")}
	if s.Left == 0 && p.Slip > 0 {
		s.Ends = s.Ends.Add(-p.Slip)
	}
	if p.Own > whole+longOpen {
		s.Doubt = fmt.Sprintf("The observation began %s, and this laptop's clock says %s.", notation.ShownAt(x.At, now), notation.ShownAt(now, now))
		s.Asks = true
	}
	s.Asks = s.Asks || s.Doubt != "" && s.Left > 0
	return s
}
