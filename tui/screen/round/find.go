package round

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

// finder looks for a horse to pick.
type finder struct {
	loaded bool
	list.Find
	all    []exam.Horse
	shown  []exam.Horse
	cursor list.List
}

func (s *screen) search() tea.Cmd {
	store := s.Deps.Store
	type list struct {
		found []exam.Found
		err   error
	}
	return base.Read(s, func() (list, error) {
		found, err := store.Horses()
		return list{found, base.Unread("the list of horses", err)}, nil
	}, func(l list) tea.Cmd {
		switch {
		case s.find == nil:
			return nil
		case l.err != nil:
			s.find = nil
			return nav.Fail(l.err)
		}
		for _, f := range l.found {
			s.find.all = append(s.find.all, f.Horse)
		}
		s.find.loaded = true
		s.find.filter()
		return nil
	})
}

// filter leaves the horses in which every word of the search occurs.
func (f *finder) filter() {
	f.shown = f.shown[:0]
	for _, h := range f.all {
		fits := true
		for _, word := range strings.Fields(f.Text) {
			fits = fits && h.Matches(word)
		}
		if fits {
			f.shown = append(f.shown, h)
		}
	}
	f.cursor.Keep(len(f.shown))
}

func (f *finder) keys() []keys.Binding {
	choose := keys.Choose().With("choose", "put the horse under the cursor on the round")
	if len(f.shown) == 0 {
		choose = choose.OffIf("no horse is under the cursor")
	}
	return []keys.Binding{choose, keys.Up(), keys.Down(), keys.TakeBack().With("erase", "remove the last letter of the search")}
}

// look hands a key to the search.
func (s *screen) look(p keys.Press) tea.Cmd {
	f := s.find
	if f.cursor.Move(p, len(f.shown)) {
		return nil
	}
	if keys.Choose().Is(p) {
		if len(f.shown) > 0 {
			return s.open(pick, round.Call{Horse: f.shown[f.cursor.Cursor]})
		}
		return nil
	}
	if !f.Press(p) {
		return nil
	}
	f.cursor.Cursor = 0
	f.filter()
	return nil
}
