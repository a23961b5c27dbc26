package main

import (
	"bytes"
	"regexp"
	"sync"
	"time"
	"unicode/utf8"
)

// sieve takes out of what is read from a terminal what the terminal itself sends:
// answers to questions about colours, cursor and abilities (ECMA-48; the OSC and DSR
// forms are those of xterm's control sequences). Such an answer may come late, after
// another program asked, cut in pieces or without its beginning. It must never act
// as keys.
type sieve struct {
	held   []byte    // a beginning whose end is not here yet
	pasted bool      // inside a bracketed paste, which is the person's
	now    time.Time // of this input
	until  time.Time // the rest of a cut answer is still taken out
	esc    time.Time // when an input ended with an esc, which was handed on as a key
	noEsc  bool      // it was none: its sequence follows. Whoever reads this takes it back.
}

const (
	esc      = 0x1b
	bell     = 0x07
	longest  = 4096                   // bytes of an answer
	restTime = 500 * time.Millisecond // within which the rest of a cut answer comes
	joinTime = 50 * time.Millisecond  // within which what follows esc belongs to it: no hand is so fast
)

// headless are answers whose beginning another program has read. Nobody types so
// much at once.
var headless = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\]?(1[0-9]|4;\d{1,3});rgba?:[0-9a-fA-F/]*(\x07|\x1b\\|\x1b$|$)|\[?\??\d{1,4};\d{1,4}R|\[\?[\d;]*c)`)
})

// endOfAnswer is how the rest of a cut answer ends: a bell, ESC \\ or what is left of it.
var endOfAnswer = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([^\x00-\x1f]{0,64}(\x07|\x1b\\)|\\$)`) })

// pass returns what of the input is the person's. It says with waiting that the
// input ends in the middle of something that no key begins: if no more follows at once,
// end has the rest.
func (s *sieve) pass(in []byte, now time.Time) (keys []byte, waiting bool) {
	b := append(s.held, in...) //nolint:gocritic // held is given up here
	s.held, s.now = nil, now
	if len(in) > 0 && !s.esc.IsZero() {
		if now.Sub(s.esc) <= joinTime && bytes.IndexByte([]byte("[]PO"), in[0]) >= 0 {
			b, s.noEsc = append([]byte{esc}, in...), true
		}
		s.esc = time.Time{}
	}
	if now.Before(s.until) {
		b = s.afterCut(b)
	}
	for len(b) > 0 {
		n, drop, whole := s.next(b)
		if whole && n == 1 && len(b) == 1 && b[0] == esc {
			s.esc = now
		}
		if !whole {
			s.held = bytes.Clone(b)
			return keys, true
		}
		if !drop {
			keys = append(keys, b[:n]...)
		}
		b = b[n:]
	}
	return keys, false
}

// afterCut takes the rest of a cut answer out. What comes at once and is several
// signs, or ends as answers end, is no key that somebody pressed.
func (s *sieve) afterCut(b []byte) []byte {
	if m := endOfAnswer().FindIndex(b); m != nil {
		s.until = time.Time{}
		return b[m[1]:]
	}
	if len(b) > 1 && b[0] != esc && b[0] < utf8.RuneSelf {
		return nil
	}
	return b
}

// endsInEsc says that the input ended with an esc, which was handed on as a key.
func (s *sieve) endsInEsc() bool { return !s.esc.IsZero() }

// takeBack takes that esc from the keys again: it belongs to what is read next.
func (s *sieve) takeBack(keys []byte) []byte {
	s.held, s.esc = []byte{esc}, time.Time{}
	return keys[:len(keys)-1]
}

// end gives up waiting: half an answer is dropped, anything else is a key.
func (s *sieve) end(now time.Time) []byte {
	held := s.held
	s.held = nil
	if len(held) > 2 && held[0] == esc && (held[1] == ']' || held[1] == 'P') {
		s.until = now.Add(restTime)
		return nil
	}
	return held
}

// next measures the first thing in the input: how many bytes, whether it is an
// answer, and whether all of it is here.
func (s *sieve) next(b []byte) (n int, drop, whole bool) {
	if s.pasted {
		if i := bytes.Index(b, []byte("\x1b[201~")); i >= 0 {
			s.pasted = false
			return i + 6, false, true
		}
		return len(b), false, true
	}
	if b[0] != esc {
		if m := headless().Find(b); m != nil {
			if len(m) == len(b) {
				s.until = s.now.Add(restTime) // its end may be on the way
			}
			return len(m), true, true
		}
		if !utf8.FullRune(b) {
			return 0, false, false
		}
		_, n := utf8.DecodeRune(b)
		return n, false, true
	}
	switch {
	case len(b) == 1: // the key, or an answer that is cut just here: the next input tells
		return 1, false, true
	case b[1] == '[':
		return s.control(b)
	case b[1] == ']' || b[1] == 'P':
		return stringAnswer(b)
	default:
		return 1, false, true
	}
}

// control measures a control sequence: parameters, then one final letter.
func (s *sieve) control(b []byte) (n int, drop, whole bool) {
	i := 2
	for i < len(b) && b[i] >= 0x20 && b[i] <= 0x3f {
		i++
	}
	switch {
	case i > 64:
		return 1, false, true // no sequence that anybody sends
	case i == len(b):
		return 0, false, false
	}
	what, final := b[2:i], b[i]
	if string(what) == "200" && final == '~' {
		s.pasted = true
	}
	private := len(what) > 0 && bytes.ContainsRune([]byte("?>="), rune(what[0]))
	drop = final == 'R' && bytes.ContainsRune(what, ';') || final == 'c' && private || final == 'n' || final == 'y' || final == 't' || final == 'u' && private
	return i + 1, drop, true
}

// stringAnswer measures an answer of the form ESC ] or ESC P, which ends with a bell
// or ESC \. Answers begin with a digit or a sign; what does not is a key with alt.
func stringAnswer(b []byte) (n int, drop, whole bool) {
	if len(b) == 2 {
		return 0, false, false
	}
	if !bytes.ContainsRune([]byte("0123456789>!+$|"), rune(b[2])) {
		return 1, false, true
	}
	for i := 2; i < len(b) && i < longest; i++ {
		switch {
		case b[i] == bell:
			return i + 1, true, true
		case b[i] == esc && i+1 == len(b):
			return 0, false, false
		case b[i] == esc && b[i+1] == '\\':
			return i + 2, true, true
		case b[i] < 0x20:
			return i, true, true // cut off, and something else begins
		}
	}
	return len(b), true, len(b) >= longest
}
