package sums

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/exam/volume"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
)

// decides ends the list of sums.
const decides = "Nothing here proposes a drug, a dose or a rate: the veterinarian's order, the label and local rules decide."

func (s *screen) draw(size layout.Size) string {
	lines := s.drawList(size)
	if s.sum != nil {
		lines = s.drawSum(size)
	}
	return strings.Join(layout.Fit(lines, size), "\n")
}

func (s *screen) drawList(size layout.Size) []string {
	t, all := s.Deps.Theme, sums.All()
	foot := layout.Wrap(decides, size.W)
	lines := s.cursor.Draw(len(all), max(size.H-len(foot)-3, 1), func(i int, here bool) string {
		text := layout.Pad(fmt.Sprintf("%d %s", i+1, all[i].Name), 20) + all[i].Does
		return list.Line(t, text, size.W, here)
	})
	lines = append(lines, "")
	if w := volume.Known(s.in.Visits, s.Deps.Now()); w.Kg > 0 {
		lines = append(lines, layout.Cut("from the record: "+w.Line(), size.W))
	}
	for _, text := range foot {
		lines = append(lines, t.Faint.Render(text))
	}
	return lines
}

// drawSum puts the answer under the fields; the fields get the room they need, the answer at least a third.
func (s *screen) drawSum(size layout.Size) []string {
	t := s.Deps.Theme
	fields := s.form.Lines(layout.Size{W: size.W, H: max(size.H*2/3-1, 1)})
	return append(append(fields, t.Across(size.W)), s.drawAnswer(layout.Size{W: size.W, H: size.H - len(fields) - 1})...)
}

func (s *screen) drawAnswer(size layout.Size) []string {
	t := s.Deps.Theme
	if s.result == nil {
		return s.drawMissing(size.W)
	}
	r := s.result
	lines := []string{t.Strong.Render(layout.Cut(r.Head, size.W))}
	for _, w := range r.Warnings {
		for _, text := range layout.Wrap("Check: "+w, size.W) {
			lines = append(lines, t.Warn.Render(text))
		}
	}
	for _, more := range append(append([]string{}, r.More...), r.Working...) {
		lines = append(lines, layout.Wrap(more, size.W)...)
	}
	for _, source := range r.Source {
		for _, text := range layout.Wrap(source, size.W) {
			lines = append(lines, t.Faint.Render(text))
		}
	}
	if size.H > 1 && len(lines) > size.H {
		hint := "press s on the last line for the working and its source"
		if !s.form.Typing() {
			hint = "s shows the working and its source"
		}
		lines = append(lines[:size.H-1], t.Faint.Render(layout.Cut(hint, size.W)))
	}
	return lines
}

// drawMissing says what is still to be given, or what is wrong.
func (s *screen) drawMissing(width int) []string {
	if s.err == nil {
		return nil
	}
	style := s.Deps.Theme.Faint
	var r *notation.Refusal
	if errors.As(s.err, &r) && r.Typed != "" {
		style = s.Deps.Theme.Error
	}
	lines := layout.Wrap(notation.CleanNote(s.err.Error()), width)
	for i := range lines {
		lines[i] = style.Render(lines[i])
	}
	return lines
}
