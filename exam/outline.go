package exam

import (
	"slices"
	"time"
)

// OutlineDays is how far back from a horse's newest visit an outline holds visits whole;
// what lists and rounds ask of findings lies within it.
const OutlineDays = 60

// Outline is a horse's visits, newest first, as lists and rounds need them: visits of the
// last OutlineDays before the newest are whole, older ones keep when and by whom, reason,
// injections, decisions and rechecks, and are without findings, notes, hand-offs, draws,
// watches and formalities.
func Outline(visits []Visit) []Visit {
	if len(visits) == 0 {
		return nil
	}
	whole := visits[0].OpenedAt.AddDate(0, 0, -OutlineDays)
	out := slices.Clone(visits)
	for i := range out {
		if v := &out[i]; v.Closed() && v.OpenedAt.Before(whole) && lastWritten(*v).Before(whole) {
			v.Findings, v.Notes, v.HandOffs, v.Draws, v.Watches = nil, nil, nil, nil, nil
			v.Context = Context{}
		}
	}
	return out
}

// lastWritten is when something was last examined in a visit, or it was closed.
func lastWritten(v Visit) time.Time {
	last := *v.ClosedAt
	for _, f := range v.Findings {
		if f.At.After(last) {
			last = f.At
		}
	}
	return last
}
