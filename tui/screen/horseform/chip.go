package horseform

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// TakeScan writes a chip that was read into its line, where the cursor is there.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	took := s.TakeChip(scan.Chip)
	if took {
		s.read = scan
	}
	return nil, took
}

// doubt is a sentence about a chip that can be kept, but that somebody should look
// at again: another horse's, a number that should not be, or one that the reader
// sent in another form. Of the chip that the horse had before there is none.
func (s *screen) doubt(text string) string {
	chip, err := exam.ReadChip(text)
	if err != nil || chip == "" || chip == s.before.Chip {
		return ""
	}
	if name, taken := s.chips[chip]; taken {
		return fmt.Sprintf("this chip belongs to %s in the record", notation.CleanLine(name, 40))
	}
	if why := exam.ChipWarning(chip); why != "" {
		return why
	}
	if chip == s.read.Chip {
		return s.read.Doubt
	}
	return ""
}
