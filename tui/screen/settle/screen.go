// Package settle is the screen that lists what two laptops wrote without knowing of each
// other, and horses that may be entered twice; each line leads to where it is settled.
package settle

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	items  []settle.Matter
	cursor list.List
}

// New makes the list; for an address that names a visit, the form that says that somebody
// looked at what is to be settled there; for one that names a horse, the form that keeps
// what stands; for one that names a setting, the form that chooses its value.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	switch {
	case to.Visit != "":
		return newLooked(deps, to.Visit)
	case to.Horse != "":
		return newKept(deps, to.Horse)
	case to.Setting != "":
		return newChosen(deps, to.Setting)
	}
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) load() tea.Cmd {
	store, steps, now := s.Deps.Store, s.Deps.Steps, s.Deps.Now()
	return base.Read(s, func() ([]settle.Matter, error) {
		list, err := settle.List(store, steps, now)
		return list, base.Unread("what is to be settled", err)
	}, func(list []settle.Matter) tea.Cmd {
		s.items = list
		s.cursor.Keep(len(list))
		return nil
	})
}

func (s *screen) Title() string { return "To settle" }

func (s *screen) Right() string { return s.Counted(len(s.items), "item") }

func (s *screen) Keys() []keys.Binding {
	return list.Keys(keys.Choose().With("open", "go to where the line under the cursor is settled"), len(s.items), "nothing is to be settled")
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.cursor.Move(p, len(s.items)) || !keys.Choose().Is(p) || len(s.items) == 0 {
		return nil
	}
	return nav.Go(where(s.items[s.cursor.Cursor]))
}

// where a matter is settled.
func where(i settle.Matter) nav.Address {
	switch i.Kind {
	case exam.UnsettledAnswers:
		return nav.Address{Screen: nav.Review, Visit: i.Visit, Horse: i.Horse, At: exam.Key{Step: i.Step, Site: i.Site}}
	case exam.UnsettledDecision, exam.UnsettledNeedles, exam.UnsettledMissed, exam.UnsettledClosing, exam.UnsettledCompare:
		return nav.Address{Screen: nav.Settle, Visit: i.Visit, Horse: i.Horse}
	case exam.UnsettledHorse:
		return nav.Address{Screen: nav.Settle, Horse: i.Horse}
	case exam.UnsettledSetting:
		return nav.Address{Screen: nav.Settle, Setting: i.Setting}
	case exam.UnsettledAtOnce:
		return nav.Address{Screen: nav.Horse, Horse: i.Horse}
	case exam.UnsettledParted:
		return nav.Address{Screen: nav.Join, Horse: i.Horse}
	case exam.UnsettledDouble:
	}
	return nav.Address{Screen: nav.Join, Horse: i.Horse, Other: i.Other}
}

// how it is settled there, in a sentence.
func how(k exam.UnsettledKind) string {
	switch k {
	case exam.UnsettledAnswers:
		return "Enter opens the visit at this step. Answer it again: the new answer counts alone."
	case exam.UnsettledDecision:
		return "Ask the veterinarian again, or save that somebody looked. Enter opens it."
	case exam.UnsettledMissed:
		return "Tell the veterinarian what was given. Enter saves what came of it."
	case exam.UnsettledNeedles:
		return "Tell the veterinarian. Both count. Enter saves what came of it."
	case exam.UnsettledClosing:
		return "Look at the late lines. Enter saves that somebody looked."
	case exam.UnsettledHorse:
		return "Enter asks which of them is right."
	case exam.UnsettledSetting:
		return "Enter asks which of them the practice uses."
	case exam.UnsettledAtOnce:
		return "Enter opens the horse. Each person finishes their own exam; void one that is not needed."
	case exam.UnsettledCompare:
		return "Look at both on the horse's page. Enter saves that somebody did."
	case exam.UnsettledParted:
		return "Enter shows both records side by side: leave them one horse, or part them."
	case exam.UnsettledDouble:
	}
	return "Enter shows both side by side: join them, or say that they are two."
}

func (s *screen) View(size layout.Size) string {
	t := s.Deps.Theme
	switch {
	case !s.Loaded:
		return "Reading the record .."
	case len(s.items) == 0:
		return "Nothing is to be settled."
	}
	at := s.items[min(s.cursor.Cursor, len(s.items)-1)]
	below := layout.Wrap(notation.CleanNote(at.Text), size.W)
	below = append(below[:min(len(below), max(size.H/3, 1))], "")
	for _, l := range layout.Wrap(how(at.Kind), size.W) {
		below = append(below, t.Faint.Render(l))
	}
	lines := s.cursor.Draw(len(s.items), max(size.H-len(below)-1, 1), func(i int, here bool) string { return s.line(i, here, size.W) })
	return form.Clip(append(append(lines, ""), below...), size)
}

func (s *screen) line(i int, here bool, width int) string {
	item := s.items[i]
	when := ""
	if !item.At.IsZero() {
		when = item.At.In(s.Deps.Now().Location()).Format("2 Jan 15:04")
	}
	text := layout.Pad(notation.CleanLine(item.Name, 0), 16) + " " + layout.Pad(item.Kind.String(), min(max(width-2-16-14, 10), 40)) + " " + layout.Pad(when, 12)
	return list.Line(s.Deps.Theme, text, width, here)
}
