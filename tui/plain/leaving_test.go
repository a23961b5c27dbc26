package plain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

func opened(t *testing.T) (*nav.Deps, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	begun, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Bo Lind", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"}})
	require.NoError(t, err)
	return deps, begun.ID
}

// At every question, also beside a step, quit leaves the visit open and finish goes to its end; neither is an answer.
func TestTheWordsForLeavingWorkAtEveryQuestion(t *testing.T) {
	leave := func(t *testing.T, where, question string, run func(t *testing.T, lines ...string) (string, error)) {
		t.Helper()
		t.Run(where, func(t *testing.T) {
			for _, word := range []string{"quit", "QUIT", "finish"} {
				out, err := run(t, word, "quit", "not read")
				require.ErrorIs(t, err, plain.ErrLeft)
				before, after, found := strings.Cut(out, question)
				require.True(t, found, "%s:\n%s", where, before)
				assert.NotContains(t, after, "Not saved", "%s, %s", where, word)
				assert.NotContains(t, after, "not read", "%s, %s", where, word)
				assert.Equal(t, word == "finish", strings.Contains(after, "To close, type finish"), "%s, %s:\n%s", where, word, after)
			}
		})
	}
	simulated := func(typed ...string) func(t *testing.T, lines ...string) (string, error) {
		t.Helper()
		return func(t *testing.T, lines ...string) (string, error) {
			t.Helper()
			l := rehearsal(t, "juniper", "tpr-recheck", 3, rehearse.Modes{})
			if len(typed) == 0 {
				l.text = nil // the first question of all
			} else {
				l.moments(exam.Key{Step: "approach"}, "")
			}
			l.add(typed...)
			if len(typed) > 0 {
				l.moments(exam.Key{Step: "heart.rate"}, "")
				l.add("listen 40", "taps 0 1 2 3 4 5 6 8 9 10 11 12 13")
			}
			l.add(lines...)
			out, _, err := l.run(t)
			return out, err
		}
	}
	leave(t, "what a simulated horse had been doing", "an empty line says that nobody asked", simulated())
	leave(t, "a gap of the count", "type missed", simulated("1", "to heart rate"))
	leave(t, "a moment of danger", "Type the number of what you do, or quit.", func(t *testing.T, lines ...string) (string, error) {
		t.Helper()
		l := rehearsal(t, "clover", "tpr-recheck", 7, rehearse.Modes{})
		l.add(append([]string{"to temp"}, lines...)...)
		out, _, err := l.run(t)
		return out, err
	})
	ofAHorse := func(typed ...string) func(t *testing.T, lines ...string) (string, error) {
		t.Helper()
		return func(t *testing.T, lines ...string) (string, error) {
			t.Helper()
			out, v, err := session(t, "full-exam", "Bracken", append(typed, lines...)...)
			assert.Empty(t, v.Findings)
			return out, err
		}
	}
	leave(t, "a count by the clock", "How many were counted?", ofAHorse("to heart rate", "count 15"))
	leave(t, "a measure", "Measure 1 of", ofAHorse("to body weight", "measure"))
	leave(t, "a weight to take", "Type take to save it", ofAHorse("to body weight", "measure", "76in", "", "67in"))
	leave(t, "an unlikely number", "is unlikely", ofAHorse("to temp", "42.5"))
	leave(t, "a step to go to", "Type to and another step", ofAHorse("to nowhere"))
	leave(t, "medicine", "Medicine in the last 24 hours?", func(t *testing.T, lines ...string) (string, error) {
		t.Helper()
		deps, id := opened(t)
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader(strings.Join(lines, "\n")), Out: &b, Person: "Ann Bell", Terminal: true}
		err := s.Exam(id)
		return b.String(), err
	})
}

// Nobody is called quit or finish where it is asked who goes on.
func TestTheWordsForLeavingAreNobodysName(t *testing.T) {
	for _, lines := range []string{"quit\n", "finish\nquit\n"} {
		deps, id := opened(t)
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader(lines), Out: &b, Before: "Bo Lind"}
		require.ErrorIs(t, s.Exam(id), plain.ErrLeft)
		assert.Empty(t, s.Person)
		assert.Equal(t, strings.HasPrefix(lines, "finish"), strings.Contains(b.String(), "First say who is working now"), b.String())
	}
}
