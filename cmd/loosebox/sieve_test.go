package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func answers() []string {
	return []string{
		"\x1b]11;rgb:0000/0000/0000\x1b\\", "\x1b]11;rgb:ffff/ffff/ffff\x07", "\x1b]10;rgb:ff/ff/ff\x07", "\x1b]4;1;rgb:cdcd/0000/0000\x1b\\",
		"\x1b[24;80R", "\x1b[?62;22c", "\x1b[>41;354;0c", "\x1b[0n", "\x1b[?2026;2$y", "\x1b[?1u", "\x1bP>|xterm(354)\x1b\\", "\x1bP1+r544e=78\x1b\\",
	}
}

// feed hands the pieces over, each with the silence behind it in which the reader
// gives up waiting, and returns what is left as keys.
func feed(s *sieve, pause time.Duration, pieces ...string) string {
	now, out := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC), ""
	for _, p := range pieces {
		keys, waiting := s.pass([]byte(p), now)
		if s.noEsc { // the keyboard of the screens drops it
			s.noEsc, out = false, strings.TrimSuffix(out, "\x1b")
		}
		out += string(keys)
		if waiting && pause > 0 {
			out += string(s.end(now))
		}
		now = now.Add(pause)
	}
	keys, _ := s.pass(nil, now)
	return out + string(keys) + string(s.end(now))
}

// An answer that comes whole, or cut at any place while the rest follows at once,
// leaves nothing; keys before and behind it stay.
func TestAnswersOfATerminalAreNoKeys(t *testing.T) {
	for _, a := range answers() {
		assert.Empty(t, feed(&sieve{}, 0, a), "%q", a)
		assert.Equal(t, "jk", feed(&sieve{}, 0, "j"+a+"k"), "%q", a)
		assert.Equal(t, "jé", feed(&sieve{}, 0, "j"+a+a+"é"), "%q", a)
		for cut := 1; cut < len(a); cut++ {
			assert.Equal(t, "jk", feed(&sieve{}, 0, "j"+a[:cut], a[cut:]+"k"), "%q cut at %d", a, cut)
		}
		assert.Equal(t, "jk", feed(&sieve{}, 0, strings.Split("j"+a+"k", "")...), "%q byte by byte", a)
	}
}

// The question was another program's, and that program read the beginning; or the
// rest of an answer comes late.
func TestWhatIsLeftOfAnAnswerIsNoKey(t *testing.T) {
	for _, text := range []string{"11;rgb:0000/0000/0000\x1b\\", "]11;rgb:0000/0000/0000\x07", "11;rgb:0000/0000/0000", "[24;80R", "[?62;22c"} {
		assert.Empty(t, feed(&sieve{}, 0, text), "%q", text)
	}
	colour := "\x1b]11;rgb:12ab/34cd/56ef\x1b\\"
	for cut := 3; cut < len(colour); cut++ {
		assert.Empty(t, feed(&sieve{}, 100*time.Millisecond, colour[:cut], colour[cut:]), "cut at %d", cut)
	}
	for _, keys := range []string{"\x1b[A", "\x1b[1;2A", "\x1bOP", "\x1b[Z"} {
		assert.Equal(t, keys, feed(&sieve{}, 0, strings.Split(keys, "")...), "a key that is cut is one key: %q", keys)
	}
	assert.Equal(t, "\x1bj", feed(&sieve{}, 0, "\x1b", "j"))
	assert.Equal(t, "\x1b[", feed(&sieve{}, 100*time.Millisecond, "\x1b", "["), "a hand")
	assert.Equal(t, "a", feed(&sieve{}, time.Second, colour[:9], "a"), "later it is a key again")
	assert.Equal(t, "j", feed(&sieve{}, 100*time.Millisecond, colour[:9], "j"), "and so is what no colour holds")
}

// What a person does is never taken out.
func TestKeysPassTheSieve(t *testing.T) {
	for _, keys := range []string{
		"j", "\r", " ", "\x1b", "\x1b[A", "\x1b[1;2A", "\x1b[5~", "\x1b[Z", "\x1bOP", "\x1b[[A", "é", "日本", "\x03", "\x7f", "11", "101.2F", "14:05", "10;", "\x1b]x",
		"985141000123456\r", "01095060001343521727022810A1\x1d21XYZ9\r", "\x1b[200~11;rgb:0000/0000/0000\x1b[201~", "\x1b[200~a\nb\x1b[201~x",
	} {
		assert.Equal(t, keys, feed(&sieve{}, 0, keys), "%q", keys)
		assert.Equal(t, keys+"j", feed(&sieve{}, 30*time.Millisecond, keys, "j"), "%q", keys)
	}
}

func FuzzSieve(f *testing.F) {
	for _, a := range answers() {
		f.Add([]byte(a), 3)
	}
	f.Fuzz(func(t *testing.T, in []byte, cut int) {
		cut = min(max(cut, 0), len(in))
		s, now := &sieve{}, time.Time{}
		n := 0
		for _, p := range [][]byte{in[:cut], in[cut:]} {
			keys, _ := s.pass(p, now)
			n += len(keys)
		}
		n += len(s.end(now))
		assert.LessOrEqual(t, n, len(in), "nothing is made up")
	})
}
