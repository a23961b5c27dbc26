// Package marks is the screen of one rehearsal's marks: what to do better, every mark with its reason, and the truth for each
// answer.
package marks

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

type screen struct {
	base.Screen
	id exam.VisitID
	read
	offer   offer // the tap scatter of this rehearsal
	offered bool
	kept    bool

	items  []item
	cursor int
	first  int  // row at the top of the window
	height int  // of the window when it was drawn last
	why    bool // how the mark under the cursor is made is shown
	drawn  drawn
}

// item is one mark; the first of a block carries the title.
type item struct {
	title string
	rehearse.MarkLine
}

// New makes the marks of the rehearsal in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	if s.marks.Title == "" {
		return "Marks"
	}
	return "Marks · " + notation.CleanLine(s.marks.Title, 60)
}

// Right says whose marks they are; that it was a rehearsal is said there too where the frame does not.
func (s *screen) Right() string {
	if s.Deps.Patient == nil {
		return nav.RehearsalSign
	}
	return notation.CleanLine(s.marks.By, 40)
}

// Escape closes what is explained.
func (s *screen) Escape() bool {
	was := s.why
	s.why = false
	return was
}

func (s *screen) Keys() []keys.Binding {
	none := ""
	if len(s.items) == 0 {
		none = "there are no marks"
	}
	keep := keys.Keep()
	switch {
	case !s.offered:
		keep = keep.OffIf("there is no tapped count of the heart")
	case s.kept:
		keep = keep.OffIf("it is saved already")
	default:
		keep = keep.OffIf(s.offer.off)
	}
	return []keys.Binding{
		keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Source().With("why", "how the mark under the cursor is made, and how the step is done").OffIf(none),
		keep, keys.NewRehearsal().OffIf(none), keys.Progress(), keys.PageDown(),
	}
}

// Update makes the offer anew with other settings.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(nav.SettingsMsg); ok {
		s.gather()
	}
	return s.Screen.Update(msg)
}

func (s *screen) take(r read) tea.Cmd {
	s.read, s.Loaded = r, true
	if s.none != "" {
		s.marks = rehearse.Marks{}
	}
	s.gather()
	return nil
}

// gather makes the items anew.
func (s *screen) gather() {
	s.items, s.drawn = nil, drawn{}
	if !s.Loaded || s.none != "" {
		return
	}
	s.offer, s.offered = s.offerOf(s.marks)
	for _, b := range rehearse.Page(s.marks) {
		s.add(b)
		if b.Title == "Counts" && s.offered {
			s.add(s.offerBlock())
		}
	}
	s.cursor = max(min(s.cursor, len(s.items)-1), 0)
}

func (s *screen) add(b rehearse.Block) {
	for i, l := range b.Lines {
		it := item{MarkLine: l}
		if i == 0 {
			it.title = b.Title
		}
		s.items = append(s.items, it)
	}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case keys.Progress().Is(p):
		return nav.Go(nav.Address{Screen: nav.Progress})
	case len(s.items) == 0:
	case s.move(p):
	case keys.Source().Is(p):
		s.why = !s.why
	case keys.Keep().Is(p):
		return s.keep()
	case keys.NewRehearsal().Is(p):
		to := nav.Address{Screen: nav.Rehearse, Routine: s.marks.Routine, Play: &nav.Play{Case: s.marks.Case}}
		return tea.Sequence(nav.ToHome(), nav.Go(to)) // home is a screen of the record, not of the rehearsal
	}
	return nil
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return layout.Cut("Marking ..", size.W)
	case s.none != "":
		return s.drawNone(size)
	}
	return s.draw(size)
}
