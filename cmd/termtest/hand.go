//go:build unix

package termtest

import (
	"errors"
	"fmt"
	"time"
	"unicode/utf8"

	"golang.org/x/sys/unix"
)

// patience is how long a program may take to read a key that was sent.
const patience = 10 * time.Second

// Send presses keys by name ("enter", "ctrl+c", "a") one after the other, each when the program has read the one before
// and no faster than a hand: no two become one key, and none looks held down. An error: an unknown key, a closed
// terminal, or a program that has not read the key in 10 s.
func (t *Terminal) Send(keys ...string) error {
	for _, key := range keys {
		if key == t.hand.key && !repeats(key) {
			t.hand.wait(again)
		}
		if err := t.send(key); err != nil {
			return err
		}
	}
	return nil
}

// Type types text letter by letter, no faster than a hand. Errors as in Send.
func (t *Terminal) Type(text string) error {
	for _, r := range text {
		if err := t.send(string(r)); err != nil {
			return err
		}
	}
	return nil
}

func (t *Terminal) send(key string) error {
	text, err := bytesOf(key)
	if err != nil {
		return err
	}
	typed := utf8.RuneCountInString(text) == 1 && text >= " "
	switch {
	case t.hand.key == "esc":
		t.hand.wait(afterEsc)
	case typed:
		t.hand.wait(letter)
	case t.hand.letters >= reader:
		t.hand.wait(afterText)
	}
	t.hand.key, t.hand.letters = key, t.hand.letters+1
	if !typed {
		t.hand.letters = 0
	}
	if _, err := t.Write(text); err != nil {
		return err
	}
	err = t.taken(between)
	t.hand.at = now() // counted from when it was read: a slow program gets keys no closer together
	if err != nil {
		return fmt.Errorf("key %s: %w", key, err)
	}
	return nil
}

// hand is the key that was pressed last, when it was read, and how many letters were typed up to it.
type hand struct {
	key     string
	at      time.Time
	letters int
}

// wait waits until least has passed since the last key.
func (h hand) wait(least time.Duration) {
	if !h.at.IsZero() {
		<-time.After(least - now().Sub(h.at))
	}
}

// repeats reports whether the program lets the key repeat while it is held.
func repeats(key string) bool {
	switch key {
	case "space", " ", "up", "down", "left", "right", "home", "end", "pgup", "pgdown", "backspace":
		return true
	}
	return false
}

// The least times between two keys. The system passes bytes to the program a little later and does not tell when, so a
// key right after esc could be read together with it as one key. Faster letters would count as a reader of chips, and
// the same key sooner, read late, as a held one. So many letters that a busy machine hands on at once are taken for a
// reader's, and enter soon behind them for the end of its line.
const (
	between   = time.Millisecond
	afterEsc  = 300 * time.Millisecond
	letter    = 70 * time.Millisecond
	again     = 450 * time.Millisecond
	reader    = 6
	afterText = 500 * time.Millisecond
)

// Taken waits until the program has read everything that was written; an error after 10 s. Nil where it ended.
func (t *Terminal) Taken() error { return t.taken(0) }

// taken waits for least, then until the program has read everything that was sent. The system has no event for
// that, so it polls.
func (t *Terminal) taken(least time.Duration) error {
	late, soon := time.After(patience), time.After(least)
	select {
	case <-soon:
	case <-t.ended:
		return nil
	}
	for {
		select {
		case <-t.ended:
			return nil
		case <-late:
			return errors.New("the program does not read what is typed")
		case <-time.After(200 * time.Microsecond):
		}
		n, err := t.pending()
		if err != nil || n == 0 {
			return nil //nolint:nilerr // closed: the program ended
		}
	}
}

func (t *Terminal) pending() (int, error) {
	raw, err := t.slave.SyscallConn()
	if err != nil {
		return 0, err
	}
	var n int
	var asked error
	if err := raw.Control(func(fd uintptr) { n, asked = unix.IoctlGetInt(int(fd), inputWaiting) }); err != nil {
		return 0, err
	}
	return n, asked
}
