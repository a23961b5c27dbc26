// Package demo makes an invented yard: animals, people and places that do not exist, with visits
// over some years, for a throw-away record to try the program on. Its numbers are made up, and no
// test of the exam relies on them.
package demo

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// History is an invented horse with its visits, each a list of entries without
// number and hash, oldest visit first.
type History struct {
	Horse  exam.Horse
	Visits [][]exam.Entry
}

// seed makes the same yard every time.
const seed = 20260301

// Yard makes the invented yard as it stands at a moment.
func Yard(now time.Time, table *exam.Steps, routines []exam.Routine) ([]History, error) {
	var out []History
	for _, a := range cast() {
		m := maker{table: table, routines: routines, now: now, cast: a}
		animal, err := m.animal()
		if err != nil {
			return nil, fmt.Errorf("make %s: %w", a.horse.Name, err)
		}
		out = append(out, animal)
	}
	return out, nil
}

// maker makes the visits of one animal.
type maker struct {
	table    *exam.Steps
	routines []exam.Routine
	now      time.Time
	cast     part
	visitNo  int
	clock    time.Time
}

// chance is the randomness of one thing of one visit: each place of each visit has a stream of its own, so that a step
// that is added draws no number of another.
func (m *maker) chance(what ...string) *rand.Rand {
	h := fnv.New64a()
	_, _ = fmt.Fprintf(h, "%s|%d|%s", m.cast.horse.Name, m.visitNo, strings.Join(what, "|"))
	return rand.New(rand.NewPCG(seed, h.Sum64())) //nolint:gosec // invented numbers, no secret
}

func (m *maker) animal() (History, error) {
	h := m.cast.horse
	h.Birth = m.cast.birth(m.now)
	h.Revision = 1
	out := History{Horse: h}
	for i, v := range m.cast.visits {
		entries, err := m.visit(i, v)
		if err != nil {
			return History{}, err
		}
		out.Visits = append(out.Visits, entries)
	}
	return out, nil
}

// visit answers every step of its routine: as told for this visit, as usual for
// this animal, or as usual for any.
func (m *maker) visit(i int, v occasion) ([]exam.Entry, error) {
	m.clock, m.visitNo = m.now.Add(-v.ago).Truncate(time.Minute), i
	name := v.routine
	if name == "" {
		name = steps.Default
	}
	r, ok := steps.Find(m.routines, name)
	if !ok {
		return nil, fmt.Errorf("visit %d: no routine %q", i+1, name)
	}
	h := m.cast.horse
	h.Birth = m.cast.birth(m.now)
	by := v.by
	if by == "" {
		by = "Nell Harrow"
	}
	context := exam.Context{States: v.states}
	if len(context.States) == 0 {
		context.States = []exam.State{exam.StateRest}
	}
	entries := []exam.Entry{
		{Kind: exam.EntryOpened, Opening: &exam.Opening{Routine: name, Reason: v.reason}},
		{Kind: exam.EntryContext, Context: &context},
	}
	r = r.For(exam.ClassOf(h, m.clock), m.table)
	for _, ask := range r.Asks {
		for _, k := range ask.Keys() {
			e, err := m.answer(k, v)
			if err != nil {
				return nil, fmt.Errorf("visit %d, %s %s: %w", i+1, k.Step, k.Site, err)
			}
			entries = append(entries, e)
		}
	}
	asked := len(entries)
	m.spread(entries)
	if v.open > 0 && v.open < asked {
		entries = entries[:v.open]
	} else {
		if i == len(m.cast.visits)-1 {
			entries = append(entries, m.after()...)
		}
		entries = append(entries, exam.Entry{Kind: exam.EntryClosed})
		m.follow(entries[asked:])
	}
	for n := range entries {
		entries[n].By = by
	}
	return entries, nil
}

// spread gives the entries of an exam their times: evenly over 15 to 25 minutes, so that one step more ends it no later.
func (m *maker) spread(entries []exam.Entry) {
	begin, length := m.clock, time.Duration(15*60+m.chance("length").IntN(10*60))*time.Second
	for n := range entries {
		entries[n].At = begin.Add(length * time.Duration(n+1) / time.Duration(len(entries))).Truncate(time.Second)
	}
	m.clock = begin.Add(length)
}

// follow gives what comes after the exam its times, some seconds apart; a quiet watch takes 20 minutes.
func (m *maker) follow(entries []exam.Entry) {
	for n := range entries {
		m.clock = m.clock.Add(time.Duration(8+m.chance("after", strconv.Itoa(n)).IntN(25)) * time.Second)
		if w := entries[n].Watch; w != nil && w.Phase == exam.WatchQuiet {
			m.clock = m.clock.Add(20 * time.Minute)
		}
		entries[n].At = m.clock
	}
}

// after is what follows the exam in an animal's last visit.
func (m *maker) after() []exam.Entry {
	if m.cast.horse.Name == Treated {
		return append(treated(m.now), noted(Treated, m.now, m.clock, 2)...)
	}
	return noted(m.cast.horse.Name, m.now, m.clock, 1)
}

func round(v float64, decimals int) float64 {
	f := math.Pow(10, float64(decimals))
	return math.Round(v*f) / f
}
