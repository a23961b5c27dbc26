package settle

import (
	"fmt"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// chosen is the form by which somebody chooses what the practice uses, where two laptops set
// different things.
type chosen struct {
	form.Screen
	key    exam.SettingKey
	values []exam.Setting // that differ
	lines  []exam.Hash    // that stand

	row *form.OneOf
	by  *form.Text
}

func newChosen(deps *nav.Deps, key exam.SettingKey) nav.Screen {
	s := &chosen{key: key}
	s.Set(deps, s.load, s.save, "esc again leaves; nothing is settled")
	return s
}

func (s *chosen) load() tea.Cmd {
	store, key := s.Deps.Store, s.key
	return base.Read(s, func() (exam.SettingState, error) {
		list, err := store.PracticeSettings()
		for _, state := range list {
			if state.Key == key && state.Differ() {
				return state, base.Unread("this setting", err)
			}
		}
		return exam.SettingState{}, base.Unread("this setting", err)
	}, s.build)
}

func (s *chosen) Title() string { return "To settle: " + s.key.Called() }

func (s *chosen) build(state exam.SettingState) tea.Cmd {
	values := settle.Choices(state)
	s.values, s.lines = values, state.Lines()
	if len(values) == 0 {
		return nil
	}
	o := s.Options()
	choices := make([]exam.Choice, len(values))
	for i, v := range values {
		choices[i] = exam.Choice{Key: strconv.Itoa(i), Words: layout.Cut(v.Shown(), 24), Hint: "the practice uses this one"}
	}
	choices = append(choices, exam.Choice{Key: leaveIt, Words: "not decided", Hint: fmt.Sprintf("in use until somebody chooses: %s", state.InUse().Shown())})
	s.row = form.NewOneOf("it uses", choices, leaveIt, o)
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	f := form.New(s.Deps.Theme, "save what the practice uses", "save")
	f.Add(s.row, nil)
	s.Begin(f.With(s.by))
	return nil
}

func (s *chosen) save() tea.Cmd {
	i, err := strconv.Atoi(s.row.Chosen())
	if err != nil || i >= len(s.values) {
		s.Said = "nothing is chosen: choose with left and right"
		s.Form.Go(s.row)
		return nil
	}
	store := s.Deps.Store
	// What came in since is not settled by it.
	set := exam.Setting{Key: s.key, Value: s.values[i].Value, By: s.by.Content(), At: s.Deps.Now(), Replaces: s.lines}
	return base.Write(s, func() (exam.Settings, error) {
		err := store.SaveSetting(set)
		if err != nil {
			return exam.Settings{}, fmt.Errorf("NOT saved; what you chose is still here: %w", err)
		}
		return store.Settings()
	}, func(now exam.Settings) tea.Cmd {
		own := s.Deps.Settings
		own.Common = now.Common
		return tea.Sequence(nav.Settled(own), nav.Back())
	})
}

func (s *chosen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the settings .."
	case len(s.values) == 0:
		return "Nothing of this setting is to be settled."
	}
	lines := s.Faint("Two laptops set this without knowing of each other. What you choose reaches every laptop.", size.W)
	for i, v := range s.values {
		text := fmt.Sprintf("%s: %s", v.Shown(), v.Who())
		if i == len(s.values)-1 {
			text += "; in use now"
		}
		lines = append(append(lines, ""), layout.Wrap(notation.CleanLine(text, 0), size.W)...)
	}
	return s.Draw(size, append(lines, ""))
}
