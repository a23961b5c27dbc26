package plain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/procedure/script"
	"loosebox/tui/plain"
)

// Digits, as a reader types them, are nobody's name: no entry carries them, and nobody consents or holds the horse.
func TestDigitsAreNobodysName(t *testing.T) {
	for name, lines := range map[string]string{"who works now": "", "consent": "1", "who was there": "2"} {
		deps, id := opened(t)
		before, err := deps.Store.Visit(id)
		require.NoError(t, err)
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader(lines + "\n" + strings.Repeat("1\n", 60)), Out: &b}
		if lines == "" {
			s.Before = "Bo Lind"
			err = s.Exam(id)
		} else {
			err = s.Procedure(script.Record, id, 0)
		}
		require.ErrorIs(t, err, plain.ErrLeft, name)
		after, err := deps.Store.Visit(id)
		require.NoError(t, err)
		assert.Equal(t, before.Entries, after.Entries, "%s: %s", name, b.String())
	}
}
