//go:build unix

package termtest

import (
	"fmt"
	"strings"
	"time"
)

// Screen is the window as lines of text, without trailing blanks.
func (t *Terminal) Screen() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := make([]string, t.screen.Height())
	for y := range lines {
		var b strings.Builder
		for x := 0; x < t.screen.Width(); {
			c := t.screen.CellAt(x, y)
			if c == nil || c.Content == "" {
				b.WriteByte(' ')
				x++
				continue
			}
			b.WriteString(c.Content)
			x += max(c.Width, 1)
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// Row is the first line that contains the text; empty for none.
func (t *Terminal) Row(text string) string {
	for _, line := range t.Screen() {
		if strings.Contains(line, text) {
			return line
		}
	}
	return ""
}

// Shows reports whether a line of the window contains the text now.
func (t *Terminal) Shows(text string) bool { return t.Row(text) != "" }

// WaitFor waits until a line of the window contains the text. Errors as in Until.
func (t *Terminal) WaitFor(text string, timeout time.Duration) error {
	return t.Until(fmt.Sprintf("%q", text), func(t *Terminal) bool { return t.Shows(text) }, timeout)
}

// WaitGone waits until no line of the window contains the text. Errors as in Until.
func (t *Terminal) WaitGone(text string, timeout time.Duration) error {
	return t.Until(fmt.Sprintf("the end of %q", text), func(t *Terminal) bool { return !t.Shows(text) }, timeout)
}

// Until waits until good is true of a whole frame; it looks again whenever output arrived. What names what is waited
// for. The error, after the timeout or where the program ended first, shows the window.
func (t *Terminal) Until(what string, good func(*Terminal) bool, timeout time.Duration) error {
	late := time.After(timeout)
	for {
		if t.whole() && good(t) {
			return nil
		}
		select {
		case <-t.changed:
		case <-t.ended:
			if good(t) {
				return nil
			}
			return fmt.Errorf("the program ended before %s was seen (code %d):\n%s", what, t.cmd.ProcessState.ExitCode(), t.dump())
		case <-late:
			return fmt.Errorf("%s was not seen in %s:\n%s", what, timeout, t.dump())
		}
	}
}

// Frame is when the first and the last output after a moment arrived; it waits until none came for the quiet time.
// Earlier arrivals are forgotten. An error where nothing came before the timeout, or the program ended.
func (t *Terminal) Frame(after time.Time, quiet, timeout time.Duration) (first, last time.Time, err error) {
	late := time.After(timeout)
	for {
		t.mu.Lock()
		kept := t.arrivals[:0]
		for _, at := range t.arrivals {
			if !at.Before(after) {
				kept = append(kept, at)
			}
		}
		t.arrivals = kept
		if len(kept) > 0 {
			first, last = kept[0], kept[len(kept)-1]
		}
		t.mu.Unlock()
		wait := timeout
		if !last.IsZero() {
			wait = quiet - now().Sub(last)
			if wait <= 0 {
				return first, last, nil
			}
		}
		select {
		case <-t.changed:
		case <-time.After(wait):
		case <-t.ended:
			return first, last, fmt.Errorf("the program ended:\n%s", t.dump())
		case <-late:
			return first, last, fmt.Errorf("no frame in %s:\n%s", timeout, t.dump())
		}
	}
}

// Settle waits until no output came for the quiet time, or the program ended.
func (t *Terminal) Settle(quiet time.Duration) {
	for {
		select {
		case <-t.changed:
		case <-t.ended:
			return
		case <-time.After(quiet):
			return
		}
	}
}

// Last is when the newest output arrived; zero before any did, and once Frame
// has forgotten it.
func (t *Terminal) Last() time.Time {
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := len(t.arrivals); n > 0 {
		return t.arrivals[n-1]
	}
	return time.Time{}
}

// Written is how many bytes the program has written so far.
func (t *Terminal) Written() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.bytes
}

func (t *Terminal) dump() string {
	return "+----\n" + strings.Join(t.Screen(), "\n") + "\n+----"
}
