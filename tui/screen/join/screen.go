// Package join is the screen on which a person compares two records side by side and says that they are one horse, or two.
package join

import (
	"fmt"
	"maps"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id, to exam.HorseID
	record

	other    *form.Text // of a horse that was entered once
	verdict  *form.OneOf
	which    *form.OneOf // of a joined horse: the record to take out
	why, by  *form.Text
	visitsOf map[exam.HorseID]int
	others   []exam.Horse // that are not this one
	proposed exam.Horse   // of the others; no identity where none is
}

// record is what is read: the horse, and every horse it could be.
type record struct {
	horse  exam.Horse
	horses []exam.Found
	said   exam.Joinings
}

// The answers.
const (
	oneHorse  = "one"
	twoHorses = "two"
)

// New makes the screen about the horse of the address and, where it names one, the other.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, to: to.Other}
	s.Set(deps, s.load, s.save, "esc again leaves; nothing is joined or parted")
	return s
}

func (s *screen) load() tea.Cmd {
	store, id := s.Deps.Store, s.id
	return base.Read(s, func() (record, error) {
		h, err := store.Horse(id)
		if err != nil {
			return record{}, base.Unread("this horse", err)
		}
		found, err := store.Horses()
		if err != nil {
			return record{}, base.Unread("the horses in the record", err)
		}
		said, err := store.Joinings()
		return record{h, found, said}, base.Unread("the horses in the record", err)
	}, s.build)
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Entered twice"
	}
	return "Entered twice · " + notation.CleanLine(s.horse.Name, 40)
}

func (s *screen) Cautions() []string { return s.horse.Cautions }

// parting says that the screen is about the records of a horse that was joined.
func (s *screen) parting() bool { return s.other == nil }

func (s *screen) build(r record) tea.Cmd {
	s.record = r
	s.visitsOf = map[exam.HorseID]int{}
	s.others = nil
	for _, f := range r.horses {
		s.visitsOf[f.Horse.ID] = f.Visits
		if f.Horse.ID != r.horse.ID {
			s.others = append(s.others, f.Horse)
		} else if s.to == "" { // its records stand side by side
			maps.Copy(s.visitsOf, f.Each)
		}
	}
	o := s.Options()
	s.why = form.NewText("why", "", 0, nil, o).Hint(func(string) string { return "a few words for later readers; may be empty" })
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	if len(r.horse.Joined) > 0 && s.to == "" {
		s.buildParting()
		return nil
	}
	s.other = form.NewText("other record", s.propose(), 80, s.check, o).Hint(s.hint).Chip()
	s.verdict = form.NewOneOf("they are", []exam.Choice{
		{Key: oneHorse, Words: "one horse", Hint: "its visits, cautions and reactions are shown together; this can be undone"},
		{Key: twoHorses, Words: "two horses", Hint: "they stay apart and are not proposed again"},
		{Key: "", Words: "not decided", Hint: "look at both above first"},
	}, "", o)
	f := form.New(s.Deps.Theme, "save", "save").With(s.other, s.verdict, s.why, s.by)
	f.Named(func() (string, string) {
		switch s.verdict.Chosen() {
		case oneHorse:
			return "join them: one horse", "join"
		case twoHorses:
			return "keep them apart: two horses", "apart"
		}
		return "choose above: one horse or two", "save"
	})
	s.Begin(f)
	if s.other.Content() != "" {
		s.Form.Go(s.verdict)
	}
	return nil
}

// propose finds the other horse, the one of the address or one that looks like the same,
// and is its name.
func (s *screen) propose() string {
	other := s.to
	for _, d := range settle.Doubles(s.horses, s.said) {
		switch {
		case other != "":
		case d.One.ID == s.horse.ID:
			other = d.Other.ID
		case d.Other.ID == s.horse.ID:
			other = d.One.ID
		}
	}
	for _, h := range s.others {
		if h.ID == other {
			s.proposed = h
		}
	}
	return notation.CleanLine(s.proposed.Name, 60)
}

// find is the horse that a text means; the one that was proposed where its name stands.
func (s *screen) find(text string) (exam.Horse, error) {
	if s.proposed.ID != "" && strings.EqualFold(notation.CleanLine(s.proposed.Name, 60), notation.CleanLine(text, 0)) {
		return s.proposed, nil
	}
	return exam.OneHorse(s.others, text, "no other horse has this name, owner or chip")
}

func (s *screen) check(text string) error {
	if strings.TrimSpace(text) == "" {
		return &notation.Refusal{Why: "type the name, chip or owner of the other record"}
	}
	_, err := s.find(text)
	return err
}

func (s *screen) hint(text string) string {
	if text == "" {
		return "name, chip or owner of the record that may be the same horse"
	}
	h, err := s.find(text)
	if err != nil {
		return err.Error()
	}
	return strings.Join([]string{h.Name, h.Kind.String(), h.AgeWords(s.Deps.Now())}, ", ")
}

func (s *screen) save() tea.Cmd {
	j := exam.Joining{By: s.by.Content(), At: s.Deps.Now(), Why: s.why.Content()}
	switch {
	case s.parting():
		if s.which.Chosen() == "" {
			s.Said = "choose the record that is another horse; esc leaves it as it is"
			s.Form.Go(s.which)
			return nil
		}
		s.part(&j)
	case s.verdict.Chosen() == "":
		s.Said = "choose: one horse or two horses"
		s.Form.Go(s.verdict)
		return nil
	default:
		other, err := s.find(s.other.Content())
		if err != nil {
			return nav.Fail(err)
		}
		j.Apart, j.Horses = s.verdict.Chosen() == twoHorses, []exam.HorseID{s.horse.ID, other.ID}
	}
	store := s.Deps.Store
	return base.Write(s, func() (exam.Horse, error) {
		if err := store.Join(j); err != nil {
			return exam.Horse{}, fmt.Errorf("nothing was joined or parted: %w", err)
		}
		return store.Horse(j.Horses[0])
	}, func(h exam.Horse) tea.Cmd { return s.onward(h, j.Apart) })
}

// onward leads back; what is to be settled of a horse that was joined is said.
func (s *screen) onward(h exam.Horse, apart bool) tea.Cmd {
	said := nav.Done("Saved: they are two horses.")
	if n := len(h.Differ); !apart {
		said = nav.Done("Saved: one horse now.")
		if n > 0 {
			said = nav.Done(fmt.Sprintf("Saved: one horse now. %s to settle: ctrl+t at home.", notation.Counted(n, "field")))
		}
	}
	return tea.Sequence(nav.Back(), said)
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the horses .."
	}
	return s.Draw(size, s.beside(layout.Size{W: size.W, H: size.H - formLines}))
}

// TakeScan writes a chip that was read into the line of the other record.
func (s *screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) { return nil, s.TakeChip(scan.Chip) }
