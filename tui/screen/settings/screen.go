// Package settings is the screen of a machine's choices: who examines, what is
// offered first, how firm a count must be, how the screen looks. A choice is
// stored as it is made; none of them changes the record.
package settings

import (
	"reflect"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	now    exam.Settings // as chosen; deps holds what is stored
	rows   []row
	states map[exam.SettingKey]exam.SettingState // of the practice, and who set what
	wanted []wish                                // of the practice, to be saved
	cursor list.List
	first  int        // line at the top
	typed  *form.Text // not nil while a setting is typed

	saving  bool
	again   bool // chosen anew while the choice before was being stored
	leaving bool // esc was pressed meanwhile
}

// New makes the screen of the settings.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{Screen: base.Screen{Deps: deps}}
	s.Load = s.load
	s.read()
	return s
}

// read takes what is stored.
func (s *screen) read() {
	s.now = s.Deps.Settings
	s.build()
}

func (s *screen) Title() string { return "Settings" }
func (s *screen) Typing() bool  { return s.typed != nil }

// Typed is the setting that is typed: it can be taken back.
func (s *screen) Typed() keys.Light {
	if s.typed == nil || s.saving {
		return nil
	}
	return s.typed
}

// Right says what becomes of a choice.
func (s *screen) Right() string {
	if s.saving {
		return "saving .."
	}
	return "saved as you choose"
}

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

// Escape closes the text that is typed, and waits for a choice on its way to
// the disk, so that its refusal is not lost with the screen.
func (s *screen) Escape() bool {
	if s.typed != nil {
		s.typed = nil
		return true
	}
	s.leaving = s.saving
	return s.saving
}

func (s *screen) here() row { return s.rows[s.cursor.Cursor] }

func (s *screen) Keys() []keys.Binding {
	if s.typed != nil {
		return []keys.Binding{
			keys.Accept().With("save", "save what is typed"),
			keys.TakeBack().With("erase", "remove the last letter"),
		}
	}
	move := []keys.Binding{keys.Up(), keys.Down()}
	switch r := s.here(); {
	case r.choice != nil:
		list := append([]keys.Binding{
			keys.Accept().With("next", "take the next choice; saved at once"),
			keys.Left().With("choose", "take the choice beside; saved at once"),
			keys.Right(), keys.Digit().With("", "take a choice by its number"),
		}, move...)
		if r.label == routineLabel {
			list = append(list, keys.MoveGroups())
		}
		return list
	case r.label == practiceLabel:
		return append([]keys.Binding{keys.Choose().With("open", "open the tap practice")}, move...)
	case r.label == shareLabel:
		return append([]keys.Binding{keys.Choose().With("open", "open the page of several laptops")}, move...)
	}
	return append([]keys.Binding{keys.Accept().With("type", "type it; enter saves it, esc keeps the old one")}, move...)
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case savedSettingsMsg:
		return s.saved(m)
	case nav.ShownMsg:
		if !s.saving {
			s.read() // the practice may have stored something
		}
		return s.load()
	case nav.SettingsMsg: // of another laptop
		if !s.saving && s.typed == nil && !reflect.DeepEqual(s.now.Common, m.Settings.Common) {
			s.now.Common = m.Settings.Common
			s.build()
			return s.load()
		}
	case keys.Press:
		return s.press(m)
	default:
		return s.Screen.Update(msg)
	}
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.typed != nil {
		return s.write(p)
	}
	if s.cursor.Move(p, len(s.rows)) {
		return nil
	}
	r := s.here()
	switch {
	case r.label == routineLabel && keys.MoveGroups().Is(p) && !s.saving:
		return nav.Go(nav.Address{Screen: nav.Order, Routine: r.choice.Chosen()})
	case r.choice != nil:
		return s.choose(r, p)
	case !keys.Accept().Is(p):
	case r.label == practiceLabel:
		return nav.Go(nav.Address{Screen: nav.Practice})
	case r.label == shareLabel:
		return nav.Go(nav.Address{Screen: nav.Share})
	default:
		w := r.text
		s.typed = form.NewText(r.label, w.text, w.most, w.check, s.options()).Hint(func(string) string { return w.hint })
	}
	return nil
}

func (s *screen) options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.now}
}

// write hands a key to the text.
func (s *screen) write(p keys.Press) tea.Cmd {
	if s.typed.Press(p) != entry.Accepted {
		return nil
	}
	s.put(s.here(), s.typed.Content())
	s.typed = nil
	s.build()
	return s.store()
}

// choose takes another choice of a row, and stores it if it is one.
func (s *screen) choose(r row, p keys.Press) tea.Cmd {
	before := r.choice.Chosen()
	if keys.Accept().Is(p) {
		r.next()
	} else {
		r.choice.Press(p)
	}
	if r.choice.Chosen() == before {
		return nil
	}
	s.put(r, r.choice.Chosen())
	return s.store()
}

// put takes what was chosen or typed for a row.
func (s *screen) put(r row, text string) {
	switch {
	case r.key == "":
		r.put(&s.now, text)
	case text == goOut:
		s.wishes(r.key, "")
	default:
		s.wishes(r.key, text)
	}
}

// store writes the choices, one writing at a time, the newest last.
func (s *screen) store() tea.Cmd {
	switch {
	case s.saving:
		s.again = true
		return nil
	case s.unchanged():
		return nil
	}
	s.saving = true
	return s.save()
}
