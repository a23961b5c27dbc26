package main

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	if role := os.Getenv(roleName); role != "" {
		play(role)
		return
	}
	os.Exit(m.Run())
}

// A few laptops for half a minute; go run ./soak is the long one.
func TestSoak(t *testing.T) {
	if os.Getenv("LOOSEBOX_LONG") == "" {
		t.Skip("LOOSEBOX_LONG=1 takes half a minute for it")
	}
	done, err := soak(t.Context(), t.TempDir(), options{laptops: 5, twins: 2, length: 30 * time.Second, seed: 1, now: time.Now})
	require.NoError(t, err)
	t.Log(done)
	assert.Positive(t, done.hubKills+done.putBack)
	assert.Positive(t, done.laptopKills)
	assert.Positive(t, done.cuts)
	assert.Positive(t, done.visits)
}
