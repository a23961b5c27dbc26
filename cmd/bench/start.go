//go:build unix

package main

import (
	"fmt"
	"time"
)

// startTable measures from the start of a program to its first frame, and to
// the first frame that holds the list of horses.
func (b *bench) startTable() error {
	rows := [][]string{{"window", "bare median ms", "first frame median ms", "ratio", "bare p99 ms", "first frame p99 ms", "list of horses median ms"}}
	for _, size := range sizes() {
		var floor, first, list []time.Duration
		for range b.starts {
			d, err := b.start(size, b.bare, "bare")
			if err != nil {
				return err
			}
			floor = append(floor, d[0])
			if d, err = b.start(size, b.ours, "loosebox", measured); err != nil {
				return err
			}
			first, list = append(first, d[0]), append(list, d[1])
		}
		f, o, l := spreadOf(floor), spreadOf(first), spreadOf(list)
		rows = append(rows, []string{
			fmt.Sprintf("%dx%d", size[0], size[1]), ms(f.median), ms(o.median), ratio(o.median, f.median), ms(f.p99), ms(o.p99), ms(l.median),
		})
	}
	table(fmt.Sprintf("From the start of the program, %d starts each, in turns.", b.starts), rows)
	return nil
}

// start starts a program and returns when each text was seen after that.
func (b *bench) start(size [2]int, program string, texts ...string) ([]time.Duration, error) {
	begin := time.Now() //nolint:forbidigo // before there is a window to ask
	w, err := b.open(size, program)
	if err != nil {
		return nil, err
	}
	var seen []time.Duration
	for _, text := range texts {
		if err := w.WaitFor(text, patience); err != nil {
			return nil, err
		}
		seen = append(seen, w.Last().Sub(begin))
	}
	return seen, w.leave()
}
