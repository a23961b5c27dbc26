// Package sums is the screen of the sums that are done beside a horse: which one, its fields filled in from the record
// as far as that goes, and the answer with its working as it is typed. Nothing is stored, and no dose is proposed.
package sums

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/sums"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
	"loosebox/tui/screen/source"
)

type screen struct {
	deps   *nav.Deps
	id     exam.HorseID // empty for no horse of the record
	loaded bool
	in     sums.In
	cursor list.List

	sum    *sums.Sum // nil while one is chosen
	rows   map[string]form.Row
	form   *form.Form
	result *sums.Result
	err    error
	origin source.Panel
}

// New makes the sums of the horse in the address, or of none.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	return &screen{deps: deps, id: to.Horse, in: sums.In{Syringes: deps.Syringes}}
}

type loadedSumsMsg struct {
	of     *screen
	horse  exam.Horse
	visits []exam.Visit
	err    error
}

func (s *screen) Init() tea.Cmd {
	deps, id := s.deps, s.id
	if id == "" {
		s.loaded = true
		return nil
	}
	return func() tea.Msg {
		h, err := deps.Store.Horse(id)
		if err != nil {
			return loadedSumsMsg{of: s, err: fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)}
		}
		visits, err := deps.Store.Past(id, 0)
		if err != nil {
			return loadedSumsMsg{of: s, err: fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)}
		}
		return loadedSumsMsg{of: s, horse: h, visits: visits}
	}
}

func (s *screen) Title() string {
	title := "Sums"
	if s.sum != nil {
		title = "Sums: " + s.sum.Name
	}
	if s.in.Known() {
		title += " · " + exam.CleanLine(s.in.Horse.Name, 40)
	}
	return title
}

func (s *screen) Right() string      { return "nothing is stored" }
func (s *screen) Cautions() []string { return s.in.Horse.Cautions }

// Typing says that letters are text: in a field, not on the last line.
func (s *screen) Typing() bool { return s.sum != nil && !s.origin.Open() && s.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if s.sum == nil || s.origin.Open() {
		return nil
	}
	return s.form
}

// Escape closes the sources, then the sum.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	was := s.sum != nil
	s.sum, s.result, s.err = nil, nil, nil
	return was
}

func (s *screen) Keys() []keys.Binding {
	switch {
	case s.origin.Open():
		return s.origin.Keys()
	case s.sum == nil:
		return []keys.Binding{keys.Digit(), keys.Up(), keys.Choose()}
	}
	out := s.form.Keys()
	if s.form.Typing() {
		return out
	}
	ask := keys.Source()
	if s.result == nil {
		ask = ask.OffIf("there is no answer yet")
	}
	return append(out, ask)
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedSumsMsg:
		if m.of != s {
			return nil
		}
		if m.err != nil {
			return nav.Fail(m.err)
		}
		s.loaded, s.in.Horse, s.in.Visits = true, m.horse, m.visits
	case keys.Press:
		s.press(m)
	}
	return nil
}

func (s *screen) press(p keys.Press) {
	switch {
	case !s.loaded || s.origin.Press(p):
	case s.sum == nil:
		s.choose(p)
	case s.form.Press(p) == form.Ignored:
		if keys.Source().Is(p) && !s.form.Typing() && s.result != nil {
			s.origin.Show(s.sum.Name, parts(s.result))
		}
	default:
		s.work()
	}
}

// choose takes a key while a sum is chosen.
func (s *screen) choose(p keys.Press) {
	all := sums.All()
	switch {
	case s.cursor.Move(p, len(all)):
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(all) {
			s.cursor.Cursor = i
			s.open(all[i])
		}
	case keys.Choose().Is(p):
		s.open(all[s.cursor.Cursor])
	}
}

// open puts the fields of a sum on the screen, filled in from the record.
func (s *screen) open(sum sums.Sum) {
	s.in.Now = s.deps.Now()
	s.sum, s.rows = &sum, map[string]form.Row{}
	s.form = form.New(s.deps.Theme, "work it out", "work out")
	known := sum.Begin(s.in)
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	for _, f := range sum.Fields(s.in) {
		var row form.Row
		if len(f.Choices) > 0 {
			row = form.NewChoice(f.Label, f.Choices, known[f.Key], o)
		} else {
			row = form.NewText(f.Label, known[f.Key], 40, f.Refuses, o).Fresh().Hint(func(string) string { return f.Words(s.values()) })
		}
		s.rows[f.Key] = row
		s.form.Add(row, func() bool { return !f.Asked(s.values()) })
	}
	s.work()
}

// values are what stands in the fields.
func (s *screen) values() sums.Values {
	v := sums.Values{}
	for key, row := range s.rows {
		switch r := row.(type) {
		case *form.Choice:
			v[key] = r.Chosen()
		case *form.Text:
			v[key] = r.Content()
		}
	}
	return v
}

// work finds the answer of what stands in the fields now.
func (s *screen) work() {
	s.result, s.err = nil, nil
	out, err := s.sum.Work(s.in, s.values())
	if err != nil {
		s.err = err
		return
	}
	r := out.Result()
	s.result = &r
}

func parts(r *sums.Result) []explain.Part {
	out := []explain.Part{{Head: "The answer", Lines: append([]string{r.Head}, r.More...)}, {Head: "Working", Lines: r.Working}}
	if len(r.Warnings) > 0 {
		out = append(out, explain.Part{Head: "To look at twice", Lines: r.Warnings})
	}
	return append(out, explain.Part{Head: "Source", Lines: r.Source})
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.loaded:
		return "Reading the visits .."
	case s.origin.Open():
		return s.origin.Draw(s.deps.Theme, size)
	}
	return s.draw(size)
}
