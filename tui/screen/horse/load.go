package horse

import (
	"errors"
	"fmt"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/theme"
)

// keptVisits is how many earlier visits a visit is judged with, as everywhere.
const keptVisits = 20

// past is a visit as a line of the list.
type past struct {
	id           exam.VisitID
	at           time.Time
	open, struck bool
	dates        notation.Dates // of all visits of the horse
	routine, by  string
	missed       string // how much was answered, or was noted from papers
	level        exam.Level
	standing     string // the level in a sign and a word, or how far an open one is
}

// known is a horse with its visits, newest first.
type known struct {
	horse     exam.Horse
	visits    []past
	doses     string       // earlier doses that were noted
	elsewhere []string     // who has it open on other laptops
	own       exam.VisitID // the visit that is open on this laptop; empty for none
	looks     []string     // when something is looked at again, the earliest first
}

// load reads the horse and judges its visits.
func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (known, error) {
		h, err := deps.Store.Horse(id)
		if errors.Is(err, exam.ErrNotFound) {
			return known{}, fmt.Errorf("this horse is not in the record: %w", err)
		}
		if err != nil {
			return known{}, base.Unread("this horse", err)
		}
		visits, err := deps.Store.Past(id, 0)
		if err != nil {
			return known{}, base.Unread("the visits of this horse", err)
		}
		visits = exam.ByClock(deps.Now(), visits)
		struck, err := deps.Store.Struck(id)
		if err != nil {
			return known{}, base.Unread("the visits of this horse", err)
		}
		m := known{horse: h, visits: make([]past, 0, len(visits)+len(struck)), doses: noted(visits), looks: looks(visits, deps.Now())}
		if v, open := exam.GoesOn(visits); open {
			m.own = v.ID
		}
		for i, v := range visits {
			if text := v.OpenElsewhere(deps.Now()); text != "" {
				m.elsewhere = append(m.elsewhere, text)
			}
			m.visits = append(m.visits, sum(deps, v, visits[i+1:min(i+1+keptVisits, len(visits))]))
		}
		for _, v := range exam.ByClock(deps.Now(), struck) { // voided visits are listed, and count nowhere
			m.visits = append(m.visits, sum(deps, v, nil))
		}
		at := make([]time.Time, len(m.visits))
		for i := range m.visits {
			at[i] = m.visits[i].at
		}
		dates := notation.NewDates(at...)
		for i := range m.visits {
			m.visits[i].dates = dates
		}
		slices.SortStableFunc(m.visits, func(a, b past) int { return b.at.Compare(a.at) })
		return m, nil
	}, s.take)
}

// looks are the rechecks that no visit has met, each with its day and hour.
func looks(visits []exam.Visit, now time.Time) []string {
	var out []string
	for _, r := range due.Rechecks(visits, now) {
		out = append(out, fmt.Sprintf("%s %s: %s", r.Status, r.When(now), r.What))
	}
	return out
}

// noted says how many earlier doses were noted, and the last of them.
func noted(visits []exam.Visit) string {
	n, last := 0, exam.Injection{}
	for _, v := range visits {
		for _, i := range v.Injections {
			if i.State == exam.InjectionNoted {
				if n++; i.On > last.On {
					last = i
				}
			}
		}
	}
	if n == 0 {
		return ""
	}
	what := last.Order.Product
	if len(last.Order.Against) > 0 {
		what += ", against " + due.Names(last.Order.Against)
	}
	return fmt.Sprintf("%d past doses, the last %s: %s", n, notation.Shown(last.On), what)
}

// sum is a visit as one line of the list.
func sum(deps *nav.Deps, v exam.Visit, earlier []exam.Visit) past {
	p := past{
		id: v.ID, at: v.OpenedAt, open: !v.Closed(), struck: !v.Stands(),
		routine: notation.CleanLine(v.Routine, 0), by: notation.CleanLine(v.By, 0),
	}
	for _, r := range deps.Routines {
		if r.Name == v.Routine {
			p.routine = r.Title
		}
	}
	done, missed := 0, 0
	for _, f := range v.Findings {
		if f.Done() {
			done++
		} else {
			missed++
		}
	}
	if n := len(v.Injections); v.OnlyPapers() {
		p.missed = fmt.Sprintf("%d recorded", n)
	}
	if done+missed > 0 {
		p.missed = v.CoverageIn(deps.Routines, deps.Steps).Short()
	}
	if done > 0 {
		p.level = deps.Judge.Visit(v, earlier).Level
		p.standing = theme.Mark(p.level) + " " + p.level.String()
	}
	if p.struck {
		p.level, p.standing, p.missed = ranges.LevelUsual, "  VOIDED", ""
	}
	if p.open {
		p.level, p.standing = ranges.LevelUsual, "  not finished"
	}
	return p
}
