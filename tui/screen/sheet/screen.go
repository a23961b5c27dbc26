// Package sheet is the screen on which somebody who knows a spreadsheet confirms what each of its columns means before its
// exams are imported. What nobody but that person can say is asked, once.
package sheet

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/intake"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	plan   *nav.SheetPlan
	rows   []row
	sure   map[string]bool // rows that were confirmed, by their key
	cursor list.List
	words  *list.List // of the row's words, while they are open
	pick   *pick      // while something is chosen
	next   *pick      // the question that an answer asks
}

// New makes the screen of the proposal in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{plan: to.Sheet, sure: map[string]bool{}}
	s.Screen = base.Screen{Deps: deps, Press: s.press}
	if s.plan == nil {
		s.plan = &nav.SheetPlan{Proposal: &intake.Proposal{}}
	}
	s.build()
	return s
}

func (s *screen) Title() string { return "Import " + s.plan.Proposal.File }

// Right counts what is confirmed.
func (s *screen) Right() string {
	n := 0
	for _, r := range s.rows {
		if s.sure[r.key] {
			n++
		}
	}
	return fmt.Sprintf("%d of %d confirmed, %d rows", n, len(s.rows), s.plan.Proposal.Rows)
}

// Typing says that letters look something up.
func (s *screen) Typing() bool { return s.pick != nil }

// Escape closes what is open.
func (s *screen) Escape() bool {
	switch {
	case s.pick != nil:
		s.pick = nil
	case s.words != nil:
		s.words = nil
	default:
		return false
	}
	return true
}

// Light says that a press only moves or types.
func (s *screen) Light(p keys.Press) bool {
	if s.pick != nil {
		return s.pick.find.Light(p)
	}
	return false
}

func (s *screen) here() (row, bool) {
	if s.cursor.Cursor >= len(s.rows) {
		return row{}, false
	}
	return s.rows[s.cursor.Cursor], true
}

// Keys are those of what is open.
func (s *screen) Keys() []keys.Binding {
	if s.pick != nil {
		return []keys.Binding{keys.Accept().With("choose", "take the line under the cursor"), keys.Up(), keys.Down(), keys.Letter("a-z", "find", "type part of a name to find it"), keys.TakeBack()}
	}
	r, ok := s.here()
	change := keys.Edit().With("change", "choose what this column, or this word, means")
	if s.words != nil {
		return []keys.Binding{keys.Up(), keys.Down(), change, keys.PageDown()}
	}
	confirm := keys.Accept().With("confirm", "this line is right; go to the next one that is not confirmed")
	if ok && r.open {
		confirm = keys.Accept().With("answer", "answer the question of this line")
	}
	words := words()
	if !ok || r.guess == nil || len(r.guess.Words) == 0 {
		words = words.OffIf("this column has no words to translate")
	}
	done := done()
	if why := s.missing(); why != "" {
		done = done.OffIf(why)
	}
	return []keys.Binding{confirm, change, words, all(), done, keys.Up(), keys.Down(), keys.PageDown()}
}

func words() keys.Binding {
	return keys.How().With("words", "see each word of the column, how often it is there, and what it becomes")
}

func all() keys.Binding {
	return keys.All().With("confirm all", "confirm every line that has no open question")
}

func done() keys.Binding {
	return keys.Finish().With("import", "save the map for next time, and import the sheet by it")
}

// missing says what stands before the import; empty where nothing does.
func (s *screen) missing() string {
	for _, r := range s.rows {
		switch {
		case r.open:
			return "a question is open: " + r.name
		case !s.sure[r.key]:
			return "not confirmed yet: " + r.name
		}
	}
	return ""
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.pick != nil {
		if s.pick.press(p) {
			s.pick, s.next = s.next, nil
			s.build()
		}
		return nil
	}
	r, ok := s.here()
	if s.words != nil {
		switch {
		case s.words.Move(p, len(r.guess.Words)):
		case keys.Edit().Is(p), keys.Accept().Is(p):
			s.pickWord(r.guess, s.words.Cursor)
		case words().Is(p):
			s.words = nil
		}
		return nil
	}
	switch {
	case s.cursor.Move(p, len(s.rows)):
	case done().Is(p) && s.missing() == "":
		s.plan.Done = true
		return tea.Quit
	case all().Is(p):
		for _, r := range s.rows {
			s.sure[r.key] = s.sure[r.key] || !r.open
		}
	case !ok:
	case keys.Edit().Is(p):
		s.change(r)
	case words().Is(p) && r.guess != nil && len(r.guess.Words) > 0:
		s.words = &list.List{}
	case keys.Accept().Is(p) && r.open:
		s.ask(r)
	case keys.Accept().Is(p):
		s.confirm(r)
	}
	return nil
}

// confirm marks a row and goes to the next that is not confirmed.
func (s *screen) confirm(r row) {
	s.sure[r.key] = true
	for n := range s.rows {
		i := (s.cursor.Cursor + 1 + n) % len(s.rows)
		if !s.sure[s.rows[i].key] {
			s.cursor.Cursor = i
			return
		}
	}
}
