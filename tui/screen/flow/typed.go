package flow

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// Typed is the part, where what is typed into it can be taken back.
func (s *Screen) Typed() keys.Light {
	if !s.loaded || s.saving || s.open || s.origin.Open() {
		return nil
	}
	part, _ := s.part.(keys.Light)
	return part
}

// TakeScan hands a chip that was read to the part.
func (s *Screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	part, ok := s.part.(ScanPart)
	if !ok || !s.loaded || s.saving {
		return nil, false
	}
	return part.TakeScan(scan)
}

// Light of a sheet is its form's; the keys beside the form answer.
func (f *Sheet) Light(p keys.Press) bool {
	for _, e := range f.more {
		if f.furtherKeys() && e.Binding.Is(p) {
			return false
		}
	}
	return f.form.Light(p) && (f.form.Typing() || keys.Digit().Is(p))
}

// Keep keeps the form, and what it has put into the answers.
func (f *Sheet) Keep() func() {
	back := f.form.Keep()
	return func() {
		back()
		for _, read := range f.read {
			read()
		}
	}
}
