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

// namesake is a warning about another horse of the same name, because the horse may be entered twice; empty where there is
// none, or the name was not changed.
func (s *screen) namesake(text string) string {
	name := folded(text)
	if who, taken := s.named[name]; taken && (s.id == "" || name != folded(s.before.Name)) {
		return "another horse in the record has this name: " + who
	}
	return ""
}

// folded is a name in lower case with single blanks, for comparing names that people type differently.
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

// doubt is a warning about a chip number that can be saved but should be checked: it is another horse's, or not valid, or the
// reader sent it in another form. Empty for any other, and where it was not changed.
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
