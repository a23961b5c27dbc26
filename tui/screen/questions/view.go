package questions

import (
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// Title and the rest make it a nav.Screen.
func (s *Screen) Title() string {
	if !s.Loaded {
		return string(s.name)
	}
	return s.script.Title()
}

// Right is the right part of the top line.
func (s *Screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return s.script.State()
}

// Cautions are the horse's own, after what its findings call for.
func (s *Screen) Cautions() []string { return procedure.InSight(s.at.Visit, s.at.Horse) }

// Typing says that letters are text now.
func (s *Screen) Typing() bool { return s.Loaded && s.part.Typing() && !s.open && !s.origin.Open() }

// sourced says that the screen shows numbers that come from somewhere. Nothing
// but the lock is shown while it is locked.
func (s *Screen) sourced() bool {
	return s.ready() && !s.question.Locked && len(s.script.Sources()) > 0
}

// Escape closes what is open within the screen, or goes back to the question before;
// where leaving leaves something open it asks once.
func (s *Screen) Escape() bool {
	if s.open {
		s.open = false
		return true
	}
	if s.origin.Close() {
		return true
	}
	switch {
	case !s.Loaded:
		return false
	case s.part.Escape():
		return true
	case s.question.Leaving != "" && !s.asked:
		s.asked = true
		s.say(s.question.Leaving)
		return true
	case s.question.Back != nil:
		s.show(s.question.Back())
		return true
	}
	return false
}

// Keys are the part's, and the two that are always there.
func (s *Screen) Keys() []keys.Binding {
	if !s.Loaded {
		return nil
	}
	cautions := keys.Cautions()
	if s.Typing() {
		cautions = cautions.OffIf("letters are text on this line")
	}
	if s.open {
		return []keys.Binding{keys.Cautions().With("close", "")}
	}
	all := s.part.Keys()
	if s.origin.Open() {
		all = s.origin.Keys()
	}
	if s.name != nav.Dangers {
		all = append(all, keys.Dangers())
	}
	if s.origin.Open() {
		return all
	}
	all = append(all, cautions)
	if s.sourced() {
		ask := keys.Source().With("source", "show where the numbers come from")
		if s.Typing() {
			ask = ask.OffIf("letters are text on this line; move up or down first")
		}
		all = append(all, ask)
	}
	return all
}

// View draws the cautions, the part, and what was said.
func (s *Screen) View(size layout.Size) string {
	if !s.Loaded {
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
	if s.Saving() {
		said = "saving .."
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
