// Package arrived is the list of visits that came in from other laptops since yesterday.
package arrived

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
)

// row is one visit and when it came.
type row struct {
	visit exam.Visit
	at    time.Time
}

type screen struct {
	base.Screen
	rows   []row
	cursor list.List
}

// New makes the list.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) load() tea.Cmd {
	deps := s.Deps
	return base.Read(s, func() ([]row, error) {
		if deps.Arrived == nil {
			return nil, nil
		}
		came, err := deps.Arrived(exam.SinceYesterday(deps.Now()))
		if err != nil {
			return nil, base.Unread("the visits that came in", err)
		}
		var out []row
		for _, a := range came {
			v, err := deps.Store.Visit(a.Visit)
			if errors.Is(err, exam.ErrNotFound) {
				continue // its beginning has not come yet
			}
			if err != nil {
				return nil, base.Unread("a visit that came in", err)
			}
			out = append(out, row{v, a.At})
		}
		return out, nil
	}, func(rows []row) tea.Cmd {
		s.rows = rows
		s.cursor.Keep(len(rows))
		return nil
	})
}

func (s *screen) Title() string { return "Arrived since yesterday" }

func (s *screen) Right() string { return s.Counted(len(s.rows), "visit") }

func (s *screen) Keys() []keys.Binding {
	return list.Keys(keys.Choose().With("open", "open the review of the visit under the cursor"), len(s.rows), "no visit came in")
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.cursor.Move(p, len(s.rows)) || !keys.Choose().Is(p) || len(s.rows) == 0 {
		return nil
	}
	v := s.rows[s.cursor.Cursor].visit
	return nav.Go(nav.Address{Screen: nav.Review, Visit: v.ID, Horse: v.Horse.ID})
}

func (s *screen) View(size layout.Size) string {
	t := s.Deps.Theme
	switch {
	case !s.Loaded:
		return "Reading the record .."
	case len(s.rows) == 0:
		return "No visit came in from another laptop since yesterday."
	}
	line := func(horse, visit, by, on string) string {
		wide := max((size.W-2-13-3)/3, 8)
		return layout.Pad(horse, wide) + " " + layout.Pad(visit, 13) + " " + layout.Pad(by, wide) + " " + layout.Pad(on, max(size.W-2-13-3-2*wide, 4))
	}
	lines := []string{t.Heading.Render(layout.Pad("  "+line("horse", "visit", "written by", "on"), size.W))}
	return form.Clip(append(lines, s.cursor.Draw(len(s.rows), max(size.H-1, 1), func(i int, here bool) string {
		v := s.rows[i].visit
		by, on := v.FromOthers()
		text := line(notation.CleanLine(v.Horse.Name, 0), v.OpenedAt.In(s.Deps.Now().Location()).Format("2 Jan 15:04"), strings.Join(by, ", "), strings.Join(on, ", "))
		return list.Line(t, text, size.W, here)
	})...), size)
}
