package progress

import (
	"math"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// Rehearsal is one rehearsal in a few numbers.
type Rehearsal struct {
	Visit    exam.VisitID `json:"visit"`
	At       time.Time    `json:"at"`
	By       string       `json:"by"`
	Case     string       `json:"case"`
	Title    string       `json:"title"`
	Seed     uint64       `json:"seed"`
	Routine  string       `json:"routine"`
	Finished bool         `json:"finished"`
	TotalS   float64      `json:"total_s"`

	Stops      int      `json:"stops"`    // of the routine, for this horse
	Answered   int      `json:"answered"` // of them
	OutOfOrder int      `json:"out_of_order"`
	Edits      int      `json:"edit_distance"`
	Tau        *float64 `json:"kendall_tau"`
	Missed     int      `json:"steps_missed"` // without an answer, or passed over though they could be examined
	Sides      int      `json:"sides_missed"`
	// Findings are the places that have a truth; of them so many are right, found in part, wrong, not examined.
	Findings    int     `json:"findings"`
	Right       int     `json:"right"`
	InPart      int     `json:"in_part"`
	Wrong       int     `json:"wrong"`
	NotExamined int     `json:"not_examined"`
	Score       float64 `json:"score_percent"`
	// HeartErrorPerMin and BreathErrorPerMin are counted minus true; null without a count. Of several the worst.
	HeartErrorPerMin  *float64 `json:"heart_error_per_min"`
	BreathErrorPerMin *float64 `json:"breath_error_per_min"`
	// BiasS is how late the taps at the heart came, ScatterS how much they scatter.
	BiasS    *float64 `json:"tap_bias_s"`
	ScatterS *float64 `json:"tap_scatter_s"`
	TapPairs int      `json:"tap_pairs"`
	Unraised int      `json:"remarks_missed"`
	Safety   int      `json:"safety_slips"`
	// HandedOff is null where nothing had to be handed off.
	HandedOff *bool `json:"handed_off"`

	Faults []rehearse.Fault `json:"-"`
	Steps  []exam.StepID    `json:"-"` // that were asked and could be examined
}

// Of is a rehearsal's marks as a point.
func Of(m rehearse.Marks) Rehearsal {
	p := Rehearsal{
		Visit: m.Visit, At: m.At, By: m.By, Case: m.Case, Title: m.Title, Seed: m.Seed, Routine: m.Routine,
		Finished: m.Finished, TotalS: m.TotalS, Stops: m.Order.Asks, Answered: m.Order.Answered,
		OutOfOrder: len(m.Order.OutOfOrder), Edits: m.Order.Edits, Tau: m.Order.Tau, Missed: len(m.Missed),
		Unraised: len(m.Unraised), Faults: m.Faults(),
	}
	for _, s := range m.Sides {
		p.Sides += len(s.Sites)
	}
	for _, x := range m.Passed {
		if !x.Excused {
			p.Missed++
		}
	}
	t := m.Tally()
	p.Findings, p.Right, p.InPart, p.Wrong, p.NotExamined = t.Asked, t.Right, t.InPart, t.Wrong, t.NotExamined
	for _, f := range m.Findings {
		if !slices.Contains(p.Steps, f.Step) {
			p.Steps = append(p.Steps, f.Step)
		}
	}
	for _, s := range m.Safety {
		if !s.Safe {
			p.Safety++
		}
	}
	if m.HandOff.Needed {
		p.HandedOff = &m.HandOff.Complete
	}
	p.Score = m.Score.Percent
	p.counts(m.Counts)
	return p
}

func (p *Rehearsal) counts(counts []rehearse.CountMark) {
	worse := func(old *float64, c rehearse.CountMark) *float64 {
		if old != nil && math.Abs(*old) >= math.Abs(c.ErrorPerMin) {
			return old
		}
		return &c.ErrorPerMin
	}
	for _, c := range counts {
		switch c.Step {
		case "heart.rate":
			p.HeartErrorPerMin = worse(p.HeartErrorPerMin, c)
			if c.SigmaS != nil {
				p.BiasS, p.ScatterS, p.TapPairs = c.BiasS, c.SigmaS, c.Pairs
			}
		case "breath.rate":
			p.BreathErrorPerMin = worse(p.BreathErrorPerMin, c)
		default:
		}
	}
}

// PerStopS is how long a stop took on the whole, in seconds; 0 where none was made.
func (p Rehearsal) PerStopS() float64 {
	if p.Answered == 0 {
		return 0
	}
	return p.TotalS / float64(p.Answered)
}
