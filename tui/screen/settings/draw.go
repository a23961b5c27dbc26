package settings

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (s *screen) View(size layout.Size) string {
	foot := s.files(size)
	lines, from, to := s.lines(size.W)
	room := max(size.H-len(foot), 0)
	s.cursor.Height = max(room, 1)
	s.first = layout.Window(s.first, to-1, len(lines), room)
	s.first = layout.Window(s.first, from, len(lines), room)
	if s.cursor.Cursor == 0 {
		s.first = 0 // the heading above the first row
	}
	lines = lines[s.first:min(s.first+room, len(lines))]
	for len(foot) > 0 && len(lines) < room {
		lines = append(lines, "")
	}
	return strings.Join(append(lines, foot...), "\n")
}

// lines draws every row, the one under the cursor with its choices, and says
// which lines those are.
func (s *screen) lines(width int) (lines []string, from, to int) {
	t := s.Deps.Theme
	for i := range s.rows {
		here := i == s.cursor.Cursor
		if above := s.rows[i].heading; above != "" {
			lines = append(lines, t.Heading.Render(layout.Cut(above, width)))
		}
		drawn := s.row(s.rows[i], width-2, here)
		if here {
			from, to = len(lines), len(lines)+len(drawn)
			drawn[0] = t.Cursor.Render(t.Sign.Cursor+" ") + drawn[0]
		}
		for j, text := range drawn {
			if !here || j > 0 {
				text = "  " + text
			}
			lines = append(lines, layout.Cut(text, width))
		}
	}
	return lines, from, to
}

// labelWide is the width of the labels, as in the forms.
const labelWide = 15

func (s *screen) row(r row, width int, here bool) []string {
	if r.choice != nil {
		lines := r.choice.Lines(s.Deps.Theme, width, here)
		if here {
			lines = append(lines, s.who(r.key, width)...)
		}
		return lines
	}
	if here && s.typed != nil {
		return s.typed.Lines(s.Deps.Theme, width, true)
	}
	value, hint := s.steadiness(), practiceHint
	if r.text != nil {
		value, hint = r.text.shown, r.text.hint
	}
	lines := []string{layout.PadLeft(r.label, labelWide) + ": " + value}
	if !here {
		return lines
	}
	for _, text := range layout.Wrap(hint, width-labelWide-2) {
		lines = append(lines, strings.Repeat(" ", labelWide+2)+s.Deps.Theme.Faint.Render(text))
	}
	return append(lines, s.who(r.key, width)...)
}

// who says in faint text who set something for the practice, and on which laptop.
func (s *screen) who(key exam.SettingKey, width int) (lines []string) {
	state, ok := s.states[key]
	if !ok {
		return nil
	}
	text := state.InUse().Who()
	if state.Differ() {
		text += "; another laptop set something else: see \"to settle\" on the home screen"
	}
	for _, part := range layout.Wrap(notation.CleanLine(text, 0), width-labelWide-2) {
		lines = append(lines, strings.Repeat(" ", labelWide+2)+s.Deps.Theme.Faint.Render(part))
	}
	return lines
}

// steadiness is what the last practice of this person gave.
func (s *screen) steadiness() string {
	own, ok := s.now.Scatter[s.now.Person]
	if !ok || s.now.Person == "" {
		return "not measured yet"
	}
	return fmt.Sprintf("your taps vary by %.0f ms (%d taps, %s)", 1000*own.SigmaS, own.Taps, notation.ShownOn(own.At, s.Deps.Now()))
}

// files says where a practice's own files go, and first what was refused of them.
func (s *screen) files(size layout.Size) []string {
	t := s.Deps.Theme
	most := size.H / 3
	if most < 2 {
		return nil
	}
	lines := []string{""}
	add := func(text string, draw func(...string) string) {
		for _, line := range layout.Wrap(notation.CleanNote(text), size.W) {
			lines = append(lines, draw(line))
		}
	}
	if s.Deps.Problem != "" {
		add(t.Sign.NotDone+" "+s.Deps.Problem, t.Error.Render)
	}
	folder := s.Deps.Folder
	if folder == "" {
		folder = "the data folder"
	}
	add("own files, read at the start from "+folder, t.Faint.Render)
	for _, key := range slices.Sorted(maps.Keys(s.states)) {
		if in := s.states[key].InUse(); key.Own() && len(in.Value) > 0 {
			add(key.Called()+": "+in.Who(), t.Faint.Render)
		}
	}
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = layout.Cut(lines[most-1], size.W-3) + " .."
	}
	return lines
}
