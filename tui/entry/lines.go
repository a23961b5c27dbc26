package entry

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// fit cuts lines to the size.
func fit(lines []string, size layout.Size) []string {
	if len(lines) > size.H {
		lines = lines[:max(size.H, 0)]
	}
	for i, l := range lines {
		lines[i] = layout.Cut(l, size.W)
	}
	return lines
}

// sentence is an error or a question under the input, with a sign before it.
func sentence(t *theme.Theme, err error, width int) []string {
	if err == nil {
		return nil
	}
	var out []string
	for i, l := range layout.Wrap(notation.CleanLine(err.Error(), 400), width-2) {
		sign := "  "
		if i == 0 {
			sign = t.Sign.NotDone + " "
		}
		out = append(out, t.Error.Render(sign+l))
	}
	return out
}

// words wraps text in the faint style.
func words(t *theme.Theme, text string, width int) []string {
	lines := layout.Wrap(text, width)
	for i, l := range lines {
		lines[i] = t.Faint.Render(l)
	}
	return lines
}

// stands is the line that shows the answer to be corrected.
func stands(o Options, step exam.Step, width int) []string {
	if o.Before == nil {
		return nil
	}
	return []string{o.Theme.Faint.Render(layout.Cut("now: "+notation.CleanLine(o.Before.As(o.Settings.Units, step).Show(step), 0), width))}
}

// digit is the line of a list that a digit chooses: 1 is 0, and 0 is the tenth.
func digit(p keys.Press) (int, bool) {
	if !keys.Digit().Is(p) {
		return 0, false
	}
	n := int(keys.Name(p)[0] - '0')
	return (n + 9) % 10, true
}

// numeral is how a line of a list is numbered; the eleventh and later are not.
func numeral(i int) string {
	if i > 9 {
		return " "
	}
	return string(rune('0' + (i+1)%10))
}
