package handoff

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
)

// danger is a sign of danger that was written down in the visit, with when and
// after what.
type danger struct {
	at    time.Time
	after string
	words string
}

// dangers are the signs of danger of the visit's injections, draws and watches.
func dangers(v exam.Visit) []danger {
	var out []danger
	add := func(ended *time.Time, last time.Time, after, words string) {
		if ended != nil {
			last = *ended
		}
		out = append(out, danger{at: last, after: after, words: words})
	}
	for _, i := range v.Injections {
		if i.Sign == "" {
			continue
		}
		last := i.At
		for _, a := range i.Attempts {
			last = a.At
		}
		add(i.EndAt, last, "injection of "+i.Order.Product, i.SignWords)
	}
	for _, d := range v.Draws {
		if d.Sign != "" {
			add(d.EndAt, d.At, "blood draw", d.SignWords)
		}
	}
	for _, w := range v.Watches {
		if w.State != exam.WatchReaction {
			continue
		}
		after := "after an injection"
		if i, ok := v.Injection(w.Injection); ok {
			after += " of " + i.Order.Product
			if i.Order.Lot != "" {
				after += ", lot " + i.Order.Lot
			}
		}
		add(w.EndAt, w.At, after, w.SignWords)
	}
	return out
}

// mostDangers is how many signs of danger are read; the rest stand in the file.
const mostDangers = 2

// saidDangers are the last signs of danger, as they are read.
func saidDangers(list []danger) []string {
	var out []string
	for _, d := range list[max(len(list)-mostDangers, 0):] {
		out = append(out, fmt.Sprintf("At %s, %s: %s.", d.at.Format("15:04"), cut(d.after, 16), cut(d.words, 14)))
	}
	return out
}

// filed are all signs of danger, whole, for the O of the note.
func filed(list []danger) []string {
	var out []string
	for _, d := range list {
		out = append(out, strings.TrimSuffix(exam.CleanNote(fmt.Sprintf("Sign of danger, %s, %s: %s", d.at.Format("15:04"), d.after, d.words)), ".")+".")
	}
	return out
}
