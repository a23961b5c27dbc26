package watch

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// running is a watch that has not ended.
type running struct {
	s *screen
	w exam.Watch
}

// Left is a time as minutes and seconds, 4:05; the seconds are not rounded up.
func Left(d time.Duration) string {
	return fmt.Sprintf("%d:%02d", int(d.Minutes()), int(d.Seconds())%60)
}

// Lines is the clock, the injection, and what to look for.
func (r *running) Lines(size layout.Size) []string {
	t, s := r.s.Deps.Theme, r.s
	left := r.w.Left(s.now)
	clock := []string{t.Digits.Render(Left(left) + " left"), fmt.Sprintf("of %d minutes, until %s", r.w.Minutes, r.w.Ends().Format("15:04"))}
	if left == 0 {
		clock = []string{t.Alarm.Render("OVER") + " " + t.Strong.Render("since "+r.w.Ends().Format("15:04")), "Look at the horse once more. n: nothing is seen."}
	}
	lines := append([]string{""}, clock...)
	lines = append(lines, "")
	if i, ok := s.Stand.Visit.Injection(r.w.Injection); ok {
		lines = append(lines, layout.Wrap(exam.CleanLine(needle.Injected(i), 0), size.W)...)
	}
	d, _ := procedure.FindDanger(procedure.Reaction)
	lines = append(lines, "", t.Heading.Render("Look for"))
	lines = append(lines, layout.Wrap(strings.Join(d.Seen, "; "), size.W)...)
	for _, text := range []string{"Stay where you can see it, and out of its way.", "Any of these: ctrl+d, and the veterinarian now.", procedure.Expected} {
		lines = append(lines, layout.Wrap(text, size.W)...)
	}
	return lines
}

func (r *running) over() bool { return r.w.Left(r.s.now) == 0 }

// quiet is the key that ends the watch; before its end it says that it is not over.
func (r *running) quiet() keys.Binding {
	b := keys.Letter("n", "nothing seen", "write down that the watch is over and nothing was seen")
	if !r.over() {
		return b.OffIf("the watch is not over; x leaves it and asks why")
	}
	return b
}

func early() keys.Binding {
	return keys.NotDone().With("leave early", "end the watch before its time, and say why")
}

// Press ends the watch.
func (r *running) Press(p keys.Press) tea.Cmd {
	switch {
	case r.quiet().Is(p):
		return r.s.write(exam.WatchLine{Injection: r.w.Injection, Phase: exam.WatchQuiet})
	case r.quiet().Names(p):
		r.s.Say("Not yet: " + r.quiet().Off + ".")
	case early().Is(p):
		r.s.Show(r.leaving())
	}
	return nil
}

// leaving asks why the watch is left before its end.
func (r *running) leaving() flow.Part {
	return flow.Stop{
		S: r.s.Screen, Asks: "The watch is left before its end. Who looks at the horse now?", Reasons: needle.WhyLeft(), Back: func() flow.Part { return r },
		Done: func(why string, _ float64, _ bool) tea.Cmd {
			return r.s.write(exam.WatchLine{Injection: r.w.Injection, Phase: exam.WatchLeftEarly, Why: why})
		},
	}.Begin()
}

// Keys of the watch.
func (r *running) Keys() []keys.Binding { return []keys.Binding{r.quiet(), early()} }

// Typing is never true.
func (r *running) Typing() bool { return false }

// Escape goes back; the watch runs on.
func (r *running) Escape() bool { return false }
