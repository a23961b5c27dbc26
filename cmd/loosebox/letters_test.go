package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestATerminalOfLettersGetsASCIIOfTheSameWidth(t *testing.T) {
	f, err := os.CreateTemp(t.TempDir(), "")
	require.NoError(t, err)
	l := &letters{File: f}
	for _, piece := range []string{"kg/m² · Zoë ± 0.3 \xe6", "\x97\xa5 ≥ 38.5 °C…\x1b[1m"} {
		n, err := l.Write([]byte(piece))
		require.NoError(t, err)
		assert.Equal(t, len(piece), n)
	}
	got, err := os.ReadFile(f.Name())
	require.NoError(t, err)
	assert.Equal(t, "kg/m2 - Zoe ~ 0.3 ?? > 38.5  C.\x1b[1m", string(got))
}
