//go:build unix

package main

import (
	"fmt"
	"time"
)

// idleTable measures the time from the start of the program to a complete home screen with today's round, and the memory it
// has when it is idle, without the mapped file.
func (b *bench) idleTable() error {
	size := sizes()[0]
	bare, err := b.open(size, b.bare)
	if err != nil {
		return err
	}
	bare.Settle(time.Second)
	floor := ownMemory(bare.PID())
	if err := bare.leave(); err != nil {
		return err
	}
	const times = 5
	var complete []time.Duration
	var most int64
	for range times {
		begin := time.Now() //nolint:forbidigo // before there is a window to ask
		w, err := b.open(size, b.ours)
		if err != nil {
			return err
		}
		for _, text := range []string{measured, "o shows all"} {
			if err := w.WaitFor(text, 10*patience); err != nil {
				return err
			}
		}
		complete = append(complete, w.Last().Sub(begin))
		w.Settle(time.Second)
		most = max(most, ownMemory(w.PID()))
		if err := w.leave(); err != nil {
			return err
		}
	}
	c := spreadOf(complete)
	table(fmt.Sprintf("The first screen with today's round, %d starts, and the program at rest then.", times), [][]string{
		{"complete home screen median ms", "slowest ms", "target", "own memory at most", "of the bare program", "target"},
		{ms(c.median), ms(c.p99), "1 s at 100,000 visits", fmt.Sprintf("%.1f MB", float64(most)/(1<<20)), fmt.Sprintf("%.1f MB", float64(floor)/(1<<20)), "40 MB more at 1,000,000 visits"},
	})
	return nil
}
