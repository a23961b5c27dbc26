package score

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Milestone is what a newborn foal, or its mare, does by when after foaling.
type Milestone struct {
	Step exam.StepID // the step that asks it
	Name string
	// Usual, Recheck and Tell count from the birth: usual before the first, to be
	// looked at again from the second, told to the veterinarian from the third.
	Usual, Recheck, Tell time.Duration
	Source               string
	Evidence             ranges.Evidence
}

// Milestones lists the events in the order in which they are due. Where two
// sources differ the earlier limit stands.
func Milestones() []Milestone {
	const (
		walker = "Walker, assessment of the neonatal foal in the field, bova.vet 2023"
		austin = "; usual times as in Austin, Equine Vet Educ 2013;25:585-589, read in a copy"
		lenz   = "; told from 3 h: Lenz, AQHA 2016 (Walker: from 4 h)"
		rule   = "IVIS, normal newborn foal (WEVA congress, Chile 2023)"
	)
	return []Milestone{
		{"foal.breast", "lies on its breast", 5 * time.Minute, 5 * time.Minute, 10 * time.Minute, walker + austin, ranges.PracticePage},
		{"foal.suck", "sucks at a finger", 10 * time.Minute, 10 * time.Minute, 15 * time.Minute, walker + austin, ranges.PracticePage},
		{"foal.stand", "stands", time.Hour, time.Hour, 2 * time.Hour, walker + austin, ranges.PracticePage},
		{"foal.nurse", "nurses", 2 * time.Hour, 2 * time.Hour, 3 * time.Hour, walker + austin + lenz, ranges.PracticePage},
		{"foal.afterbirth", "mare's afterbirth is out", 3 * time.Hour, 3 * time.Hour, 3 * time.Hour, rule, ranges.Published},
		{"foal.meconium", "passes first manure", 3 * time.Hour, 3 * time.Hour, 6 * time.Hour, walker, ranges.PracticePage},
		{"foal.urine", "passes urine", 10 * time.Hour, 10 * time.Hour, 12 * time.Hour, walker, ranges.PracticePage},
	}
}

// MilestoneOf is the milestone that a step asks; false for any other step.
func MilestoneOf(step exam.StepID) (Milestone, bool) {
	for _, m := range Milestones() {
		if m.Step == step {
			return m, true
		}
	}
	return Milestone{}, false
}

// MilestoneState is one milestone against the clock.
type MilestoneState struct {
	Milestone
	Done  bool
	After time.Duration // when it happened, or how long it has been waited for
	Level ranges.Level
	Next  time.Duration // time until the level rises; 0 where it does not
}

// Newborn are all milestones against the clock.
type Newborn struct {
	Result
	States []MilestoneState
	Level  ranges.Level // the highest of them
}

func newbornBasis() Basis {
	return Basis{
		Name: "Newborn, since foaling", Range: "each event " + ranges.LevelUsual.String() + ", " + ranges.LevelRecheck.String() + " or " + ranges.LevelTell.String() + " by its time",
		Source: "Walker, assessment of the neonatal foal in the field, bova.vet 2023; usual times as in Austin, Equine Vet Educ 2013;25:585-589, read in a copy; " +
			"nursing: Lenz, AQHA 2016; afterbirth: IVIS, normal newborn foal (WEVA congress, Chile 2023)",
		Evidence: ranges.PracticePage, Note: "Foals of larger breeds may be slower (Austin 2013).",
	}
}

// NewbornAt sets the milestones against the clock: foaled is the birth, seen the
// times at which events named as in Milestones happened, now the clock. The error
// is a *notation.Refusal: a time lies before the birth, after now, or its event is
// not known.
func NewbornAt(foaled time.Time, seen map[string]time.Time, now time.Time) (Newborn, error) {
	if foaled.IsZero() || now.Before(foaled) {
		return Newborn{}, &notation.Refusal{Why: "the time of foaling is missing or lies ahead of the clock; look at both"}
	}
	n := Newborn{Result: Result{Basis: newbornBasis()}}
	known, late := 0, 0
	for _, m := range Milestones() {
		at, ok := seen[m.Name]
		if ok {
			known++
			if at.Before(foaled) || at.After(now) {
				return Newborn{}, &notation.Refusal{Why: fmt.Sprintf("%q is dated before the foaling or after now", m.Name)}
			}
		} else {
			at = now
		}
		s := m.After(at.Sub(foaled), ok)
		if s.Level > ranges.LevelUsual {
			late++
		}
		n.Level = max(n.Level, s.Level)
		n.States = append(n.States, s)
		n.Items = append(n.Items, s.item())
	}
	if known != len(seen) {
		return Newborn{}, &notation.Refusal{Why: "an event is named that is none of the milestones"}
	}
	n.Words = fmt.Sprintf("%s since foaling, %d of %d seen, %d late", spell(now.Sub(foaled)), known, len(n.States), late)
	return n, nil
}

// After sets a milestone against the clock: done so long after the birth, or not
// yet by then.
func (m Milestone) After(after time.Duration, done bool) MilestoneState {
	s := MilestoneState{Milestone: m, Done: done, After: after}
	s.Level, s.Next = m.level(after)
	if done {
		s.Next = 0
	}
	return s
}

// Found sets the finding of a milestone's step against the birth. Where it cannot
// be set, why says so: nobody knows when it was seen, or when the foal was born.
// Of a birth known to the day only the least time since is taken, and it counts
// where even that is late.
func (m Milestone) Found(f exam.Finding, born exam.Birth) (s MilestoneState, why string) {
	seen := f.Value.Has(exam.EventSeen)
	at := f.At
	if seen && f.Value.At != nil {
		at = *f.Value.At
	}
	timed := !seen || f.Value.At != nil
	switch {
	case born.Precision == exam.BornMinute:
		s = m.After(max(at.Sub(born.At), 0), seen)
		if !timed && s.Level > ranges.LevelUsual {
			return s, "seen, time not known, so it cannot be judged"
		}
		return s, ""
	case born.Precision == exam.BornDay && timed:
		end := born.At.AddDate(0, 0, 1)
		if s = m.After(at.Sub(end), seen); s.Level > ranges.LevelUsual {
			return s, ""
		}
	}
	return s, "the minute of birth is not known, so it cannot be judged"
}

// Sentence says how the milestone stands, by which times.
func (s MilestoneState) Sentence() string {
	text := fmt.Sprintf("Not yet after %s", spell(s.After))
	if s.Done {
		text = fmt.Sprintf("Seen %s after the birth", spell(s.After))
	}
	text += fmt.Sprintf("; usual by %s, the veterinarian is told from %s", spell(s.Usual), spell(s.Tell))
	if !s.Done && s.Next > 0 {
		text += fmt.Sprintf(". Look again in %s", spell(s.Next))
	}
	return text + "."
}

func (m Milestone) level(after time.Duration) (ranges.Level, time.Duration) {
	switch {
	case after >= m.Tell:
		return ranges.LevelTell, 0
	case after >= m.Recheck:
		return ranges.LevelRecheck, m.Tell - after
	}
	return ranges.LevelUsual, m.Recheck - after
}

func (s MilestoneState) item() Item {
	i := Item{Name: ItemName(s.Name), Found: "not yet, " + spell(s.After), Open: !s.Done}
	if s.Done {
		i.Found = "after " + spell(s.After)
	}
	i.Says = s.Level.String()
	switch {
	case s.Level == ranges.LevelUsual:
		i.Says += ", by " + spell(s.Usual)
	case s.Level == ranges.LevelRecheck:
		i.Says += ", tell the vet from " + spell(s.Tell)
	default:
		i.Says += ", from " + spell(s.Tell)
	}
	if s.Level > ranges.LevelUsual {
		i.Count = 1
	}
	return i
}

// spell writes a time span to the minute: "45 min", "2 h 5 min".
func spell(d time.Duration) string {
	minutes := int(d / time.Minute)
	switch {
	case minutes < 60:
		return fmt.Sprintf("%d min", minutes)
	case minutes%60 == 0:
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}
