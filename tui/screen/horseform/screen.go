// Package horseform is the screen on which a horse is entered or changed. A change is a new revision; earlier ones are kept.
package horseform

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id     exam.HorseID      // empty for a new horse
	before exam.Horse        // as stored
	chips  map[string]string // names of the horses that have a chip, by number
	named  map[string]string // who the other horses are, by name
	read   nav.Scan          // the chip that a reader typed last
	rows   rows
}

// New makes the form of the horse in the address, or of a new one.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse}
	s.Set(deps, s.load, s.store, form.EscDiscards)
	s.Storing = "saving .."
	if s.id == "" {
		s.build(exam.Horse{Kind: exam.AnimalHorse, Sex: exam.SexUnknown})
		s.rows.chip.Put(to.Chip) // behind what the form began with: it is a change
	}
	return s
}

func (s *screen) Title() string {
	switch {
	case s.id == "":
		return "New horse"
	case !s.Loaded:
		return "Change"
	}
	return "Change · " + notation.CleanLine(s.before.Name, 0)
}

// Right says which revision would be saved.
func (s *screen) Right() string {
	if s.before.Revision > 0 {
		return fmt.Sprintf("revision %d", s.before.Revision+1)
	}
	return ""
}

func (s *screen) View(size layout.Size) string {
	if s.Form == nil {
		return "Reading the horse .."
	}
	return s.Draw(size, nil)
}
