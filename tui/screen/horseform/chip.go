package horseform

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

// TakeScan writes a chip that was read into its line, where the cursor is there.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	took := s.TakeChip(scan.Chip)
	if took {
		s.read = scan
	}
	return nil, took
}

// doubts says what of the form somebody should look at again before it is saved, all at once, and the first line of it.
func (s *screen) doubts() (form.Widget, string) {
	chip, name := s.doubt(s.rows.chip.Content()), s.namesake(s.rows.name.Content())
	switch {
	case name == "":
		return s.rows.chip, chip
	case chip != "":
		name += "; " + chip
	}
	return s.rows.name, name
}

// namesake is a sentence about another horse of the same name: what is entered twice has half of its past on each page. Of
// a name that the horse had before there is none.
func (s *screen) namesake(text string) string {
	name := folded(text)
	if who, taken := s.named[name]; taken && (s.id == "" || name != folded(s.before.Name)) {
		return "another horse in the record has this name: " + who
	}
	return ""
}

// folded is a name without capitals and blanks, as two hands may type it differently.
func folded(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(notation.CleanLine(name, 0)), " "))
}

// who says which horse it is beside its name.
func who(h exam.Horse, now time.Time) string {
	words := fmt.Sprintf("%s, %s", h.Kind, h.AgeWords(now))
	if h.Owner != "" {
		words += ", owner " + notation.CleanLine(h.Owner, 30)
	}
	return words
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
