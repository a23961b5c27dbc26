package exam

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

type panelKind int

const (
	noPanel     panelKind = iota
	reasonPanel           // why a step is not done
	notePanel             // a note, or the words of the reason "other"
	orderPanel            // the cursor walks through the order
	nextPanel             // what comes next, by name: of a blind rehearsal
	whyPanel              // why a closed visit is corrected or added to
)

// panel is what is open in place of the widget.
type panel struct {
	kind   panelKind
	cursor int
	every  bool // the reason counts for every open site of the step
	many   bool // there is more than one open site
	title  string
	reason exam.Reason  // set while the words of a reason are typed
	text   entry.Widget // of a note, or of why
	held   []exam.Entry // what waits for why
	find   string       // what was typed to choose what comes next
}

func newReasons(many bool) panel { return panel{kind: reasonPanel, many: many, every: many} }

func newNote(title string, deps *nav.Deps) panel {
	return panel{
		kind: notePanel, title: title,
		text: entry.New(exam.Step{ID: "note", Name: title, Kind: exam.KindNote}, entry.Options{Theme: deps.Theme, Now: deps.Now, Later: deps.Later, Settings: deps.Settings}),
	}
}

func (p panel) typing() bool {
	return p.kind == notePanel || p.kind == nextPanel || p.kind == whyPanel
}

func (p panel) keys() []keys.Binding {
	switch p.kind {
	case reasonPanel:
		out := []keys.Binding{keys.Digit(), keys.Up(), keys.Accept().With("save", "mark this step as not done for this reason")}
		if p.many {
			out = append(out, keys.Left().With("this or all sites", "use the reason for this site, or for all sites to do"))
		}
		return out
	case notePanel:
		return []keys.Binding{keys.Accept().With("save", "save the comment")}
	case whyPanel:
		return []keys.Binding{keys.Accept().With("save", "save it with this reason; the old answer stays readable")}
	case orderPanel:
		return []keys.Binding{keys.Up(), keys.Accept().With("go there", "go to this step; after its answer the exam comes back here"), keys.MoveGroups()}
	case nextPanel:
		return nextKeys()
	case noPanel:
	}
	return nil
}

func (s *screen) pressPanel(p keys.Press) tea.Cmd {
	switch s.panel.kind {
	case reasonPanel:
		return s.pressReason(p)
	case notePanel:
		return s.pressNote(p)
	case whyPanel:
		return s.pressWhy(p)
	case orderPanel:
		return s.pressOrder(p)
	case nextPanel:
		return s.pressNext(p)
	case noPanel:
	}
	return nil
}

func (s *screen) pressReason(p keys.Press) tea.Cmd {
	reasons := exam.Reasons()
	switch {
	case keys.Up().Is(p):
		s.panel.cursor = (s.panel.cursor + len(reasons) - 1) % len(reasons)
	case keys.Down().Is(p):
		s.panel.cursor = (s.panel.cursor + 1) % len(reasons)
	case keys.Left().Is(p), keys.Right().Is(p):
		s.panel.every = s.panel.many && !s.panel.every
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(reasons) {
			s.panel.cursor = i
		}
	case keys.Accept().Is(p):
		reason := reasons[s.panel.cursor]
		every := s.panel.every
		if reason == exam.ReasonOther {
			s.panel = newNote("Why it was not done", s.Deps)
			s.panel.reason, s.panel.every = reason, every
			return s.panel.text.Init()
		}
		return s.passOver(reason, "", every)
	}
	return nil
}

// passOver stores that a step was not done, with the reason; every is for all its open sites.
func (s *screen) passOver(reason exam.Reason, words string, every bool) tea.Cmd {
	s.panel = panel{}
	places := []exam.Key{s.key()}
	if open := s.openKeys(); every && len(open) > 0 {
		places = open
	}
	entries := make([]exam.Entry, len(places))
	for i, k := range places {
		entries[i] = exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(reason), Note: words}
	}
	return s.save(entries...)
}

// typed hands a key to the text of the panel; ok says that the text is accepted.
func (s *screen) typed(p keys.Press) (text string, ok bool, cmd tea.Cmd) {
	result, cmd := s.panel.text.Press(p)
	if result != entry.Accepted {
		return "", false, cmd
	}
	v, err := s.panel.text.Value()
	if err != nil {
		s.say(exam.Level(0), err.Error())
		return "", false, cmd
	}
	return v.Text, true, cmd
}

func (s *screen) pressNote(p keys.Press) tea.Cmd {
	text, ok, cmd := s.typed(p)
	if !ok {
		return cmd
	}
	if s.panel.reason != "" {
		return tea.Batch(cmd, s.passOver(s.panel.reason, text, s.panel.every))
	}
	s.panel = panel{}
	k := s.key()
	return tea.Batch(cmd, s.save(exam.Entry{Kind: exam.EntryNote, Step: k.Step, Site: k.Site, Note: text}))
}

func (s *screen) pressOrder(p keys.Press) tea.Cmd {
	n := len(s.routine.Asks)
	switch {
	case keys.Up().Is(p):
		s.panel.cursor = (s.panel.cursor + n - 1) % n
	case keys.Down().Is(p):
		s.panel.cursor = (s.panel.cursor + 1) % n
	case keys.PageUp().Is(p):
		s.panel.cursor = max(s.panel.cursor-10, 0)
	case keys.PageDown().Is(p):
		s.panel.cursor = min(s.panel.cursor+10, n-1)
	case keys.MoveGroups().Is(p) && s.horse.Patient == nil:
		if s.field.Busy() {
			return s.leaving(nil)
		}
		s.panel = panel{}
		return s.depart(nav.Address{Screen: nav.Order, Routine: s.routine.Name})
	case keys.Accept().Is(p):
		to := s.panel.cursor
		s.panel = panel{}
		if s.field.Busy() {
			return s.leaving(nil)
		}
		if to == s.now {
			return nil
		}
		if s.comeTo < 0 {
			s.comeTo = s.now
		}
		s.say(exam.Level(0), "")
		if s.horse.Patient != nil || s.once { // elsewhere a line says it all along
			s.say(exam.Level(0), "next: "+s.shortOf(s.comeTo))
		}
		return s.enter(to)
	}
	return nil
}

func (s *screen) shortOf(i int) string {
	step, _ := s.Deps.Steps.ByID(s.routine.Asks[i].Step)
	return step.Short
}

// typed is where presses go that can be taken back: the field, or a text over it.
func (p panel) typed(s *screen) keys.Light {
	switch p.kind {
	case noPanel:
		if !s.horse.asks() {
			return s.field.Typed()
		}
	case notePanel, whyPanel:
		text, _ := p.text.(keys.Light)
		return text
	case reasonPanel, orderPanel, nextPanel:
	}
	return nil
}
