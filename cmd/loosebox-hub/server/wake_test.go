package server_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/share/hub"
)

// A laptop that is connected hears when another sent something, and not of its own lines.
func TestALaptopHearsThatSomethingIsNew(t *testing.T) {
	y, l := open(t, "ann", "bea")
	heard := make(chan struct{}, 16)
	h, err := hub.New(y.named(), time.Now, func() { heard <- struct{}{} })
	require.NoError(t, err)
	l[1].hub = h
	l[1].examine(2)
	l[1].share()
	select {
	case <-heard:
		assert.Fail(t, "of itself")
	case <-time.After(300 * time.Millisecond):
	}
	l[0].examine(3)
	l[0].share()
	select {
	case <-heard:
	case <-time.After(patience):
		require.Fail(t, "it heard nothing")
	}
	l[1].share()
	l[0].share()
	same(l...)
}
