// Package strike is the screen on which a visit that was entered on the wrong horse is voided, and entered again for the
// right one. Nothing is deleted: a voided visit stays readable, is marked everywhere and counts nowhere.
package strike

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id exam.VisitID
	record

	why, again, by *form.Text
}

// record is what is read of the record: the visit and every horse it could be of.
type record struct {
	visit  exam.Visit
	horses []exam.Horse
}

// New makes the screen that strikes the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Deps, s.Load, s.Store = deps, s.load, s.strike
	s.Leave = "esc again leaves; nothing is voided"
	s.Refused = "not voided yet: check the line under the cursor"
	return s
}

func (s *screen) load() tea.Cmd {
	store, id := s.Deps.Store, s.id
	return base.Read(s, func() (record, error) {
		v, err := store.Visit(id)
		if err != nil {
			return record{}, base.Unread("this visit", err)
		}
		found, err := store.Horses()
		r := record{visit: v, horses: make([]exam.Horse, len(found))}
		for i, f := range found {
			r.horses[i] = f.Horse
		}
		return r, base.Unread("the horses in the record", err)
	}, s.build)
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Void a visit"
	}
	return s.VisitTitle("Void", s.visit)
}

func (s *screen) Cautions() []string { return s.visit.Horse.Cautions }

func (s *screen) build(r record) tea.Cmd {
	s.record = r
	o, words, does, check := s.Options(), "void this visit", "void visit", s.checkHorse
	if r.visit.Struck != nil { // struck before, and not entered again
		words, does, check = "enter it again", "enter again", s.mustFind
	}
	s.why = form.NewText("why", "", 0, form.Needed("type why it is voided"), o).
		Hint(func(string) string {
			return "a few words for later readers: entered on the wrong horse"
		})
	s.again = form.NewText("right horse", "", 80, check, o).Hint(s.horseHint).Chip()
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	s.Begin(form.New(s.Deps.Theme, words, does).With(s.why, s.again, s.by))
	return nil
}

func (s *screen) strike() tea.Cmd {
	var again exam.HorseID
	if text := s.again.Content(); text != "" {
		h, err := s.find(text)
		if err != nil {
			return nav.Fail(err)
		}
		again = h.ID
	}
	store := s.Deps.Store
	e := exam.Entry{
		Visit: s.id, Kind: exam.EntryStruck, At: s.Deps.Now(), By: s.by.Content(), Amend: &exam.Amendment{Why: exam.AmendReason(s.why.Content())},
	}
	return base.Write(s, func() (exam.Visit, error) {
		_, entered, err := store.Strike(e, again)
		if err != nil {
			err = fmt.Errorf("the visit is NOT voided; nothing was changed: %w", err)
		}
		return entered, err
	}, onward)
}

// onward leads to the visit that counts now, or back to the struck one.
func onward(entered exam.Visit) tea.Cmd {
	if entered.ID == "" {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.Review, Visit: entered.ID})
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	done := 0
	for _, f := range s.visit.Findings {
		if f.Done() {
			done++
		}
	}
	text := fmt.Sprintf("%d findings by %s. A voided visit stays readable but counts nowhere. This cannot be undone.",
		done, notation.CleanLine(s.visit.By, 40))
	if n := len(s.visit.Injections) + len(s.visit.Draws); n > 0 {
		text += fmt.Sprintf(" It has %d injections or blood draws; entered again, they count for the right horse.", n)
	}
	head := append(s.Faint(text, size.W), "")
	if len(head)+3 > size.H {
		head = nil
	}
	return s.Draw(size, head)
}
