package ranges

import (
	"fmt"
	"math"
)

// Level is how a value stands against a row. Levels are ordered: a higher one is more urgent.
type Level int

// The levels, in order.
const (
	LevelUsual Level = iota
	LevelNote
	LevelRecheck
	LevelTell
)

// levelKey is the key of a level.
type levelKey string

// Key is the level as it stands in JSON and CSV.
func (l Level) Key() string {
	switch l {
	case LevelUsual:
		return "usual"
	case LevelNote:
		return "note"
	case LevelRecheck:
		return "recheck"
	case LevelTell:
		return "tell the vet"
	}
	return fmt.Sprintf("level %d", int(l))
}

// Sign is the level as one character beside a value, on screens and pages; empty for usual.
func (l Level) Sign() string {
	switch l {
	case LevelTell:
		return "!"
	case LevelRecheck:
		return "?"
	case LevelNote:
		return "~"
	case LevelUsual:
	}
	return ""
}

// MarshalText writes the level's key; the error is always nil.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.Key()), nil }

// step is the finest step of the instruments: 0.1 of a degree, a second or a count a minute.
const step = 0.1

// slack is the tolerance of comparisons: far below a step, far above the rounding error of a conversion or a sum.
const slack = 1e-6

// Level judges a value in the row's unit. The value is first rounded to 0.1, so that 2.9999999999 is 3.0. It returns
// the level, the limit that was crossed (with the source and evidence of the side crossed) and the side; for a usual
// value the usual limit and an empty side. NaN is LevelRecheck, with no
// limit and no side.
func (r Row) Level(v float64) (level Level, crossed Limit, side string) {
	if math.IsNaN(v) {
		return LevelRecheck, Limit{}, ""
	}
	if !math.IsInf(v, 0) {
		v = math.Round(v/step+slack) * step
	}
	for _, c := range []struct {
		level Level
		limit Limit
	}{{LevelTell, r.Tell}, {LevelRecheck, r.Recheck}} {
		if c.limit.Low != nil && v < *c.limit.Low-slack {
			return c.level, c.limit.On(SideLow), SideLow
		}
		if c.limit.High != nil && v > *c.limit.High-slack {
			return c.level, c.limit.On(SideHigh), SideHigh
		}
	}
	if r.Usual.Low != nil && v < *r.Usual.Low-slack {
		return LevelNote, r.Usual.On(SideLow), SideLow
	}
	if r.Usual.High != nil && v > *r.Usual.High+slack {
		return LevelNote, r.Usual.On(SideHigh), SideHigh
	}
	return LevelUsual, r.Usual, ""
}
