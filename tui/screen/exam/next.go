package exam

import (
	"cmp"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/list"
)

// toEnd is the end of the exam in the list of what comes next.
const toEnd = -1

// openNext asks what comes next. A blind rehearsal has no order to follow: every
// step of the routine is in the list by its name, answered or not, so that the
// list gives nothing away.
func (s *screen) openNext() {
	s.panel = panel{kind: nextPanel}
	s.horse.stepBack()
}

func nextKeys() []keys.Binding {
	return []keys.Binding{
		keys.Up(), keys.Accept().With("go there", "examine what is under the cursor next"),
		keys.TakeBack().With("erase", "remove the last letter"),
		{Label: "letters", Does: "find", More: "letters look for a step by its name"},
	}
}

// choices are the asks whose name holds every word that was typed: those that begin with what was typed first, then by
// name, and the end of the exam last.
func (s *screen) choices() []int {
	words := strings.Fields(strings.ToLower(s.panel.find))
	var out []int
	for i := range s.routine.Asks {
		if list.HoldsAll(strings.ToLower(s.nameOf(i)), words) {
			out = append(out, i)
		}
	}
	typed := strings.Join(words, " ")
	later := func(i int) int {
		if strings.HasPrefix(strings.ToLower(s.nameOf(i)), typed) {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Or(later(a)-later(b), strings.Compare(s.nameOf(a), s.nameOf(b)))
	})
	if list.HoldsAll(strings.ToLower(s.nameOf(toEnd)), words) {
		out = append(out, toEnd)
	}
	return out
}

// nameOf is the name of an ask with its sites.
func (s *screen) nameOf(i int) string {
	if i == toEnd {
		return "The end: to the review"
	}
	ask := s.routine.Asks[i]
	step, _ := s.Deps.Steps.ByID(ask.Step)
	var sites []string
	for _, site := range ask.Sites {
		if site != exam.NoSite {
			sites = append(sites, site.String())
		}
	}
	if len(sites) == 0 {
		return step.Name
	}
	return step.Name + ", " + strings.Join(sites, " and ")
}

func (s *screen) pressNext(p keys.Press) tea.Cmd {
	list := s.choices()
	switch {
	case keys.Up().Is(p):
		s.panel.cursor = max(s.panel.cursor-1, 0)
	case keys.Down().Is(p):
		s.panel.cursor = min(s.panel.cursor+1, max(len(list)-1, 0))
	case keys.Accept().Is(p):
		return s.goNext(list)
	case keys.TakeBack().Is(p):
		if r := []rune(s.panel.find); len(r) > 0 {
			s.panel.find, s.panel.cursor = string(r[:len(r)-1]), 0
		}
	default:
		if text, ok := keys.Text(p); ok && len(s.panel.find) < 30 {
			s.panel.find, s.panel.cursor = s.panel.find+strings.ToValidUTF8(text, ""), 0
		}
	}
	return nil
}

func (s *screen) goNext(list []int) tea.Cmd {
	if s.panel.cursor >= len(list) {
		return nil
	}
	to := list[s.panel.cursor]
	s.panel = panel{}
	if to == toEnd {
		s.openNext() // what stands here when the review is closed again
		return s.depart(nav.Address{Screen: nav.Review, Visit: s.id})
	}
	s.said = ""
	if s.horse.Patient == nil || !s.horse.OnlyOrder() {
		return s.enter(to)
	}
	entries := s.chosen(to)
	if len(entries) == 0 {
		s.openNext()
		s.said = "You have been there."
		return nil
	}
	return tea.Batch(s.enter(to), s.save(entries...))
}

// chosen are the entries that keep the choice of a stop at which nothing is examined.
func (s *screen) chosen(i int) []exam.Entry {
	var out []exam.Entry
	for _, k := range s.routine.Asks[i].Keys() {
		if _, had := s.visit.Finding(k); !had {
			out = append(out, exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(exam.ReasonNotApplicable)})
		}
	}
	return out
}

func (s *screen) drawNext(size layout.Size) []string {
	t, list := s.Deps.Theme, s.choices()
	lines := []string{
		t.Strong.Render("What do you examine next?"),
		layout.Cut("find: "+notation.CleanLine(s.panel.find, 40)+"_", size.W),
	}
	foot := s.drawSaid(size.W, saidRows)
	room := max(size.H-len(lines)-len(foot), 1)
	first := layout.Window(0, s.panel.cursor, len(list), room)
	for i := first; i < len(list) && i < first+room; i++ {
		text := "  " + s.nameOf(list[i])
		if i == s.panel.cursor {
			text = t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+s.nameOf(list[i]), size.W))
		}
		lines = append(lines, layout.Cut(text, size.W))
	}
	if len(list) == 0 {
		lines = append(lines, "  no step of this routine has that in its name")
	}
	for len(lines) < size.H-len(foot) {
		lines = append(lines, "")
	}
	return append(lines, foot...)
}
