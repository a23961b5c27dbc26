package due

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/nav"
)

// TakeScan opens the horse whose chip was read. What is due for one horse is
// compared with it instead.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	h, one := scan.One()
	if !one || scan.Here != nil {
		return nil, false
	}
	return nav.Go(nav.Address{Screen: nav.Horse, Horse: h.ID}), true
}
