package demo

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// lesson is one rehearsal of an invented person: how long ago, with which case, and what went wrong.
type lesson struct {
	ago   time.Duration
	by    string
	which string
	pace  float64
	slips rehearse.Slips
}

// lessons are those of somebody who gets better, and of somebody who is good but forgets one thing.
func lessons() []lesson {
	hind := exam.Key{Step: "limb.warmth", Site: exam.RightHind}
	gums := map[exam.Key]string{{Step: "gum.colour"}: "brick"}
	return []lesson{
		{6 * week, "Nell Harrow", "clover", 2, rehearse.Slips{Skip: "gum.moisture", Side: hind, Moved: "temp.rectal", TapFactor: 1.05, Unsafe: "limbs"}},
		{5 * week, "Nell Harrow", "tarn", 1.8, rehearse.Slips{Skip: "gum.moisture", Side: hind, Moved: "temp.rectal", TapFactor: 1.05, Silent: true}},
		{4 * week, "Nell Harrow", "sorrel", 1.6, rehearse.Slips{Skip: "gum.moisture", Side: hind, TapFactor: 0.96}},
		{3 * week, "Nell Harrow", "dapple", 1.5, rehearse.Slips{Skip: "gum.moisture", Unsafe: "tail"}},
		{2 * week, "Nell Harrow", "merrow", 1.3, rehearse.Slips{Skip: "gum.moisture"}},
		{week, "Nell Harrow", "tarn", 1.2, rehearse.Slips{}},
		{25 * day, "Ivo Marsh", "dapple", 1.1, rehearse.Slips{Wrong: gums}},
		{18 * day, "Ivo Marsh", "clover", 1, rehearse.Slips{}},
		{11 * day, "Ivo Marsh", "harrow", 1, rehearse.Slips{Context: []exam.State{exam.StateExcited}, Wrong: gums}},
		{2 * day, "Ivo Marsh", "tarn", 1, rehearse.Slips{Unfinished: 9}},
	}
}

// Rehearsals are what invented people rehearsed, each with its simulated horse, for the store of rehearsals.
func Rehearsals(now time.Time, table *exam.Steps, held *ranges.Table, routines []exam.Routine) ([]History, error) {
	cases, err := rehearse.Cases(table, held)
	if err != nil {
		return nil, fmt.Errorf("the cases to rehearse: %w", err)
	}
	var out []History
	for i, l := range lessons() {
		c, ok := rehearse.CaseNamed(cases, l.which)
		if !ok {
			return nil, fmt.Errorf("rehearsal %d: no case %q", i+1, l.which)
		}
		routine, ok := steps.Find(routines, c.Routine)
		if !ok {
			return nil, fmt.Errorf("rehearsal %d: no routine %q", i+1, c.Routine)
		}
		h, err := rehearse.New(c, uint64(seed+i), now.Add(-l.ago).Truncate(time.Minute), table, held)
		if err != nil {
			return nil, fmt.Errorf("rehearsal %d: %w", i+1, err)
		}
		entries, err := rehearse.Trainee{By: l.by, To: "Dr. Olga Sommer", Pace: l.pace, Slips: l.slips}.Rehearse(h, routine)
		if err != nil {
			return nil, fmt.Errorf("rehearsal %d: %w", i+1, err)
		}
		out = append(out, History{Horse: h.Animal, Visits: [][]exam.Entry{entries}})
	}
	return out, nil
}
