package home

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/nav"
	"loosebox/tui/screen/list"
)

// finder is the search as something that is typed into.
type finder struct {
	*list.Find
	s *screen
}

// Keep keeps what is looked for, and the cursor.
func (f finder) Keep() func() {
	find, cursor := f.s.find, f.s.cursor
	return func() {
		f.s.find = find
		f.s.filter()
		f.s.cursor = cursor
	}
}

// TakeScan opens the horse whose chip was read. While a horse is looked for, it is
// looked for by its chip. With a chip that no horse has, a new one can be written
// down.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	h, one := scan.One()
	switch {
	case s.finding:
		s.find = list.Find{Text: scan.Chip}
		s.lookAgain()
		return nil, one
	case one:
		return nav.Go(nav.Address{Screen: nav.Horse, Horse: h.ID}), true
	case len(scan.Whose) == 0:
		s.chip = scan.Chip
		return nav.Say(scan.Words() + " n adds a new horse with it."), true
	}
	return nil, false
}
