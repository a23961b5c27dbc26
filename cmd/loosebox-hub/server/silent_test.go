package server_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// written is what is written to the terminal while something is done: the library writes
// there by itself where nobody handles its errors, and would tear the screens.
func written(t *testing.T, do func()) string {
	t.Helper()
	file, err := os.Create(filepath.Join(t.TempDir(), "terminal"))
	require.NoError(t, err)
	out, errOut := os.Stdout, os.Stderr
	os.Stdout, os.Stderr = file, file
	defer func() { os.Stdout, os.Stderr = out, errOut }()
	do()
	require.NoError(t, file.Close())
	text, err := os.ReadFile(file.Name())
	require.NoError(t, err)
	return string(text)
}

// Case: the hub stops and starts while a laptop is connected, and the laptop is taken out of the practice and disconnected.
// Errors that nats.go gets outside of a call must not be printed.
func TestNothingIsWrittenToTheTerminal(t *testing.T) {
	y, l := open(t, "ann", "bea")
	bea := l[1]
	woken := make(chan struct{}, 64)
	h, err := hub.New(y.named(), time.Now, func() {
		select {
		case woken <- struct{}{}:
		default:
		}
	})
	require.NoError(t, err)
	bea.hub = h
	bea.share()
	h.Gently = true // as in the background: the library connects again by itself
	assert.Empty(t, written(t, func() {
		y.stop()
		y.start()
		select {
		case <-woken: // it is connected again
		case <-time.After(patience):
			require.Fail(t, "the laptop did not connect again")
		}
		l[0].share()
		require.NoError(t, y.practice.End(bea.Laptop, l[0].Laptop))
		require.NoError(t, l[0].Join(y.practice))
		l[0].leave()
		l[0].share()
		// It is refused twice, and then the library gives up; or it read that it is out before it was cut off.
		require.Eventually(t, func() bool {
			_, err := h.Exchange(t.Context(), bea)
			return errors.Is(err, hub.ErrRefused) || errors.Is(err, share.ErrNotIn)
		}, patience, 50*time.Millisecond)
	}))
}
