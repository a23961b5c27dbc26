package judge

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// After work, and after nothing else, a high heart or breathing rate is taken again instead of told at once: most horses
// need some minutes (YOUNES15). It is told all the same beyond the emergency lines, with any other sign, when it rises, or
// when it has not come down in time: 64 a minute 20 min after the first count (FEI20MIN), 60 after 30 min (common
// practice; RC02). Nothing else lowers a level, and nothing lowers a temperature.
const (
	firstGate       = score.FirstGateMin * time.Minute
	firstGateBeats  = float64(score.FirstGateBeats)
	secondGate      = score.SecondGateMin * time.Minute
	secondGateBeats = float64(score.SecondGateBeats)
	longestWait     = 3 * time.Hour
	risingBeats     = 4.0 // a count of 15 s times four can be off by as much
)

// mayEase says that a finding is a high rate of a grown animal that just worked.
func (a *assessment) mayEase(p *judgedVisit) bool {
	if a.level != ranges.LevelTell || a.side != ranges.SideHigh || a.finding.Value.Bound != exam.NoBound || p.class.Young ||
		!p.visit.Context.Has(exam.StateWorked) {
		return false
	}
	switch a.finding.Step {
	case "heart.rate":
		return a.value < worstBeats-slack
	case "breath.rate":
		return true
	}
	return false
}

// ease looks at every rate of the visit at once, so that neither keeps the other up.
func (p *judgedVisit) ease() {
	if !p.visit.Context.Has(exam.StateWorked) {
		return
	}
	may := make([]bool, len(p.found))
	for i := range p.found {
		may[i] = p.found[i].mayEase(p)
	}
	if p.otherSign() {
		return
	}
	for i := range p.found {
		if may[i] {
			p.easeOne(&p.found[i])
		}
	}
}

// easeOne lowers one rate where the whole visit allows it.
func (p *judgedVisit) easeOne(a *assessment) {
	if !a.mayEase(p) || p.otherSign() || p.late(a) {
		return
	}
	a.level, a.eased = ranges.LevelRecheck, true
}

// otherSign says that anything but the two rates stands out of its range.
func (p *judgedVisit) otherSign() bool {
	for i := range p.found {
		f := &p.found[i]
		if f.finding.Step != "heart.rate" && f.finding.Step != "breath.rate" && f.level >= ranges.LevelNote {
			return true
		}
		if (f.finding.Step == "heart.rate" && f.value >= worstBeats-slack) || f.side == ranges.SideLow {
			return true
		}
	}
	return false
}

// late says that the rate rises, or had its time to come down: earlier counts stand in this visit and in those of the last
// hours that were made after work too.
func (p *judgedVisit) late(a *assessment) bool {
	at := a.finding.At
	if at.IsZero() {
		at = p.visit.OpenedAt
	}
	gates := func(then float64, when time.Time) bool {
		waited := at.Sub(when)
		switch {
		case waited <= 0 || waited > longestWait:
			return false
		case a.value > then+risingBeats:
			return true
		case a.finding.Step == "breath.rate":
			return waited >= secondGate
		case waited >= secondGate && a.value > secondGateBeats+slack:
			return true
		}
		return waited >= firstGate && a.value > firstGateBeats+slack
	}
	for i := range a.finding.Before {
		if then, ok := a.finding.Before[i].Value.In(a.unit); ok && gates(then, a.finding.Before[i].At) {
			return true
		}
	}
	for i := range p.earlier {
		e := &p.earlier[i]
		if e.ID == p.visit.ID || !e.Context.Has(exam.StateWorked) {
			continue
		}
		if f, ok := find(e, a.finding.Key()); ok {
			when := f.At
			if when.IsZero() {
				when = e.OpenedAt
			}
			if then, ok := f.Value.In(a.unit); ok && gates(then, when) {
				return true
			}
		}
	}
	return false
}
