package entry

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (w *stopwatch) View(size layout.Size) []string {
	t := w.o.Theme
	under := sentence(t, w.said, size.W)
	under = append(under, stands(w.o, w.step, size.W)...)
	room := size.H - len(under) - 2
	var lines []string
	switch {
	case w.running:
		lines = []string{t.Strong.Render("running"), "space at the return"}
	case w.line.text != "":
		lines = []string{t.Sign.Cursor + " " + t.Strong.Render(w.line.text) + "_", "  in seconds; enter saves"}
	case len(w.trials) == 0:
		lines = words(t, "space "+w.step.Presses+"; or type the seconds", size.W)
	default:
		median := notation.FormatNumber(exam.Median(w.trials), 1)
		if !strings.Contains(median, ".") {
			median += ".0"
		}
		lines = large(t, median, "s", size.W, room)
	}
	if text := w.taken(); text != "" {
		lines = append(lines, layout.Wrap(text, size.W)...)
	}
	return fit(append(lines, under...), size)
}

// taken lists the times so far.
func (w *stopwatch) taken() string {
	if len(w.trials) == 0 {
		return ""
	}
	times := make([]string, len(w.trials))
	for i, s := range w.trials {
		times[i] = notation.FormatNumber(s, 2)
	}
	text := fmt.Sprintf("%s s, %d of %d", strings.Join(times, " · "), len(times), mostTrials)
	if len(times) > 1 {
		text = "median of " + text
	}
	if len(times) < mostTrials && !w.running {
		text += "; space takes another"
	}
	return text
}
