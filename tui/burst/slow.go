package burst

import "time"

// isSlow reports whether a line end now is that of a reader that is too slow for a burst.
func (r *Run) isSlow(now time.Time) bool {
	digits := 0
	for _, c := range r.runes {
		if c >= '0' && c <= '9' {
			digits++
		}
	}
	return digits >= Digits && now.Sub(r.last) <= Gap && !r.same()
}

// slow ends the line of a slow reader. What can be taken back is; the digits before it have acted.
func (r *Run) slow(at time.Time) []Deed {
	var out []Deed
	if r.kept {
		out = append(out, Deed{Kind: TakeBack})
	}
	return append(out, r.over(at)...)
}
