package entry

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// scale is the widget of an ordered score: a pick whose lines are chosen by typing the score. Where the step allows halves,
// the point adds a half.
type scale struct {
	pick
	half bool
}

func newScale(step exam.Step, o Options) *scale {
	f := &scale{pick: *newPick(step, o)}
	wide := 0
	for _, c := range step.Choices {
		wide = max(wide, len(notation.FormatNumber(c.Score, 1)))
	}
	f.list.number = func(i int) string {
		score := notation.FormatNumber(step.Choices[i].Score, 1)
		return strings.Repeat(" ", wide-len(score)) + score
	}
	if b := o.Before; b != nil && len(b.Words) == 0 && b.Number != nil {
		f.put(b.Number.Value)
	}
	return f
}

// put shows a score that has no choice of its own.
func (f *scale) put(score float64) {
	for i, c := range f.step.Choices {
		if c.Score == score || c.Score == score-0.5 {
			f.list.cursor, f.half = i, c.Score != score
		}
	}
}

func (f *scale) Press(p keys.Press) (KeyResult, tea.Cmd) {
	switch {
	case f.step.Parts.Halves && keys.Half().Is(p):
		f.addHalf()
		return Taken, nil
	case keys.Digit().Is(p):
		f.said, f.half = nil, false
		want := float64(keys.Name(p)[0] - '0')
		for i, c := range f.step.Choices {
			if c.Score == want {
				f.list.cursor = i
			}
		}
		return Taken, nil
	}
	at := f.list.cursor
	result, cmd := f.pick.Press(p)
	if at != f.list.cursor {
		f.half = false
	}
	return result, cmd
}

func (f *scale) addHalf() {
	switch at := f.list.cursor; {
	case at < 0:
		f.said = errors.New("choose a score first; then . adds a half")
	case at < len(f.step.Choices)-1:
		f.half, f.said = !f.half, nil
	}
}

// Value is the chosen score, or half a score more.
func (f *scale) Value() (exam.Value, error) {
	c, ok := f.list.chosen()
	if !ok || !f.half {
		return f.pick.Value()
	}
	return f.step.ScoreValue(c.Score + 0.5)
}

// View draws the list, and the half score below it.
func (f *scale) View(size layout.Size) []string {
	if !f.half {
		return f.pick.View(size)
	}
	v, _ := f.Value()
	lines := f.pick.View(layout.Size{W: size.W, H: size.H - 1})
	return fit(append(lines, f.o.Theme.Strong.Render(layout.Cut(v.Show(f.step), size.W))), size)
}

func (f *scale) Keys() []keys.Binding {
	digit := keys.Digit().With("score", "choose a score by its digit")
	if all := f.step.Choices; len(all) > 1 {
		digit.Label = notation.FormatNumber(all[0].Score, 0) + "-" + notation.FormatNumber(all[len(all)-1].Score, 0)
	}
	list := []keys.Binding{digit, keys.Up(), keys.Down(), keys.Accept()}
	if f.step.Parts.Halves {
		list = append(list, keys.Half())
	}
	return list
}
