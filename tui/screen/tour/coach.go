package tour

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// coach is the nav.Patient of the tour: it shows which key to try. Every key works as in an exam.
type coach struct {
	nav.Patient
	theme    *theme.Theme
	at       exam.StepID
	answered map[exam.StepID]bool
}

func newCoach(p nav.Patient, t *theme.Theme) *coach {
	return &coach{Patient: p, theme: t, answered: map[exam.StepID]bool{}}
}

// Come says where the person is now.
func (c *coach) Come(k exam.Key) tea.Cmd {
	c.at = k.Step
	return c.Patient.Come(k)
}

// Stored notes which steps have an answer.
func (c *coach) Stored(e exam.Entry) {
	if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone {
		c.answered[e.Step] = true
	}
	c.Patient.Stored(e)
}

// task is what is to be tried here.
func (c *coach) task() int {
	switch c.at {
	case stepUsual:
		return taskUsual
	case stepLater:
		if c.answered[stepTap] {
			return taskOrder
		}
		return taskLater
	case stepTap:
		return taskTap
	case stepNotDone:
		if c.answered[stepLater] {
			return taskNotDone
		}
		return taskOrder
	}
	return taskChoose
}

// View is what to try, over what is seen and heard.
func (c *coach) View(size layout.Size) []string {
	width := size.W
	all := tasks()
	n := c.task()
	text := all[n].words
	if c.at == stepLater && n == taskOrder {
		text = "Here it is. Answer with a digit and enter, or u. Then the exam goes back."
	}
	lines := []string{c.theme.Heading.Render(layout.Cut(fmt.Sprintf("tour, %d of %d: %s", n+1, len(all), all[n].name), width))}
	for _, line := range layout.Wrap(text, width) {
		lines = append(lines, c.theme.Strong.Render(line))
	}
	return append(lines, c.Patient.View(size)...)
}

// Right stands at the right of the first line.
func (c *coach) Right() string { return "tour" }

// TooSoon lets every key be tried at once.
func (c *coach) TooSoon(exam.Key, exam.Value) string { return "" }

// Closing adds nothing: the tour is not marked.
func (c *coach) Closing(int) []exam.Entry { return nil }

// Closed leads to the end of the tour.
func (c *coach) Closed() tea.Cmd {
	c.Leave()
	return tea.Sequence(nav.ToHome(), nav.Go(nav.Address{Screen: nav.Tour, Number: done}))
}
