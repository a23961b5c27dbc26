package flow

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/needle"
)

const minutesField = "minutes"

// NewMinutes begins the watch after an injection: the practice's minutes stand in
// it, where it has set any.
func NewMinutes(s *Screen, injection int, head func(width int) []string, more ...Extra) *Sheet {
	answers := Blank()
	n := procedure.RulesOf(s.Deps.Settings).WatchMinutes
	if n > 0 {
		answers.Put(minutesField, strconv.Itoa(n))
	}
	fields := []needle.Field{{Key: minutesField, Label: "minutes", Limit: 4, Check: checkMinutes, Hint: func(string) string { return needle.WatchSource }}}
	sheet := NewSheet(s, "begin the watch", "begin", answers, fields, head, func() tea.Cmd {
		n, _ := strconv.Atoi(answers.Get(minutesField))
		return s.Write(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: injection, Phase: exam.WatchBegun, Minutes: n}})
	}, more...)
	if n > 0 {
		return sheet.ToEnd()
	}
	return sheet
}

func checkMinutes(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 1 || n > 24*60 {
		return &exam.Refusal{Typed: text, Why: "whole minutes, from 1 to a day"}
	}
	return nil
}
