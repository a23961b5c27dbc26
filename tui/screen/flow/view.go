package flow

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// Title and the rest make it a nav.Screen.
func (s *Screen) Title() string {
	if !s.loaded {
		return string(s.Name)
	}
	return s.flow.Title()
}

// Right is the right part of the top line.
func (s *Screen) Right() string {
	if !s.loaded {
		return ""
	}
	return s.flow.Right()
}

// Cautions are the horse's own, after what its findings call for.
func (s *Screen) Cautions() []string { return procedure.InSight(s.Stand.Visit, s.Stand.Horse) }

// Typing says that letters are text now.
func (s *Screen) Typing() bool { return s.loaded && s.part.Typing() && !s.open && !s.origin.Open() }

// sourced says that the screen shows numbers that come from somewhere. Nothing
// but the lock is shown while it is locked.
func (s *Screen) sourced() bool {
	_, locked := s.part.(*Locked)
	return s.Ready() && !locked && len(s.flow.Sources()) > 0
}

// Saving says that a line is on its way to the disk.
func (s *Screen) Saving() bool { return s.saving }

// Escape closes what is open within the screen.
func (s *Screen) Escape() bool {
	if s.open {
		s.open = false
		return true
	}
	if s.origin.Close() {
		return true
	}
	return s.loaded && s.part.Escape()
}

// Keys are the part's, and the two that are always there.
func (s *Screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	cautions := keys.Cautions()
	if s.Typing() {
		cautions = cautions.OffIf("letters are text on this line; the signs of danger have them too")
	}
	if s.open {
		return []keys.Binding{keys.Cautions().With("close", "")}
	}
	all := s.part.Keys()
	if s.origin.Open() {
		all = s.origin.Keys()
	}
	if s.Name != nav.Dangers {
		all = append(all, keys.Dangers())
	}
	if s.origin.Open() {
		return all
	}
	all = append(all, cautions)
	if s.sourced() {
		ask := keys.Source().With("source", "show where the numbers come from")
		if s.Typing() {
			ask = ask.OffIf("letters are text on this line; up or down leads to one where they are not")
		}
		all = append(all, ask)
	}
	return all
}

// View draws the cautions, the part, and what was said.
func (s *Screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the visit .."
	}
	if s.open {
		return join(s.told.Whole(size.W), size)
	}
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	t := s.Deps.Theme
	var head, foot []string
	for _, l := range s.told.Lines(size.W) {
		head = append(head, t.Caution.Render(l))
	}
	said := s.said
	if s.saving {
		said = "storing .."
	}
	for _, l := range layout.Wrap(said, size.W) {
		foot = append(foot, t.Error.Render(l))
	}
	room := max(size.H-len(head)-len(foot), 0)
	body := s.part.Lines(layout.Size{W: size.W, H: room})
	if len(body) > room {
		body = body[:room]
	}
	for len(body) < room && len(foot) > 0 {
		body = append(body, "")
	}
	return join(append(append(head, body...), foot...), size)
}

// Asks is the head of a list of answers: the question stands out, what is known
// stands under it, and nothing is cut.
func (s *Screen) Asks(width int, question string, more ...string) []string {
	var out []string
	for _, l := range layout.Wrap(question, width) {
		out = append(out, s.Deps.Theme.Strong.Render(l))
	}
	for _, text := range more {
		out = append(out, layout.Wrap(text, width)...)
	}
	return out
}

// TellVet is what the veterinarian is told, whole, behind the words of its level.
func (s *Screen) TellVet(text string, width int) []string {
	const level = "TELL THE VET"
	lines := layout.Wrap(level+" "+exam.CleanLine(text, 0), width)
	lines[0] = s.Deps.Theme.Alarm.Render(level) + strings.TrimPrefix(lines[0], level)
	return lines
}

// ToHub leads to what follows the exam; a rehearsal goes on where it was.
func (s *Screen) ToHub() tea.Cmd {
	if s.Deps.Patient != nil {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.After, Visit: s.ID, Horse: s.Stand.Horse.ID})
}

// Horse names the horse for a title.
func (s *Screen) Horse() string {
	h := s.Stand.Horse
	return fmt.Sprintf("%s, %s", exam.CleanLine(h.Name, 30), h.AgeWords(s.Stand.Visit.OpenedAt))
}

func join(lines []string, size layout.Size) string {
	if len(lines) > size.H {
		lines = lines[:max(size.H, 0)]
	}
	out := ""
	for i, l := range lines {
		if i > 0 {
			out += "\n"
		}
		out += layout.Cut(l, size.W)
	}
	return out
}
