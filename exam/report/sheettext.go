package report

import (
	"strings"
)

// SheetText sets a sheet as text of at most width columns.
func SheetText(s Sheet, width int) string {
	width = max(width, 60)
	var lines []string
	add := func(indent, text string) {
		for _, l := range wrapIndented(text, indent, width) {
			lines = append(lines, strings.TrimRight(l, " "))
		}
	}
	add("", s.Title)
	for _, f := range s.who() {
		add("", blank(f[0], f[1], width))
	}
	if c := s.Cautions(); c != "" {
		add("", "Caution: "+c)
	}
	for _, part := range s.Parts {
		lines = append(lines, "")
		if part.Heading != "" {
			add("", strings.ToUpper(part.Heading))
		}
		for _, row := range part.Rows {
			sheetRowText(add, row)
		}
	}
	lines = append(lines, "")
	add("", SheetFoot)
	return strings.Join(lines, "\n") + "\n"
}

func blank(label, value string, width int) string {
	if value != "" {
		return label + ": " + value
	}
	return label + ": " + strings.Repeat("_", max(width-len(label)-2, 10))
}

func sheetRowText(add func(indent, text string), row SheetStep) {
	name := row.Name
	if row.Usual != "" {
		name += " (" + row.Usual + ")"
	}
	add("", name)
	if row.Caution != "" {
		add("    ", "Caution: "+row.Caution)
	}
	switch {
	case len(row.Choices) > 0 && !row.Coded:
		ticks := make([]string, len(row.Choices))
		for i, c := range row.Choices {
			ticks[i] = "[ ] " + c
		}
		add("    ", strings.Join(ticks, "   "))
		return
	case len(row.Choices) > 0:
		add("    ", strings.Join(row.Choices, "   "))
	}
	if len(row.Blanks) == 0 {
		row.Blanks = []string{""}
	}
	blanks := make([]string, len(row.Blanks))
	for i, b := range row.Blanks {
		blanks[i] = strings.TrimSpace(b + " ________ " + row.Unit)
	}
	add("    ", strings.Join(blanks, "   "))
}

// numbered puts a number before a choice where several blanks share the list.
func numbered(several bool, number, words string) string {
	if !several {
		return words
	}
	return number + " " + words
}

// wrapIndented breaks at the gaps of three spaces between parts where it can.
func wrapIndented(text, indent string, width int) []string {
	var lines []string
	line := indent
	for i, part := range strings.Split(text, "   ") {
		joined := line + "   " + part
		if i == 0 {
			joined = line + part
		}
		if len([]rune(joined)) > width && line != indent {
			lines = append(lines, line)
			joined = indent + part
		}
		line = joined
	}
	lines = append(lines, line)
	var out []string
	for _, l := range lines {
		out = append(out, breakWords(l, indent, width)...)
	}
	return out
}

func breakWords(line, indent string, width int) []string {
	var out []string
	for len([]rune(line)) > width {
		at := strings.LastIndex(string([]rune(line)[:width+1]), " ")
		if at <= len(indent) {
			at = len(string([]rune(line)[:width]))
		}
		out = append(out, line[:at])
		line = indent + strings.TrimLeft(line[at:], " ")
	}
	return append(out, line)
}
