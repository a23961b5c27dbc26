package home

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// lists is what the first screen lists.
type lists struct {
	open, horses []*row
	unsettled    int         // visits, horses and settings that two laptops wrote in two ways
	arrived      int         // visits since yesterday
	unsent       []nav.Waits // what waits to go to other laptops
	newest       time.Time   // when the newest visit was opened
}

// load reads the list of horses and the visits that are not finished.
func (s *screen) load() tea.Cmd {
	at, now, arrived, unsent := s.Deps.Desk, s.Deps.Now, s.Deps.Arrived, s.Deps.Unsent
	return base.Read(s, func() (lists, error) {
		// Each of them reads a row of every horse: they are read beside each other. Of several
		// that fail the first in this order is said, whichever failed sooner.
		var horses []exam.Found
		var visits, unsettled []exam.Visit
		var ofHorses, ofVisits, ofUnsettled error
		var reading sync.WaitGroup
		reading.Go(func() { horses, ofHorses = at.Store.Horses() })
		reading.Go(func() { visits, ofVisits = at.Waiting() })
		reading.Go(func() { unsettled, ofUnsettled = at.Store.Unsettled() })
		reading.Wait()
		if err := cmp.Or(
			base.Unread("the list of horses", ofHorses),
			base.Unread("the visits that are not finished", ofVisits),
			base.Unread("what is to be settled", ofUnsettled),
		); err != nil {
			return lists{}, err
		}
		m := lists{horses: make([]*row, len(horses)), newest: exam.Newest(horses)}
		for _, v := range unsettled {
			if len(v.Unsettled()) > 0 {
				m.unsettled++
			}
		}
		own := map[exam.HorseID]exam.VisitID{}
		for _, v := range slices.Backward(visits) { // the newest is left
			if !v.Closed() && !v.Elsewhere {
				own[v.Horse.ID] = v.ID
			}
		}
		names := map[string]int{}
		for i, f := range horses {
			names[strings.ToLower(notation.CleanLine(f.Horse.Name, 0))]++
			f.Open = own[f.Horse.ID]
			m.horses[i] = &row{found: f, search: f.Horse.Searched()}
			if len(f.Horse.Differ) > 0 {
				m.unsettled++
			}
		}
		said, err := at.Store.Joinings()
		if err != nil {
			return lists{}, base.Unread("which horses are one", err)
		}
		states, err := at.Store.PracticeSettings()
		if err != nil {
			return lists{}, base.Unread("the settings of the practice", err)
		}
		m.unsettled += len(settle.Doubles(horses, said)) + len(said.InVain()) + len(settle.OfPractice(states)) + len(settle.AtOnce(settle.Both(visits, unsettled), now()))
		if arrived != nil {
			came, err := arrived(exam.SinceYesterday(now()))
			if err != nil {
				return lists{}, base.Unread("the visits that came in", err)
			}
			m.arrived = len(came)
		}
		if unsent != nil {
			if m.unsent, err = unsent(); err != nil {
				return lists{}, base.Unread("what waits to be sent", err)
			}
		}
		today := now()
		for _, v := range visits {
			begun := notation.ShownOn(v.OpenedAt, today)
			if notation.SameDay(v.OpenedAt, today) {
				begun = notation.Clock(v.OpenedAt, today)
			}
			name := notation.CleanLine(v.Horse.Name, 0)
			which := ""
			if names[strings.ToLower(name)] > 1 {
				which = fmt.Sprintf(" (%s, %s)", v.Horse.Kind, v.Horse.AgeWords(today))
			}
			text := fmt.Sprintf("%sgo on with %s's exam%s, begun %s: %s", again(v, today), name, which, begun, progress(v, at.Routines, at.Steps))
			if left := v.ToWatch(); len(left) > 0 && !v.Elsewhere {
				i := left[0]
				m.open = append(m.open, &row{
					found: exam.Found{Horse: v.Horse, Open: own[v.Horse.ID]}, visit: v.ID, after: i.Number, search: v.Horse.Searched(),
					text: fmt.Sprintf("observation of %s not started (%s, %s)", name+which, notation.CleanLine(i.Product(), 30), when(*i.EndAt, today)),
					end:  ": enter",
				})
			}
			since, in := nav.NeedleSince(v)
			if v.Closed() && !in {
				continue
			}
			by, end := heldBy(v, today), ""
			if in { // asked before the exam goes on
				text = fmt.Sprintf("needle inserted %s: enter, and record what happened to", when(since, today))
				by, end = nil, " "+name+which
			}
			m.open = append(m.open, &row{
				found: exam.Found{Horse: v.Horse, Open: own[v.Horse.ID]}, visit: v.ID, other: v.Elsewhere, needle: in, text: text, end: end, held: by, search: v.Horse.Searched(),
			})
		}
		return m, nil
	}, s.take)
}

// when is a time of today, or of a day.
func when(at, now time.Time) string {
	if notation.SameDay(at, now) {
		return notation.Clock(at, now)
	}
	return at.In(now.Location()).Format("2 Jan 15:04")
}

// again says at which hour of today something of an open visit is looked at again.
func again(v exam.Visit, now time.Time) string {
	for _, r := range due.Rechecks([]exam.Visit{v}, now) {
		if r.Time != nil && notation.SameDay(*r.Time, now) {
			return "follow-up " + notation.Clock(*r.Time, now) + ": "
		}
	}
	return ""
}

// progress says how far a visit is in its routine.
func progress(v exam.Visit, routines []exam.Routine, steps *exam.Steps) string {
	for _, r := range routines {
		if r.Name != v.Routine {
			continue
		}
		r = r.For(v.Class(), steps)
		total := 0
		for _, ask := range r.Asks {
			total += len(ask.Sites)
		}
		return fmt.Sprintf("%d of %d done", total-len(v.Left(r)), total)
	}
	return fmt.Sprintf("%d done", len(v.Findings))
}
