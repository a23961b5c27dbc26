//go:build unix

package main

import (
	"math"
	"time"

	"loosebox/cmd/termtest"
)

// patience is how long a program may take to show what is waited for. A frame is whole once no output came for quiet, which
// is longer than a tick of the renderer.
const (
	patience = 20 * time.Second
	quiet    = 25 * time.Millisecond
)

// window is a running program in a pseudo-terminal.
type window struct {
	*termtest.Terminal
	last   time.Time // when the newest frame came
	frames int
}

// open starts a program in a window of the given size.
func (b *bench) open(size [2]int, program string, args ...string) (*window, error) {
	term, err := termtest.Start(termtest.Options{
		Program: program, Args: args, W: size[0], H: size[1], Env: termtest.Env(b.dir, b.data),
	})
	if err != nil {
		return nil, err
	}
	return &window{Terminal: term}, nil
}

// follow presses keys and waits after each for the text that it must bring.
func (w *window) follow(steps []step) error {
	for _, s := range steps {
		if err := w.Send(s.key); err != nil {
			return err
		}
		if err := w.WaitFor(s.seen, patience); err != nil {
			return err
		}
		w.Settle(2 * quiet)
	}
	return nil
}

// step is a key and what is seen after it.
type step struct{ key, seen string }

// tick is the time between two frames of the renderer: a key waits up to one.
const tick = time.Second / 60

// frame presses a key and returns how long it took until the whole frame that follows had arrived. Keys are spread evenly
// over the renderer's tick, by multiples of the golden section, in the same order for every program: random times would
// add noise to the median.
func (w *window) frame(key string) (time.Duration, error) {
	w.frames++
	_, part := math.Modf(float64(w.frames) * (math.Sqrt(5) - 1) / 2)
	if !w.last.IsZero() {
		<-time.After(time.Until(w.last.Add(3*tick + time.Duration(part*float64(tick)))))
	}
	at, err := w.Write(key)
	if err != nil {
		return 0, err
	}
	_, w.last, err = w.Frame(at, quiet, patience)
	return w.last.Sub(at), err
}

// leave ends the program.
func (w *window) leave() error {
	if err := w.Send("ctrl+c"); err != nil {
		return err
	}
	_, err := w.Wait(patience)
	return err
}
