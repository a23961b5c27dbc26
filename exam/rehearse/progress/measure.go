package progress

import (
	"math"

	"loosebox/exam/notation"
)

// Measure is one thing that is followed from rehearsal to rehearsal. Of every one less is better.
type Measure struct {
	Name     string // in a table
	Title    string // above a plot
	Unit     string // after a number; empty for plain counts
	Decimals int
	About    string // one sentence: what it rests on
	Of       func(Rehearsal) (float64, bool)
}

// Text is a value of the measure with its unit.
func (m Measure) Text(v float64) string {
	text := notation.FormatNumber(v, m.Decimals)
	if m.Unit != "" {
		text += " " + m.Unit
	}
	return text
}

// Measures lists what is followed, the order of the exam first.
func Measures() []Measure {
	return []Measure{
		{
			"order", "steps out of order", "", 0, "how many steps would have to move to restore the order",
			func(p Rehearsal) (float64, bool) { return float64(p.OutOfOrder), p.Answered > 0 },
		},
		{
			"missed", "steps and sides missed", "", 0, "steps and sides without an answer",
			func(p Rehearsal) (float64, bool) { return float64(p.Missed + p.Sides), true },
		},
		{
			"a step", "time a step", "s", 0, "the whole time divided by the answered steps",
			func(p Rehearsal) (float64, bool) { return p.PerStopS(), p.Answered > 0 },
		},
		{
			"heart", "heart count off by", "/min", 1, "the counted rate against the true beats",
			func(p Rehearsal) (float64, bool) { return size(p.HeartErrorPerMin) },
		},
		{
			"breath", "breath count off by", "/min", 1, "the counted rate against the true breaths",
			func(p Rehearsal) (float64, bool) { return size(p.BreathErrorPerMin) },
		},
		{
			"taps", "variation of the taps", "ms", 0, "how much the heart taps vary around the beats",
			func(p Rehearsal) (float64, bool) { v, ok := size(p.ScatterS); return 1000 * v, ok },
		},
		{
			"wrong", "findings wrong", "", 0, "answers that are not what was there, counts among them",
			func(p Rehearsal) (float64, bool) { return float64(p.Wrong + p.InPart), p.Findings > 0 },
		},
		{
			"safety", "choices that were not safe", "", 0, "choices at moments at which people get hurt",
			func(p Rehearsal) (float64, bool) { return float64(p.Safety), true },
		},
	}
}

func size(v *float64) (float64, bool) {
	if v == nil {
		return 0, false
	}
	return math.Abs(*v), true
}
