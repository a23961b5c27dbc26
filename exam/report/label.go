package report

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// TubeLabel is what stands on one tube of a blood draw.
type TubeLabel struct {
	Name  string   // of the animal, in the largest letters
	Lines []string // most needed first
	Code  string   // of visit, draw and tube, for a reader: letters, digits and strokes
}

// Labels are the labels of the tubes of a visit: those that were filled; of a draw that is not begun or not finished those
// that were ordered and are still empty, with room for the hour. Entries are the visit's, for when a tube was filled.
func Labels(v exam.Visit, entries []exam.Entry) []TubeLabel {
	at := map[int]time.Time{}
	for _, e := range entries {
		at[e.Seq] = e.At
	}
	var out []TubeLabel
	for _, d := range v.Draws {
		var waiting []exam.Tube
		if !d.Finished() {
			waiting = append(waiting, d.Order.Tubes...)
		}
		n := 0
		for _, t := range d.Filled {
			n++
			waiting = without(waiting, t.Kind)
			filled, ok := at[t.Seq]
			if !ok {
				filled = d.At
			}
			out = append(out, label(v, d, n, t.Tube, filled.Format("2 Jan 2006 15:04")))
		}
		for _, t := range waiting {
			n++
			out = append(out, label(v, d, n, t, v.OpenedAt.Format("2 Jan 2006")+" __:__"))
		}
	}
	return out
}

// without takes the first tube of a kind off a list.
func without(list []exam.Tube, kind exam.TubeKind) []exam.Tube {
	for i, t := range list {
		if t.Kind == kind {
			return append(append([]exam.Tube(nil), list[:i]...), list[i+1:]...)
		}
	}
	return list
}

func label(v exam.Visit, d exam.Draw, tube int, t exam.Tube, when string) TubeLabel {
	h := v.Horse
	l := TubeLabel{Name: notation.CleanLine(h.Name, 40), Code: fmt.Sprintf("%s/%d/%d", strings.ToUpper(string(v.ID)), d.Number, tube)}
	for _, text := range []string{
		when, join(" ", t.Kind.String(), ml(t.ML)) + fmt.Sprintf(", tube %d", tube), d.Order.For, named("chip", h.Chip), join(", ", h.Owner, h.Place), t.Label, "by " + d.By,
	} {
		if text = notation.CleanLine(text, 60); text != "" {
			l.Lines = append(l.Lines, text)
		}
	}
	return l
}
