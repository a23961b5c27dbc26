package share

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/screen/form"
)

const labelWide = 15

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading .."
	case s.Deps.Sharing == nil:
		return form.Clip(layout.Wrap("This record is not shared: it is a temporary copy.", size.W), size)
	case s.busy:
		return form.Clip(layout.Wrap("Working. Answers are saved anyway. esc leaves this page; the work goes on.", size.W), size)
	case s.act == nil:
		return s.page(size)
	case s.step != nil:
		return s.came(size)
	}
	lines := layout.Wrap(s.act.Does, size.W)
	for i := range lines {
		lines[i] = s.Deps.Theme.Faint.Render(lines[i])
	}
	if size.H < 12 {
		lines = nil
	}
	lines = append(lines, "")
	var foot []string
	if s.leave {
		for _, l := range layout.Wrap(s.Deps.Theme.Sign.NotDone+" "+lost, size.W) {
			foot = append(foot, s.Deps.Theme.Error.Render(l))
		}
	}
	room := layout.Size{W: size.W, H: max(size.H-len(lines)-len(foot), 1)}
	lines = append(lines, layout.Fit(s.form.Lines(room), room)...)
	return form.Clip(append(lines, foot...), size)
}

// lost is what esc says before what was typed is lost.
const lost = "Nothing was changed yet. esc again leaves; what was typed is lost."

// page is how sharing stands, and the list of acts.
func (s *screen) page(size layout.Size) string {
	t := s.Deps.Theme
	var lines []string
	for _, f := range s.state.Facts {
		text := notation.CleanNote(f.Text)
		for i, l := range layout.Wrap(text, size.W-labelWide-2) {
			label := layout.PadLeft(f.Label, labelWide) + ": "
			if i > 0 {
				label = layout.PadLeft("", labelWide) + "  "
			}
			lines = append(lines, label+l)
		}
	}
	acts := s.state.Acts
	room := max(size.H-len(acts)-4, 1) // the acts stay in sight
	if len(lines) > room {
		lines = append(lines[:room-1], t.Faint.Render("loosebox share status lists the rest"))
	}
	lines = append(lines, "")
	lines = append(lines, s.cursor.Draw(len(acts), max(size.H-len(lines)-2, 1), func(i int, here bool) string {
		text := fmt.Sprintf("%d %s", i+1, acts[i].Name)
		if here {
			return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+text, size.W))
		}
		return layout.Cut("  "+text, size.W)
	})...)
	if len(acts) > 0 && len(lines)+2 <= size.H {
		lines = append(lines, "")
		for _, l := range layout.Wrap(acts[s.cursor.Cursor].Does, size.W) {
			lines = append(lines, t.Faint.Render(l))
		}
	}
	return form.Clip(lines, size)
}

// came is what came of an act.
func (s *screen) came(size layout.Size) string {
	t := s.Deps.Theme
	var lines []string
	for _, text := range s.step.Say {
		lines = append(lines, layout.Wrap(notation.CleanNote(text), size.W)...)
	}
	if s.step.Words != "" {
		lines = append(lines, "")
		for _, l := range layout.Wrap(s.step.Words, size.W-4) {
			lines = append(lines, "    "+t.Strong.Render(l))
		}
		lines = append(lines, "")
	}
	if s.step.Ask != "" {
		for _, l := range layout.Wrap(s.step.Ask, size.W) {
			lines = append(lines, t.Strong.Render(l))
		}
	}
	return form.Clip(lines, size)
}
