package report

import (
	"strings"

	"loosebox/exam/score"
	"loosebox/ranges"
)

// scores writes every score that the findings allow: what it says, what it was
// made of, what is open, what it can be and where it comes from.
func (p Page) scores(w *writer) {
	for i, s := range score.Summary(p.Visit, p.Earlier) {
		if i == 0 {
			w.heading("Scores and counts")
		}
		text := s.Words
		if s.Level > ranges.LevelUsual {
			text += " [" + s.Level.String() + "]"
		}
		w.wrap(scoreLabel(s.Name), text)
		for _, more := range []struct{ label, text string }{
			{"    made of: ", strings.Join(s.Used(), "; ")},
			{"    missing: ", strings.Join(s.Missing(), "; ")},
			{"    range:   ", s.Range},
			{"    ", "source " + w.cite(s.Evidence, s.Source)},
			{"    ", s.Note},
		} {
			if more.text != "" {
				w.wrap(more.label, more.text)
			}
		}
	}
}

func scoreLabel(name string) string {
	const wide = 34
	return name + strings.Repeat(" ", max(wide-len(name), 0)) + " "
}
