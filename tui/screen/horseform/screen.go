// Package horseform is the screen on which a horse is written down, or what is
// known of it is changed. A change is a new revision; earlier ones are kept.
package horseform

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	deps   *nav.Deps
	id     exam.HorseID // empty for a new horse
	loaded bool
	before exam.Horse        // as stored
	chips  map[string]string // names of the horses that have a chip, by number
	read   nav.Scan          // the chip that a reader typed last
	rows   rows
	form   *form.Form

	saving bool
	asked  string // what was asked once: the second press does it
	said   string
}

// New makes the form of the horse in the address, or of a new one.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{deps: deps, id: to.Horse}
	if s.id == "" {
		s.build(exam.Horse{Kind: exam.AnimalHorse, Sex: exam.SexUnknown})
		s.rows.chip.Put(to.Chip) // behind what the form began with: it is a change
	}
	return s
}

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	switch {
	case s.id == "":
		return "New horse"
	case !s.loaded:
		return "Edit"
	}
	return "Edit · " + exam.CleanLine(s.before.Name, 0)
}

// Right says which revision would be saved.
func (s *screen) Right() string {
	if s.before.Revision > 0 {
		return fmt.Sprintf("revision %d", s.before.Revision+1)
	}
	return ""
}

func (s *screen) Cautions() []string { return nil }
func (s *screen) Typing() bool       { return s.loaded && s.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if !s.loaded || s.saving {
		return nil
	}
	return s.form
}

func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.form.Keys()
}

// Questions that are asked once.
const (
	askLeave = "leave"
	askChip  = "chip"
)

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

// Escape asks once before what was typed is thrown away.
func (s *screen) Escape() bool {
	if !s.loaded || !s.form.Changed() || s.asked == askLeave {
		return false
	}
	s.asked, s.said = askLeave, "esc again leaves without saving what you typed; ctrl+s saves it"
	return true
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedFormMsg:
		return s.take(m)
	case savedHorseMsg:
		return s.saved(m)
	case keys.Press:
		return s.press(m)
	}
	return nil
}

func (s *screen) take(m loadedFormMsg) tea.Cmd {
	if m.of != s {
		return nil
	}
	if m.err != nil {
		return nav.Fail(m.err)
	}
	s.chips = m.chips
	if s.loaded {
		return nil
	}
	s.before = m.horse
	s.build(m.horse)
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.loaded || s.saving {
		return nil
	}
	if s.form.Press(p) != form.Save {
		s.asked, s.said = "", ""
		return nil
	}
	if !s.form.Check() {
		s.asked, s.said = "", "nothing is saved yet: look at the line under the cursor"
		return nil
	}
	if doubt := s.doubt(s.rows.chip.Content()); doubt != "" && s.asked != askChip {
		s.form.Go(s.rows.chip)
		s.asked = askChip
		s.said = doubt + ": look at it again, or ctrl+s once more saves it so"
		return nil
	}
	s.asked, s.said, s.saving = "", "", true
	return s.save()
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the horse .."
	}
	t := s.deps.Theme
	var foot []string
	switch {
	case s.saving:
		foot = []string{t.Faint.Render("saving ..")}
	case s.said != "":
		for _, line := range layout.Wrap("! "+s.said, size.W) {
			foot = append(foot, t.Error.Render(line))
		}
	}
	room := max(size.H-len(foot), 1)
	lines := layout.Fit(s.form.Lines(layout.Size{W: size.W, H: room}), layout.Size{W: size.W, H: room})
	return join(append(lines, foot...), size.H)
}
