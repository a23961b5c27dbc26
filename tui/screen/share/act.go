package share

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// choose takes a key of the list.
func (s *screen) choose(p keys.Press) tea.Cmd {
	acts := s.state.Acts
	switch {
	case s.cursor.Move(p, len(acts)):
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(acts) {
			s.cursor.Cursor = i
			return s.fresh(acts[i].Name)
		}
	case keys.Choose().Is(p) && len(acts) > 0:
		return s.fresh(acts[s.cursor.Cursor].Name)
	}
	return nil
}

// fresh opens the form of an act as things stand now: a stick may have come with a file that
// the form proposes.
func (s *screen) fresh(name string) tea.Cmd {
	return s.read(func() tea.Cmd {
		for i := range s.state.Acts {
			if s.act == nil && s.state.Acts[i].Name == name {
				return s.begin(&s.state.Acts[i])
			}
		}
		return nil
	})
}

// begin opens the form of an act; what takes time to learn is proposed when it is known.
func (s *screen) begin(a *nav.ShareAct) tea.Cmd {
	s.act, s.rows = a, nil
	s.form = form.New(s.Deps.Theme, a.Button, a.Button)
	o := entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
	for _, f := range a.Fields {
		var r row
		if f.Secret {
			r = &secret{label: f.Label, hint: f.Hint}
		} else {
			r = form.NewText(f.Label, f.Text, maxField, form.Needed("this line is needed"), o).Hint(func(string) string { return f.Hint })
		}
		s.rows = append(s.rows, r)
		s.form.With(r)
	}
	s.form.Begin()
	if a.Propose == nil {
		return nil
	}
	return base.Read(s, func() ([]string, error) { return a.Propose(), nil }, func(texts []string) tea.Cmd {
		if s.act == a {
			s.propose(texts)
		}
		return nil
	})
}

// propose puts texts into the lines in which nothing stands yet; nobody typed them.
func (s *screen) propose(texts []string) {
	typed := s.form.Changed()
	for i, text := range texts[:min(len(texts), len(s.rows))] {
		if r, ok := s.rows[i].(*form.Text); ok && r.Content() == "" {
			r.Put(text)
		}
	}
	if !typed {
		s.form.Begin()
	}
}

// maxField is the longest text of a line, in characters: a path.
const maxField = 500

// answer takes yes or no about six words; no other key is an answer.
func (s *screen) answer(p keys.Press) tea.Cmd {
	switch {
	case yes().Is(p):
		return s.run(s.step.Then)
	case no().Is(p):
		s.step = &nav.ShareStep{Say: []string{"Nothing was changed.", "It may be another laptop's file: make it anew and bring it yourself."}}
	}
	return nil
}

// run does a part of an act in a command. Where it fails the form stands as it was.
func (s *screen) run(do func() (nav.ShareStep, error)) tea.Cmd {
	s.busy = true
	return base.Read(s, func() (result, error) {
		step, err := do()
		return result{step, err}, nil
	}, func(r result) tea.Cmd {
		s.busy = false
		if r.err != nil {
			s.step = nil
			return nav.Fail(r.err)
		}
		s.step = &r.step
		return nil
	})
}

// result carries an error past the frame: the form is opened again before it is shown.
type result struct {
	step nav.ShareStep
	err  error
}
