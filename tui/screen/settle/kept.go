package settle

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// kept is the form by which somebody keeps what stands of a horse where two laptops, or two
// records that were joined, say different things. Another value is typed on the horse's form.
type kept struct {
	form.Screen
	id    exam.HorseID
	horse exam.Horse

	fields []*form.OneOf // one for each field that differs
	by     *form.Text
}

// The answers about a field.
const (
	keepIt  = "keep"
	leaveIt = ""
)

func newKept(deps *nav.Deps, id exam.HorseID) nav.Screen {
	s := &kept{id: id}
	s.Set(deps, s.load, s.save, "esc again leaves; nothing is settled")
	return s
}

func (s *kept) load() tea.Cmd {
	store, id := s.Deps.Store, s.id
	return base.Read(s, func() (exam.Horse, error) {
		h, err := store.Horse(id)
		return h, base.Unread("this horse", err)
	}, s.build)
}

func (s *kept) Title() string {
	if !s.Loaded {
		return "To settle"
	}
	return "To settle · " + notation.CleanLine(s.horse.Name, 40)
}

func (s *kept) Cautions() []string { return s.horse.Cautions }

func (s *kept) build(h exam.Horse) tea.Cmd {
	s.horse, s.fields = h, nil
	o := s.Options()
	f := form.New(s.Deps.Theme, "save what is right", "save")
	for _, d := range h.Differ {
		var others []string
		for _, v := range d.Said[:len(d.Said)-1] {
			others = append(others, fmt.Sprintf("%s by %s", settle.OrNothing(v.Text), v.By))
		}
		last := d.Said[len(d.Said)-1]
		row := form.NewOneOf(layout.Cut(d.Name(), 14), []exam.Choice{
			{Key: keepIt, Words: notation.CleanLine(settle.OrNothing(last.Text), 40), Hint: "right, and not: " + strings.Join(others, ", ")},
			{Key: leaveIt, Words: "not decided", Hint: "the other one: e on the page of the horse. " + strings.Join(others, ", ")},
		}, leaveIt, o)
		s.fields = append(s.fields, row)
		f.Add(row, nil)
	}
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	s.Begin(f.With(s.by))
	return nil
}

func (s *kept) save() tea.Cmd {
	h := s.horse
	h.Revision++
	h.Settles = nil
	for i, d := range s.horse.Differ {
		if s.fields[i].Chosen() == keepIt {
			h.Settles = append(h.Settles, d.Field)
		}
	}
	if len(h.Settles) == 0 {
		s.Said = "nothing is chosen: press 1 where what stands is right"
		if len(s.fields) > 0 {
			s.Form.Go(s.fields[0])
		}
		return nil
	}
	store, by, at := s.Deps.Store, s.by.Content(), s.Deps.Now()
	return base.Write(s, func() (exam.Horse, error) {
		back, err := store.SaveHorse(h, by, at)
		if err != nil {
			err = fmt.Errorf("NOT saved; what you chose is still here: %w", err)
		}
		return back, err
	}, func(exam.Horse) tea.Cmd { return nav.Back() })
}

// Keys are those of the form, and e, which changes the horse.
func (s *kept) Keys() []keys.Binding {
	if s.Form == nil || s.Form.Typing() {
		return s.Screen.Keys()
	}
	return append(s.Screen.Keys(), keys.Edit())
}

// Update takes e beside what the form takes.
func (s *kept) Update(msg tea.Msg) tea.Cmd {
	if p, ok := msg.(keys.Press); ok && s.Form != nil && !s.Form.Typing() && !s.Saving() && keys.Edit().Is(p) {
		return nav.Replace(nav.Address{Screen: nav.NewForm, Horse: s.id})
	}
	return s.Screen.Update(msg)
}

func (s *kept) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the horse .."
	case len(s.fields) == 0:
		return "Nothing of this horse is to be settled."
	}
	return s.Draw(size, append(s.Faint("Two laptops or two records say different things. What was saved last stands. Press 1 where it is right; e changes it.", size.W), ""))
}
