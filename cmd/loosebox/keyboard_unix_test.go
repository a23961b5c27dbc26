//go:build unix

package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A held arrow fills the buffer of a program that is busy. Where the buffer ends between esc and the rest of the sequence, no
// esc is read: it would go back a screen.
func TestAHeldArrowIsNeverCutIntoAnEsc(t *testing.T) {
	for _, arrow := range []string{"\x1b[A", "\x1b[6~", "\x1bOB"} {
		for lead := range 4 { // the cut falls on every byte of a sequence
			in, out, err := os.Pipe()
			require.NoError(t, err)
			now := time.Now()
			k := &keyboard{File: in, gone: func() {}, noEsc: func() {}, now: func() time.Time {
				now = now.Add(time.Second) // each read comes too late to take an esc back
				return now
			}}
			want := strings.Repeat("x", lead) + strings.Repeat(arrow, 300)
			_, err = out.WriteString(want)
			require.NoError(t, err)
			var got bytes.Buffer
			buf := make([]byte, 256)
			for got.Len() < len(want) {
				n, err := k.Read(buf)
				require.NoError(t, err)
				got.Write(buf[:n])
				assert.NotEqual(t, byte(esc), buf[n-1], "after %d bytes of %q", got.Len(), arrow)
			}
			assert.Equal(t, want, got.String())

			_, err = out.Write([]byte{esc}) // and the key itself is read at once
			require.NoError(t, err)
			n, err := k.Read(buf)
			require.NoError(t, err)
			assert.Equal(t, []byte{esc}, buf[:n])
			require.NoError(t, in.Close())
			require.NoError(t, out.Close())
		}
	}
}
