package flow

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/needle"
)

const minutesField = "minutes"

// NewMinutes begins the watch after an injection: the practice's minutes stand in
// it, where it has set any. x declines it, with a reason.
func NewMinutes(s *Screen, injection int, head func(width int) []string) *Sheet {
	answers := Blank()
	n := procedure.RulesOf(s.Deps.Settings).WatchMinutes
	if n > 0 {
		answers.Put(minutesField, strconv.Itoa(n))
	}
	fields := []needle.Field{{Key: minutesField, Label: "minutes", Limit: 4, Check: checkMinutes, Hint: func(string) string { return needle.WatchSource }}}
	decline := Extra{Binding: keys.NotDone().With("decline", "the horse is not watched, and say why"), Do: func() tea.Cmd {
		s.Show(declining(s, injection))
		return nil
	}}
	sheet := NewSheet(s, "begin the watch", "begin", answers, fields, head, func() tea.Cmd {
		n, _ := strconv.Atoi(answers.Get(minutesField))
		return s.Write(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: injection, Phase: exam.WatchBegun, Minutes: n}})
	}, decline)
	sheet.Numbers = true
	if n > 0 {
		return sheet.ToEnd()
	}
	return sheet
}

// declining asks why the horse is not watched.
func declining(s *Screen, injection int) Part {
	return Stop{
		S: s, Asks: "The horse is not watched after the injection. Why?", Reasons: needle.WhyDeclined(), Back: s.Following,
		Done: func(why string, _ float64, _ bool) tea.Cmd {
			return s.Write(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: injection, Phase: exam.WatchDeclined, Why: why}})
		},
	}.Begin()
}

func checkMinutes(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 1 || n > 24*60 {
		return &exam.Refusal{Typed: text, Why: "whole minutes, from 1 to a day"}
	}
	return nil
}
