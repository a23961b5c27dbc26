package handoff

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// danger is a sign of danger that was written down in the visit, with when and
// after what.
type danger struct {
	at    time.Time
	after string
	lot   string // read by nobody, and filed
	words string
}

// dangers are the signs of danger of the visit's injections, draws and watches.
func dangers(v exam.Visit) []danger {
	var out []danger
	add := func(ended *time.Time, last time.Time, after, lot, words string) {
		if ended != nil {
			last = *ended
		}
		out = append(out, danger{at: last, after: after, words: words, lot: lot})
	}
	for _, i := range v.Injections {
		if i.Sign == "" {
			continue
		}
		last := i.At
		for _, a := range i.Attempts {
			last = a.At
		}
		add(i.EndAt, last, "injection of "+i.Product(), i.Order.Lot, i.SignWords)
	}
	for _, d := range v.Draws {
		if d.Sign != "" {
			add(d.EndAt, d.At, "blood draw", "", d.SignWords)
		}
	}
	for _, w := range v.Watches {
		if w.State != exam.WatchReaction {
			continue
		}
		after, lot := "after an injection", ""
		if i, ok := v.Injection(w.Injection); ok {
			after, lot = after+" of "+i.Product(), i.Order.Lot
		}
		add(w.EndAt, w.At, after, lot, w.SignWords)
	}
	return out
}

// mostDangers is how many signs of danger are read; the rest stand in the file.
const mostDangers = 2

// dangerLines are the last signs of danger, the newest first, as they are read.
func (in Input) dangerLines() []string {
	list := dangers(in.Visit)
	slices.SortStableFunc(list, func(a, b danger) int { return b.at.Compare(a.at) })
	var out []string
	for _, d := range list[:min(len(list), mostDangers)] {
		out = append(out, fmt.Sprintf("%s, %s: %s.", notation.Capital(notation.SayWhen(d.at, in.Now)), cut(d.after, 9), cut(d.words, 8)))
	}
	return out
}

// filed are all signs of danger, whole, for the O of the note.
func filed(list []danger, now time.Time) []string {
	var out []string
	for _, d := range list {
		if d.lot != "" {
			d.after += ", lot " + d.lot
		}
		out = append(out, strings.TrimSuffix(notation.CleanNote(fmt.Sprintf("Sign of danger, %s, %s: %s", notation.Clock(d.at, now), d.after, d.words)), ".")+".")
	}
	return out
}
