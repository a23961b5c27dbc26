package tap

import (
	"math"
	"slices"
)

// A press that follows another within the dead time is a finger that struck twice, or a held key. In a quick heart it can
// also be the tap of the next beat, after one that came late: then it is put back.

// Numbers of the rule for presses within the dead time (derived; checked by Acceptance line 21).
const (
	// quickS is the longest usual gap in s at which a press within the dead time can be a beat of its own: at 67 per
	// minute a tap would have to stray by 0.7 s, at 140 by 0.25 s, which one tap in four hundred does.
	quickS      = 0.9
	quickSpread = 0.2  // where gaps vary more than this over T0, nothing is put back
	anchors     = 4    // taps on each side that say where the beats are,
	anchorGap   = 1.75 // unless a gap of so many usual ones lies between
)

// closePress is a press within the dead time of the press before it.
type closePress struct {
	at float64
	no int
}

// putBack makes taps of close presses that the taps on both sides need: a late tap and the next beat's may be closer than
// the dead time in a quick heart, and a press that is lost there costs a beat. A finger that strikes twice leaves one
// usual gap around it, two beats leave two. It reports whether any was put back.
func (w *work) putBack(b base) bool {
	if !b.ok || b.t0 > quickS || b.s > quickSpread*b.t0 || len(w.close) == 0 {
		return false
	}
	left, changed := w.close[:0], false
	for _, p := range w.close {
		switch {
		case w.needs(p, b.t0):
			changed = true
			continue
		case w.begins(p, b.t0):
			first := closePress{at: w.at[0], no: w.no[0]}
			w.at[0], w.no[0] = p.at, p.no
			p, changed = first, true // what was the first tap is left out
		}
		left = append(left, p)
	}
	w.close = left
	w.measure()
	return changed
}

// needs puts a close press between its neighbours where most pairs of taps around it are one beat further apart than
// the taps between them say, and reports whether it did so.
func (w *work) needs(p closePress, t0 float64) bool {
	k, _ := slices.BinarySearch(w.at, p.at) // the tap after p
	if k == 0 || k == len(w.at) {
		return false
	}
	from := max(0, k-2) // the tap beside p may be the one that strayed
	short, pairs := 0, 0
	for i := from; i >= max(0, from-anchors+1) && (i == from || w.gap[i] < anchorGap*t0); i-- {
		for j := k; j < min(len(w.at), k+anchors) && (j == k || w.gap[j-1] < anchorGap*t0); j++ {
			pairs++
			if (w.at[j]-w.at[i])/t0 > float64(j-i)+0.5 {
				short++
			}
		}
	}
	if 2*short <= pairs {
		return false
	}
	w.at, w.no = slices.Insert(w.at, k, p.at), slices.Insert(w.no, k, p.no)
	w.measure()
	return true
}

// begins says that a close press after the first tap is the beat before the second one, nearer than the first tap is.
func (w *work) begins(p closePress, t0 float64) bool {
	if len(w.at) < 2 || p.at < w.at[0] || p.at > w.at[1] {
		return false
	}
	due := w.at[1] - t0
	return math.Abs(p.at-due) < math.Abs(w.at[0]-due)
}

// noteClose remembers a press within the dead time that may be a beat: in a heart, and where the press before is listed.
func (c *Counter) noteClose(before, at float64) {
	listed := func(x []float64) bool { return len(x) > 0 && x[len(x)-1] == before }
	if c.o.What == Heart && len(c.close) < MaxTaps && (listed(c.taps) || listed(c.close)) {
		c.close = append(c.close, at)
	}
}

// list brings all up to date: the taps, and the close presses that the taps around them need.
func (c *Counter) list() {
	c.all = append(c.all[:0], c.taps...)
	if len(c.close) == 0 {
		return
	}
	c.all = append(c.all, c.close...)
	slices.Sort(c.all)
	c.w.load(c.all, Options{What: c.o.What, LeadIn: c.o.LeadIn}, &Result{})
	if !c.w.putBack(c.w.base()) {
		c.all = append(c.all[:0], c.taps...)
		return
	}
	for _, p := range c.w.close {
		if i, found := slices.BinarySearch(c.all, p.at); found {
			c.all = slices.Delete(c.all, i, i+1)
		}
	}
}

// takeBackClose removes the last press where it is a close one that counts, and says so. Close presses after the last
// tap that do not count go with that tap.
func (c *Counter) takeBackClose() bool {
	last := c.taps[len(c.taps)-1]
	counts := c.all[len(c.all)-1] > last
	for i, at := range c.close {
		if at < last {
			continue
		}
		if counts {
			c.close = slices.DeleteFunc(c.close, func(x float64) bool { return x == c.all[len(c.all)-1] })
		} else {
			c.close = c.close[:i]
		}
		break
	}
	return counts
}
