package episode

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Way is which way a finding went.
type Way string

// The ways. They say nothing about the horse but where its number stands to the range.
const (
	Closer  Way = "closer to usual"
	Further Way = "further from usual"
	Changed Way = "changed"
)

// ChangedFinding is a finding that changed by more than normal variation, or whose level did.
type ChangedFinding struct {
	Step      exam.StepID
	Site      exam.Site
	Name      string // with its site
	Then, Now string
	Way       Way
	Level     exam.Level // now
	Note      string     // why it is not sure that it is more than normal variation; empty where it is
}

// Words is the turn as a line: "Heart rate: 64 -> 52 /min, closer to usual; still recheck".
func (t ChangedFinding) Words() string {
	text := fmt.Sprintf("%s: %s -> %s, %s", t.Name, t.Then, t.Now, t.Way)
	switch {
	case t.Level >= ranges.LevelRecheck && t.Way == Closer:
		text += "; still " + t.Level.String()
	case t.Level >= ranges.LevelRecheck:
		text += "; " + t.Level.String()
	}
	if t.Note != "" {
		text += " (" + t.Note + ")"
	}
	return text
}

// unknown is said of a change that nothing is held to weigh it by.
const unknown = "normal variation not known"

// turn sets the newest cell of a row against the last one before it that was answered.
func turn(r *compare.StepRow) (ChangedFinding, bool) {
	now, then, ok := pair(r.Cells)
	if !ok {
		return ChangedFinding{}, false
	}
	unit := ""
	if r.Unit != notation.NoUnit && r.Unit != notation.Points {
		unit = " " + string(r.Unit)
	}
	t := ChangedFinding{Step: r.Step, Site: r.Site, Name: Named(r), Then: then.Text, Now: now.Text, Level: now.Level, Way: Changed}
	if now.Number != nil {
		t.Now += unit
	}
	switch c := r.Change; {
	case now.Number == nil || then.Number == nil:
		if now.Text == then.Text && now.Level == then.Level {
			return t, false
		}
		t.Way = byLevel(now.Level, then.Level)
	case c.Verdict == compare.Changed, now.Level != then.Level:
		t.Way = byRange(*now.Number, *then.Number, r)
	case c.Verdict == compare.NotKnown && c.By != nil && c.Noise.Limit > 0 && math.Abs(*c.By) > c.Noise.Limit:
		t.Way, t.Note = byRange(*now.Number, *then.Number, r), "more than accuracy; this horse's normal variation is not known yet"
	case c.Verdict == compare.NotKnown && c.By != nil && c.Noise.Limit == 0 && *c.By != 0:
		t.Way, t.Note = byRange(*now.Number, *then.Number, r), unknown
	case c.Verdict == compare.NoVerdict && *now.Number != *then.Number: // a score
		t.Way = byRange(*now.Number, *then.Number, r)
		if r.Low == nil && r.High == nil {
			t.Way = byLevel(now.Level, then.Level)
		}
	default:
		return t, false
	}
	if t.Way == Changed {
		t.Way = byLevel(now.Level, then.Level)
	}
	return t, true
}

// pair is the newest cell and the last answered one before it.
func pair(cells []compare.Cell) (now, then *compare.Cell, ok bool) {
	answered := func(c *compare.Cell) bool { return !c.Empty && c.NotDone == "" }
	if len(cells) == 0 || !answered(&cells[0]) {
		return nil, nil, false
	}
	for i := range cells[1:] {
		if c := &cells[1+i]; answered(c) {
			return &cells[0], c, true
		}
	}
	return nil, nil, false
}

func byLevel(now, then exam.Level) Way {
	switch {
	case now < then:
		return Closer
	case now > then:
		return Further
	}
	return Changed
}

// byRange compares how far two numbers lie outside what is usual.
func byRange(now, then float64, r *compare.StepRow) Way {
	a, b := outside(now, r), outside(then, r)
	switch {
	case a < b:
		return Closer
	case a > b:
		return Further
	}
	return Changed
}

func outside(v float64, r *compare.StepRow) float64 {
	switch {
	case r.Low != nil && v < *r.Low:
		return *r.Low - v
	case r.High != nil && v > *r.High:
		return v - *r.High
	}
	return 0
}

// Named is the name of a row with its site.
func Named(r *compare.StepRow) string {
	if r.Site == exam.NoSite {
		return r.Name
	}
	return r.Name + ", " + r.Site.String()
}
