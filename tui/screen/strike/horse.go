package strike

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// find is the one horse that a text means; not the visit's own, while the visit stands.
func (s *screen) find(text string) (exam.Horse, error) {
	h, err := exam.OneHorse(s.horses, text, "no horse has this name, owner or chip; add the horse first, or leave this empty")
	if err == nil && h.Is(s.visit.Horse.ID) && s.visit.Stands() {
		return exam.Horse{}, &notation.Refusal{Why: "the visit is on this horse already"}
	}
	return h, err
}

func (s *screen) checkHorse(text string) error {
	if text == "" {
		return nil
	}
	_, err := s.find(text)
	return err
}

func (s *screen) mustFind(text string) error {
	if text == "" {
		return &notation.Refusal{Why: "type the right horse"}
	}
	return s.checkHorse(text)
}

func (s *screen) horseHint(text string) string {
	if text == "" {
		return "the horse that was examined; empty: voided and not entered again"
	}
	h, err := s.find(text)
	if err != nil {
		return err.Error()
	}
	words := []string{h.Name, h.Kind.String(), h.AgeWords(s.Deps.Now())}
	for _, more := range []string{h.Colour, h.Owner} {
		if more != "" {
			words = append(words, more)
		}
	}
	return "entered again for " + strings.Join(words, ", ")
}

// TakeScan writes a chip that was read into the line of the right horse, where the
// cursor is there.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) { return nil, s.TakeChip(scan.Chip) }
