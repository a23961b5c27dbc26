package round

import (
	"strings"

	"github.com/charmbracelet/lipgloss"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
	"loosebox/tui/theme"
)

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return s.far.Line(s.Deps.Theme, "Reading the round", "horses", size.W)
	}
	var lines []string
	switch {
	case s.ask != nil:
		lines = s.drawAsk(size)
	case s.find != nil:
		lines = s.drawFind(size)
	default:
		lines = s.drawRound(size)
	}
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

func (s *screen) drawAsk(size layout.Size) []string {
	t := s.Deps.Theme
	lines := []string{t.Heading.Render(layout.Cut(s.ask.title(), size.W)), ""}
	if s.ask.line != nil {
		return append(lines, s.ask.line.Lines(t, size.W, true)...)
	}
	return append(lines, s.ask.form.Lines(layout.Size{W: size.W, H: max(size.H-len(lines), 1)})...)
}

func (s *screen) drawFind(size layout.Size) []string {
	t, f := s.Deps.Theme, s.find
	lines := []string{t.Strong.Render(layout.Cut("pick a horse: "+f.Text+"_", size.W))}
	switch {
	case !f.loaded:
		return append(lines, "Reading the record ..")
	case len(f.shown) == 0:
		return append(lines, layout.Cut("  no horse has that in name, owner, location, breed or number", size.W))
	}
	on := map[exam.HorseID]round.Status{}
	for _, c := range s.round.Calls {
		on[c.Horse.ID] = c.State
	}
	now := s.Deps.Now()
	return append(lines, f.cursor.Draw(len(f.shown), max(size.H-1, 0), func(i int, here bool) string {
		h := f.shown[i]
		text := layout.Pad(notation.CleanLine(h.Name, 0), 20) + " " + layout.Pad(h.Kind.String()+", "+h.AgeWords(now), 22) + " "
		if state, ok := on[h.ID]; ok {
			text += "on the round, " + string(state)
		} else {
			text += notation.CleanLine(h.Place, 0)
		}
		return list.Line(t, text, size.W, here)
	})...)
}

func (s *screen) drawRound(size layout.Size) []string {
	if len(s.round.Calls) == 0 {
		lines := []string{}
		for _, text := range []string{
			"No horse is on this round. No exam is open, no follow-up or dose is due.", "",
			"/ adds a horse; left and right show other days.",
		} {
			lines = append(lines, layout.Wrap(text, size.W)...)
		}
		return lines
	}
	foot := s.foot(size)
	lines, at := s.lines(size.W)
	room := max(size.H-len(foot), 0)
	s.cursor.Height = max(room, 1)
	s.first = layout.Window(s.first, at, len(lines), room)
	if s.cursor.Cursor == 0 {
		s.first = 0 // the heading above the first horse
	}
	lines = lines[s.first:min(s.first+room, len(lines))]
	for len(lines) < room {
		lines = append(lines, "")
	}
	return append(lines, foot...)
}

// lines draws every horse under the heading of its group, and says which line the
// cursor is on.
func (s *screen) lines(width int) (lines []string, at int) {
	t := s.Deps.Theme
	group := round.Group(-1)
	for i, c := range s.round.Calls {
		if c.Group != group {
			group = c.Group
			lines = append(lines, t.Heading.Render(layout.Cut(group.String(), width)))
		}
		if i == s.cursor.Cursor {
			at = len(lines)
		}
		lines = append(lines, s.line(c, i == s.cursor.Cursor, width))
	}
	return lines, at
}

func (s *screen) line(c round.Call, here bool, width int) string {
	t := s.Deps.Theme
	state, name, place := 12, 14, 0
	switch {
	case width >= 110:
		name, place = 20, 28
	case width >= 76:
		place = 17
	}
	caution := " "
	if len(c.Horse.Cautions) > 0 {
		if caution = theme.Caution; !here {
			caution = t.Caution.Render(caution)
		}
	}
	text := caution + " " + layout.Pad(notation.CleanLine(c.Horse.Name, 0), name) + " "
	if place > 0 {
		text += layout.Pad(notation.CleanLine(c.Horse.Place, 0), place) + " "
	}
	text += notation.CleanLine(c.Reasons[0].Words, 0)
	if here {
		return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+layout.Pad(s.word(c), state)+" "+text, width))
	}
	return layout.Cut("  "+s.style(c.State).Render(layout.Pad(s.word(c), state))+" "+text, width)
}

// word is the state with its sign, and the hour of what is done.
func (s *screen) word(c round.Call) string {
	t := s.Deps.Theme
	switch c.State {
	case round.Done:
		return t.Sign.Done + " done " + notation.Clock(c.At, s.Deps.Now())
	case round.Begun:
		return t.Sign.Now + " begun"
	case round.Handed, round.LeftOut:
		return t.Sign.NotDone + " " + map[round.Status]string{round.Handed: "reassigned", round.LeftOut: "skipped"}[c.State]
	case round.Waiting:
	}
	return t.Sign.Left + " waiting"
}

func (s *screen) style(state round.Status) lipgloss.Style {
	t := s.Deps.Theme
	switch state {
	case round.Done:
		return t.Good
	case round.Begun:
		return t.Strong
	case round.Handed, round.LeftOut:
		return t.Faint
	case round.Waiting:
	}
	return lipgloss.NewStyle()
}

// foot is what is known of the horse under the cursor.
func (s *screen) foot(size layout.Size) []string {
	t := s.Deps.Theme
	c, ok := s.here()
	if !ok {
		return nil
	}
	out := []string{t.Across(size.W)}
	add := func(style lipgloss.Style, text string) {
		for _, line := range layout.Wrap(notation.CleanNote(text), size.W) {
			out = append(out, style.Render(line))
		}
	}
	plain := lipgloss.NewStyle()
	if s.source {
		for _, text := range []string{round.SourceTold, round.SourceFirst, round.SourceLast, round.SourceDays, "the veterinarian and local rules stand above this order"} {
			add(t.Faint, text)
		}
		return cut(out, size.W, size.H-3) // whoever asks for it gets all of it
	}
	if len(c.Horse.Cautions) > 0 {
		add(t.Caution, theme.Caution+" "+strings.Join(c.Horse.Cautions, ", "))
	}
	var reasons []string
	for _, r := range c.Reasons {
		reasons = append(reasons, r.Words)
	}
	if c.Note != "" {
		add(plain, c.Note)
	}
	add(plain, "why: "+strings.Join(reasons, "; "))
	if c.Told != nil {
		add(t.Warn, strings.Join(append([]string{c.Told.Line()}, c.Told.Lines()...), "; "))
	}
	switch {
	case c.Group == round.Urgent: // the line before says it
	case c.Group.Last():
		add(t.Warn, "its order: "+c.Why)
	default:
		add(t.Faint, "its order: "+c.Why)
	}
	add(t.Faint, whose(c.Horse))
	return cut(out, size.W, size.H/2)
}

// cut leaves the rest of the screen to the list.
func cut(lines []string, width, most int) []string {
	most = max(most, 1)
	if len(lines) <= most {
		return lines
	}
	lines = lines[:most]
	lines[most-1] = layout.Cut(lines[most-1], width-3) + " .."
	return lines
}

func whose(h exam.Horse) string {
	var parts []string
	for _, p := range []struct{ lead, text string }{{"location ", h.Place}, {"owner ", h.Owner}, {"", h.OwnerPhone}} {
		if p.text != "" {
			parts = append(parts, p.lead+p.text)
		}
	}
	if len(parts) == 0 {
		return "location and owner are not recorded"
	}
	return strings.Join(parts, " · ")
}
