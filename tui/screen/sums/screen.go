// Package sums is the screen of the sums that are done beside a horse: which one, its fields filled in from the record
// as far as that goes, and the answer with its working as it is typed. Nothing is stored, and no dose is proposed.
package sums

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
	"loosebox/tui/screen/source"
)

type screen struct {
	base.Screen
	id     exam.HorseID // empty for no horse of the record
	in     sums.In
	cursor list.List

	sum    *sums.Sum // nil while one is chosen
	rows   map[string]form.Widget
	form   *form.Form
	result *sums.Result
	err    error
	origin source.Panel
}

// New makes the sums of the horse in the address, or of none.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, in: sums.In{Syringes: deps.Syringes, Units: deps.Settings.Units}}
	s.Screen = base.Screen{Deps: deps, Loaded: s.id == "", Press: s.press}
	return s
}

// Init reads the horse, once: what was filled in stays.
func (s *screen) Init() tea.Cmd {
	deps, id := s.Deps, s.id
	if id == "" {
		return nil
	}
	return base.Read(s, func() (in sums.In, err error) {
		if in.Horse, err = deps.Store.Horse(id); err != nil {
			return in, base.Unread("this horse", err)
		}
		in.Visits, err = deps.Store.Past(id, 0)
		return in, base.Unread("the visits of this horse", err)
	}, func(in sums.In) tea.Cmd {
		s.in.Horse, s.in.Visits = in.Horse, in.Visits
		return nil
	})
}

func (s *screen) Title() string {
	title := "Calculators"
	if s.sum != nil {
		title = "Calculators: " + s.sum.Name
	}
	if s.in.Known() {
		title += " · " + notation.CleanLine(s.in.Horse.Name, 40)
	}
	return title
}

func (s *screen) Right() string      { return "nothing is saved" }
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

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case !s.Loaded || s.origin.Press(p):
	case s.sum == nil:
		s.choose(p)
	case s.form.Press(p) == form.Ignored:
		if keys.Source().Is(p) && !s.form.Typing() && s.result != nil {
			s.origin.Show(s.sum.Name, parts(s.result))
		}
	default:
		s.work()
	}
	return nil
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
	s.in.Now = s.Deps.Now()
	s.sum, s.rows = &sum, map[string]form.Widget{}
	s.form = form.New(s.Deps.Theme, "work it out", "work out")
	known := sum.Begin(s.in)
	o := entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
	for _, f := range sum.Fields(s.in) {
		var row form.Widget
		if len(f.Choices) > 0 {
			row = form.NewOneOf(f.Label, f.Choices, known[f.Key], o)
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
		case *form.OneOf:
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

func parts(r *sums.Result) []explain.Section {
	out := []explain.Section{{Head: "The answer", Lines: append([]string{r.Head}, r.More...)}, {Head: "Working", Lines: r.Working}}
	if len(r.Warnings) > 0 {
		out = append(out, explain.Section{Head: "Check this", Lines: r.Warnings})
	}
	return append(out, explain.Section{Head: "Source", Lines: r.Source})
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the visits .."
	case s.origin.Open():
		return s.origin.Draw(s.Deps.Theme, size)
	}
	return s.draw(size)
}
