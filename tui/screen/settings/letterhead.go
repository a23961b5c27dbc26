package settings

import (
	"loosebox/exam"
	"loosebox/exam/notation"
)

// head is a row of the letterhead of the practice.
func (s *screen) head(label, text, hint string, put func(*exam.Practice, string)) row {
	w := &written{text: notation.CleanLine(text, 0), hint: hint, most: maxHead}
	if w.shown = w.text; w.shown == "" {
		w.shown = "not set"
	}
	return row{label: label, text: w, put: func(n *exam.Settings, text string) { put(&n.Practice, notation.CleanLine(text, maxHead)) }}
}

// maxHead is the longest line of the letterhead, in characters.
const maxHead = 200
