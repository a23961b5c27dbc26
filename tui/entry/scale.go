package entry

import (
	"strings"

	"loosebox/exam"
	"loosebox/tui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// scale is the field of an ordered score: a pick whose lines are chosen by
// their score. A half score is reached with the arrows.
type scale struct {
	pick
}

func newScale(step exam.Step, o Options) *scale {
	f := &scale{pick: *newPick(step, o)}
	wide := 0
	for _, c := range step.Choices {
		wide = max(wide, len(exam.FormatNumber(c.Score, 1)))
	}
	f.list.number = func(i int) string {
		score := exam.FormatNumber(step.Choices[i].Score, 1)
		return strings.Repeat(" ", wide-len(score)) + score
	}
	return f
}

func (f *scale) Press(p keys.Press) (Result, tea.Cmd) {
	if !keys.Digit().Is(p) {
		return f.pick.Press(p)
	}
	f.said = nil
	want := float64(keys.Name(p)[0] - '0')
	for i, c := range f.step.Choices {
		if c.Score == want {
			f.list.cursor = i
		}
	}
	return Taken, nil
}

func (f *scale) Keys() []keys.Binding {
	return []keys.Binding{
		keys.Digit().With("score", "choose a score by its digit; half scores with the arrows"),
		keys.Up(), keys.Down(), keys.Accept(),
	}
}
