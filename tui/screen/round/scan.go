package round

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// typedOn is what is asked, or the search; nil for the list.
func (s *screen) typedOn() keys.Light {
	switch {
	case s.ask != nil && s.ask.form != nil:
		return s.ask.form
	case s.ask != nil && s.ask.line != nil:
		return s.ask.line
	case s.ask == nil && s.find != nil:
		return s.find
	}
	return nil
}

// Keep keeps what is looked for, and the cursor.
func (f *finder) Keep() func() {
	text, cursor := f.Text, f.cursor
	return func() {
		f.Text = text
		f.filter()
		f.cursor = cursor
	}
}

// TakeScan opens the horse whose chip was read, or looks for it among those to
// pick.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	h, one := scan.One()
	switch {
	case s.ask != nil || s.Saving():
		return nil, false
	case s.find != nil:
		s.find.Text = scan.Chip
		s.find.cursor.Cursor = 0
		s.find.filter()
		return nil, one
	case one:
		return nav.Go(nav.Address{Screen: nav.Horse, Horse: h.ID}), true
	}
	return nil, false
}
