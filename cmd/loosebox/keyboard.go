package main

import (
	"errors"
	"io"
	"os"
	"time"
)

// keyboard is the terminal that the screens read keys from: without what the
// terminal itself sends. It says when the terminal has vanished, as nobody can
// press a key any more.
type keyboard struct {
	*os.File
	gone  func()
	noEsc func() // the esc that was read last was no key
	now   func() time.Time
	sieve sieve
}

// inMiddle is how long the rest of something is waited for that no key begins.
const inMiddle = 50 * time.Millisecond

// room is kept for what was held back before.
const room = 72

func (k *keyboard) Read(p []byte) (int, error) {
	if len(p) < 2*room {
		return k.File.Read(p) // too little to look at; the screens ask for more
	}
	var out []byte
	for {
		n, err := k.File.Read(p[:len(p)-room-len(out)])
		if n == 0 && (errors.Is(err, io.EOF) || vanished(err)) {
			k.gone()
		}
		keys, waiting := k.sieve.pass(p[:n], k.now())
		if k.sieve.noEsc {
			k.sieve.noEsc = false
			k.noEsc()
		}
		if k.sieve.endsInEsc() && err == nil && more(k.Fd(), 0) {
			// Held arrows fill the buffer: it ended between an esc and the rest of its sequence, which is here
			// already. A busy machine might read that only after the esc had acted as a key.
			keys = k.sieve.takeBack(keys)
			if len(out)+len(keys) == 0 {
				continue
			}
			return copy(p, append(out, keys...)), nil
		}
		out = append(out, keys...)
		if err != nil || !waiting {
			return copy(p, out), err
		}
		if len(out) > len(p)/2 || !more(k.Fd(), inMiddle) {
			return copy(p, append(out, k.sieve.end(k.now())...)), nil
		}
	}
}
