package round

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/list"
)

// maxFind is the longest search, in characters.
const maxFind = 40

// finder looks for a horse to pick.
type finder struct {
	loaded bool
	text   string
	all    []exam.Horse
	shown  []exam.Horse
	cursor list.List
}

// foundHorsesMsg lists the horses of the record.
type foundHorsesMsg struct {
	to     *screen
	horses []exam.Horse
	err    error
}

func (s *screen) search() tea.Cmd {
	store := s.deps.Store
	return func() tea.Msg {
		found, err := store.Horses()
		if err != nil {
			return foundHorsesMsg{to: s, err: fmt.Errorf("the list of horses cannot be read; nothing was changed: %w", err)}
		}
		m := foundHorsesMsg{to: s, horses: make([]exam.Horse, len(found))}
		for i, f := range found {
			m.horses[i] = f.Horse
		}
		return m
	}
}

func (s *screen) found(m foundHorsesMsg) tea.Cmd {
	if m.to != s || s.find == nil {
		return nil
	}
	if m.err != nil {
		s.find = nil
		return nav.Fail(m.err)
	}
	s.find.loaded, s.find.all = true, m.horses
	s.find.filter()
	return nil
}

// filter leaves the horses in which every word of the search occurs.
func (f *finder) filter() {
	f.shown = f.shown[:0]
	for _, h := range f.all {
		fits := true
		for _, word := range strings.Fields(f.text) {
			fits = fits && h.Matches(word)
		}
		if fits {
			f.shown = append(f.shown, h)
		}
	}
	f.cursor.Keep(len(f.shown))
}

func (f *finder) keys() []keys.Binding {
	choose := keys.Choose().With("pick", "put the horse under the cursor on the round")
	if len(f.shown) == 0 {
		choose = choose.OffIf("no horse is under the cursor")
	}
	return []keys.Binding{choose, keys.Up(), keys.Down(), keys.TakeBack().With("take back", "take the last letter of the search back")}
}

// look hands a key to the search.
func (s *screen) look(p keys.Press) tea.Cmd {
	f := s.find
	if f.cursor.Move(p, len(f.shown)) {
		return nil
	}
	switch {
	case keys.Choose().Is(p):
		if len(f.shown) > 0 {
			return s.open(pick, round.Call{Horse: f.shown[f.cursor.Cursor]})
		}
		return nil
	case keys.TakeBack().Is(p):
		if r := []rune(f.text); len(r) > 0 {
			f.text = string(r[:len(r)-1])
		}
	default:
		text, ok := keys.Text(p)
		if !ok {
			return nil
		}
		if text != " " {
			text = exam.CleanLine(text, maxFind)
		}
		if len([]rune(f.text))+len([]rune(text)) > maxFind {
			return nil
		}
		f.text += text
	}
	f.cursor.Cursor = 0
	f.filter()
	return nil
}
