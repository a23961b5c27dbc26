package main

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	if job := os.Getenv(jobVariable); job != "" {
		os.Exit(runJob(job))
	}
	if os.Getenv("LOOSEBOX_LONG") == "" {
		builtWork = "16" // a quarter of a second a passphrase, long enough to be broken off
	}
	code := 1
	withBuilt(func() { code = m.Run() })
	os.Exit(code)
}

// few is how often each fault is tried in a test run: at a desk less often than in .ci/run, which sets LOOSEBOX_LONG=1; the
// command tries more.
func few() rounds {
	if testing.Short() || os.Getenv("LOOSEBOX_LONG") == "" {
		return rounds{kills: 20, flips: 100, cuts: 60, others: 2, keys: 500, runs: 1, rows: 2_000, seed: 2026}
	}
	return rounds{kills: 200, flips: 1000, cuts: 200, others: 4, keys: 5000, runs: 1, rows: mostRows, seed: 2026}
}

func TestFaultsLoseNothing(t *testing.T) {
	for _, f := range trials() {
		t.Run(strings.ReplaceAll(f.name, " ", "-"), func(t *testing.T) {
			t.Parallel()
			o, err := attempt(f, few())
			require.NoError(t, err)
			t.Logf("%d times: %s; lost: %s", o.times, o.seen, o.lost)
			assert.NotEmpty(t, o.seen)
			assert.NotEmpty(t, o.lost)
		})
	}
}

// A trial that breaks something returns its outcome and the error, and the table has a row for each trial.
func TestTheTableSaysWhatBroke(t *testing.T) {
	o, err := attempt(trial{"x", func(string, rounds) (outcome, error) { return outcome{times: 3}, broken("a value") }}, few())
	require.ErrorIs(t, err, errBroken)
	assert.Equal(t, 3, o.times)
	var b bytes.Buffer
	require.NoError(t, table(&b, rounds{others: 1, seed: 1}, "newer"))
	assert.Contains(t, b.String(), "| file of a newer version | 1 | refused")
}

// A lost line and a changed value are detected.
func TestALossIsSeen(t *testing.T) {
	dir := t.TempDir()
	all := accepted{}
	n, err := killOnce(dir, 7, 30, 0, all)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, n, 30)
	_, err = survived(dir, all)
	require.NoError(t, err)
	for visit := range all {
		all[visit][len(all[visit])+500] = "0"
		break
	}
	_, err = survived(dir, all)
	require.ErrorIs(t, err, errBroken)
	assert.True(t, errors.Is(err, errBroken))
	assert.True(t, hasPanic("panic: x"))

	place := t.TempDir()
	_, err = makeSpecimen(place)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(place+"/"+specimenDigest, []byte("another"), 0o600))
	_, err = askEach(place, []string{"flip 0 0", "cut 100", "cut 99999999"})
	require.Error(t, err)
	data, err := os.ReadFile(place + "/" + specimenFile)
	require.NoError(t, err)
	answer, err := meet(place+"/x", data, "another")
	require.NoError(t, err)
	assert.Equal(t, answerChanged, answer)
}
