package examtest

import (
	"slices"
	"time"

	"loosebox/exam"
)

// Outline is what a store's Outline gives of a horse's visits, in their order: open visits and those that were opened at the
// moment since or after it are whole, the others thin.
func Outline(visits []exam.Visit, since time.Time) []exam.Visit {
	out := slices.Clone(visits)
	for i := range out {
		if v := &out[i]; v.Closed() && v.OpenedAt.Before(since) {
			*v = v.Thin()
		}
	}
	return out
}
