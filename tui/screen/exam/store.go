package exam

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// seen is a visit read from the store, with the horse's earlier ones.
type seen struct {
	visit   exam.Visit
	earlier []exam.Visit
	routine exam.Routine
}

// written are entries that are on the disk. What was stored before an error counts.
type written struct {
	entries []exam.Entry
	err     error
}

// load reads the visit and what came before it.
func (s *screen) load() tea.Cmd {
	store, steps, routines, id, now := s.Deps.Store, s.Deps.Steps, s.Deps.Routines, s.id, s.Deps.Now()
	return base.Read(s, func() (seen, error) {
		v, err := store.Visit(id)
		if err != nil {
			return seen{}, base.Unread("this visit", err)
		}
		past, err := store.Past(v.Horse.ID, keptVisits+1)
		if err != nil {
			return seen{}, fmt.Errorf("earlier visits cannot be read: %w", err)
		}
		routine := exam.Routine{}
		for _, r := range routines {
			if r.Name == v.Routine {
				routine = r.For(v.Class(), steps)
			}
		}
		if len(routine.Asks) == 0 && len(routines) > 0 { // a routine that is no longer there
			routine = routines[0].For(v.Class(), steps)
		}
		return seen{v, exam.ByClock(now, v.Before(past)), routine}, nil
	}, s.take)
}

// save writes entries one after the other, each durable before the next.
func (s *screen) save(entries ...exam.Entry) tea.Cmd {
	if len(entries) == 0 {
		return nil
	}
	desk, id, by := s.Deps.Desk, s.id, s.person()
	for i := range entries {
		entries[i].Visit, entries[i].By, entries[i].At = id, by, s.Deps.Now()
		old, ok := s.visit.Finding(exam.Key{Step: entries[i].Step, Site: entries[i].Site})
		if ok && (entries[i].Kind == exam.EntryFinding || entries[i].Kind == exam.EntryNotDone) {
			entries[i].Replace(old)
		}
	}
	if s.visit.Closed() && entries[0].Amend == nil {
		return s.askWhy(entries)
	}
	return base.Write(s, func() (written, error) {
		stored, err := desk.WriteAll(entries...)
		return written{stored, err}, nil
	}, s.saved)
}

// saved folds stored entries into the visit, says what stands out and moves on.
func (s *screen) saved(m written) tea.Cmd {
	answered := false
	for _, e := range m.entries {
		s.horse.stored(e)
		if err := s.visit.Apply(e); err != nil {
			return s.load() // another screen wrote meanwhile: read it again
		}
		if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone || e.Kind == exam.EntryAdded && e.Step != "" && e.Note == "" {
			answered = true
			s.remark(exam.Key{Step: e.Step, Site: e.Site})
			if e.Step != s.step().ID {
				continue // one key for an area answers other steps too
			}
			if e.Value != nil {
				s.field.Set(e.Site, *e.Value)
			} else {
				s.field.Close(e.Site, exam.Reason(e.Reason).String())
			}
		}
		if (e.Kind == exam.EntryNote || e.Kind == exam.EntryAdded && e.Note != "") && !rehearse.IsOwnNote(e.Note) {
			s.say(exam.Level(0), "The comment is saved.")
		}
	}
	if m.err != nil {
		s.rest.left = nil
		return nav.Fail(m.err)
	}
	if next := s.nextOfRest(m.entries); next != nil {
		return next
	}
	if !answered {
		return nil
	}
	return s.advance()
}

// remark says in one line what the answer just stored means against its range.
func (s *screen) remark(k exam.Key) {
	f, ok := s.visit.Finding(k)
	step, _ := s.Deps.Steps.ByID(k.Step)
	name := step.Short
	if k.Site != exam.NoSite {
		name += " " + k.Site.String()
	}
	if s.horse.Patient != nil && s.horse.OnlyOrder() {
		s.say(exam.Level(0), name+": chosen")
		s.plain = true
		return
	}
	if !ok || !f.Done() {
		s.say(exam.Level(0), fmt.Sprintf("%s: not done, %s", name, f.NotDone))
		s.plain = true
		return
	}
	text := fmt.Sprintf("%s: %s", name, s.shown(step, f.Value))
	since := s.since(k, f, step)
	r, ok := s.Deps.Judge.Finding(s.visit, f, s.earlier)
	if !ok || r.Level == 0 {
		s.say(exam.Level(0), text+" saved"+since)
		s.plain = since == ""
		return
	}
	if f.Value.Number != nil && r.Why != "" && r.Why[0] >= '0' && r.Why[0] <= '9' {
		text = name // the reason begins with the number itself
	}
	why := r.Why
	if since != "" { // one sentence of the two
		why = strings.TrimSuffix(why, ".")
	}
	s.say(r.Level, fmt.Sprintf("%s: %s%s", text, why, since))
}

// since says how the answer just stored changed against the last one, where that is more than noise.
func (s *screen) since(k exam.Key, f exam.Finding, step exam.Step) string {
	if f.Value.Number == nil {
		return ""
	}
	c := compare.ChangeAt(s.Deps.Judge, s.visit, k, step, f.Value.As(s.Deps.Settings.Units, step).Number.Unit, s.earlier)
	if c.Verdict != compare.Changed {
		return ""
	}
	return "; " + c.Means
}

// advance goes to the next open site of the ask, to what is left at the same leg, back to where a jump came
// from, to the next open ask, or to the review when nothing is left.
func (s *screen) advance() tea.Cmd {
	if len(s.openKeys()) > 0 && s.field.Next() {
		return nil
	}
	if s.once {
		s.horse.leave()
		return nav.Back()
	}
	if next, ok := s.openAtLeg(); ok && s.comeTo >= 0 {
		return s.enter(next)
	}
	if s.comeTo >= 0 && !s.horse.blind() {
		to := s.comeTo
		s.comeTo = -1
		return s.enter(s.nextOpen(to))
	}
	if s.horse.blind() {
		s.openNext()
		return nil
	}
	next := s.nextOpen(s.now + 1)
	if next >= len(s.routine.Asks) {
		return s.depart(nav.Address{Screen: nav.Review, Visit: s.id})
	}
	return s.enter(next)
}
