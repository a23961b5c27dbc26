//go:build unix

package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/storage"
)

// tapEvery is the time between two taps, longer than what counts as a held key.
const tapEvery = 300 * time.Millisecond

// stampTable taps the heart of an exam at known times, accepts the count, and compares the stored times with those at
// which the spaces were written.
func (b *bench) stampTable() error {
	rows := [][]string{{"window", "taps", "median ms", "p99 ms", "largest ms"}}
	for _, size := range sizes() {
		errs, err := b.stamps(size)
		if err != nil {
			return err
		}
		s := spreadOf(errs)
		rows = append(rows, []string{fmt.Sprintf("%dx%d", size[0], size[1]), fmt.Sprint(s.n), ms(s.median), ms(s.p99), ms(slices.Max(errs))})
	}
	table("Error of the press stamps in the stored count against the write into the pseudo-terminal (distance from the median lag).", rows)
	return nil
}

func (b *bench) stamps(size [2]int) ([]time.Duration, error) {
	w, err := b.open(size, b.ours, "exam", measured)
	if err != nil {
		return nil, err
	}
	if err := w.WaitFor("x not done", patience); err != nil {
		return nil, err
	}
	for range 60 { // past the steps before the heart
		if w.Shows("│ Heart rate") {
			break
		}
		before := w.Screen()
		if err := w.Send("tab"); err != nil {
			return nil, err
		}
		moved := func(*termtest.Terminal) bool { return !slices.Equal(w.Screen(), before) }
		if err := w.Until("the next step", moved, patience); err != nil {
			return nil, err
		}
		w.Settle(2 * quiet)
	}
	if !w.Shows("│ Heart rate") {
		return nil, errors.New("the heart rate is not asked")
	}
	written, err := w.tap(b.taps)
	if err != nil {
		return nil, err
	}
	for range 4 { // a rate that is odd or uneven is asked about
		if err := w.Send("enter"); err != nil {
			return nil, err
		}
		w.Settle(4 * quiet)
		if err := w.WaitGone("storing ..", patience); err != nil {
			return nil, err
		}
		w.Settle(4 * quiet)
		if !w.Shows("│ Heart rate") {
			break
		}
	}
	if w.Shows("│ Heart rate") {
		return nil, fmt.Errorf("the count was not accepted:\n%s", strings.Join(w.Screen(), "\n"))
	}
	if err := w.leave(); err != nil {
		return nil, err
	}
	stored, err := b.stored()
	if err != nil {
		return nil, err
	}
	return strayed(written, stored)
}

// tap writes spaces with the same time between them and returns when each was
// written, in seconds after the first.
func (w *window) tap(n int) ([]float64, error) {
	written := make([]float64, n)
	var first time.Time
	for i := range n {
		if i > 0 {
			<-time.After(time.Until(first.Add(time.Duration(i) * tapEvery)))
		}
		at, err := w.Write(" ")
		if err != nil {
			return nil, err
		}
		if i == 0 {
			first = at
		}
		written[i] = at.Sub(first).Seconds()
	}
	w.Settle(4 * quiet)
	return written, nil
}

// stored are the press times of the heart in the newest visit.
func (b *bench) stored() ([]float64, error) {
	r, err := storage.Open(b.data, storage.Options{ReadOnly: true})
	if err != nil {
		return nil, err
	}
	defer r.Close() //nolint:errcheck // read only
	recent, err := r.Recent(1)
	if err != nil {
		return nil, err
	}
	f, ok := recent[0].Finding(exam.Key{Step: "heart.rate"})
	if !ok || f.Value.Count == nil {
		return nil, errors.New("the count was not stored")
	}
	return f.Value.Count.TapsS, nil
}

// strayed is how far each stored time is from where it should be, less the median delay: a constant delay changes no rate.
func strayed(written, stored []float64) ([]time.Duration, error) {
	if len(written) != len(stored) {
		return nil, fmt.Errorf("%d taps were written, %d are stored", len(written), len(stored))
	}
	lag := make([]float64, len(written))
	for i := range lag {
		lag[i] = stored[i] - written[i]
	}
	middle := exam.Median(lag)
	out := make([]time.Duration, len(lag))
	for i, l := range lag {
		out[i] = time.Duration((l - middle) * float64(time.Second)).Abs()
	}
	return out, nil
}
