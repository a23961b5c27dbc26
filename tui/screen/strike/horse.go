package strike

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// find is the one horse that a text means: its name or chip, or a text that
// occurs in only one horse's name, owner, place or chip.
func (s *screen) find(text string) (exam.Horse, error) {
	want := strings.ToLower(notation.CleanLine(text, 0))
	var exact, near []exam.Horse
	for _, h := range s.horses {
		switch {
		case h.Called(want) || h.HasChip(want):
			exact = append(exact, h)
		case h.Matches(want):
			near = append(near, h)
		}
	}
	switch {
	case len(exact) == 1 && exact[0].Is(s.visit.Horse.ID) && s.visit.Stands():
		return exam.Horse{}, &notation.Refusal{Why: "the visit is on this horse already"}
	case len(exact) == 1:
		return exact[0], nil
	case len(exact) > 1:
		return exam.Horse{}, &notation.Refusal{Why: fmt.Sprintf("%d horses have this name: type the chip, or the owner", len(exact))}
	case len(near) == 1:
		return near[0], nil
	case len(near) > 1:
		return exam.Horse{}, &notation.Refusal{Why: fmt.Sprintf("%d horses match: type the whole name", len(near))}
	}
	return exam.Horse{}, &notation.Refusal{Why: "no horse has this name, owner or chip; add the horse first, or leave this empty"}
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
