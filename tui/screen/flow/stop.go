package flow

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/needle"
)

const (
	whyField = "why"
	inField  = "in"
)

// NewStop asks why something is stopped and how much went in, or was drawn; ml is
// what is offered. Done gets the words, the millilitres and whether they are known.
func NewStop(s *Screen, why, amount string, ml string, done func(why string, ml float64, known bool) tea.Cmd, back func() Part) Part {
	a := Blank()
	a.Put(whyField, why)
	a.Put(inField, ml)
	fields := []needle.Field{
		{Key: whyField, Label: "why", Limit: 160, Check: func(text string) error {
			if text == "" {
				return &exam.Refusal{Why: "say why it was stopped"}
			}
			return nil
		}},
		{Key: inField, Label: amount, Limit: 20, Check: needle.CheckAmount, Hint: func(string) string { return "in mL, 0 for nothing; or: " + needle.NotKnown }},
	}
	sheet := NewSheet(s, "stopped: write it down", "write it down", a, fields, nil, func() tea.Cmd {
		ml, known := needle.ReadAmount(a.Get(inField))
		return done(a.Get(whyField), ml, known)
	})
	return &backTo{sheet, s, back}
}
