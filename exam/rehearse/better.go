package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// most is how many things to do better are said: more are not remembered.
const most = 3

// better says what to do better next time, at most three things. What can hurt somebody comes first, then what the
// veterinarian did not get to know, then what was wrong, left out and out of order.
func (m *marker) better() []string {
	out := []string{}
	for _, of := range []func() string{
		m.saferNext, m.foundNext, m.toldNext, m.weightyNext, m.earnedNext, m.missedNext, m.sidesNext, m.countNext, m.passedNext,
		m.wordsNext, m.contextNext, m.orderNext,
	} {
		if text := of(); text != "" && len(out) < most {
			out = append(out, text)
		}
	}
	return out
}

func (m *marker) saferNext() string {
	for _, s := range m.out.Safety {
		if !s.Safe {
			return fmt.Sprintf("Stay safe at %s: %s %s", orPlace(s.Place.Name, "the injection"), s.Better, s.Why)
		}
	}
	return ""
}

func orPlace(name, other string) string {
	if name == "" {
		return other
	}
	return name
}

// foundNext speaks of what had to be told and was not found, with the line of how to do that step.
func (m *marker) foundNext() string {
	var names []string
	var first exam.StepID
	for _, t := range m.out.Tell {
		if !t.Found {
			names = append(names, t.Name)
			if first == "" {
				first = t.Step
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Find what the veterinarian must know: %s. %s", some(names), m.how(first))
}

// how is the first lines of how a step is done, as one text.
func (m *marker) how(id exam.StepID) string {
	step, ok := m.horse.table.ByID(id)
	if !ok {
		return ""
	}
	return strings.Join(step.How, " ")
}

func (m *marker) toldNext() string {
	h := m.out.HandOff
	switch {
	case !h.Needed || h.Complete:
		return ""
	case !h.Done:
		return "Hand off before you close: something here is for the veterinarian and was not handed off."
	}
	var late []string
	for _, t := range m.out.Tell {
		if t.Found && !t.Told {
			late = append(late, t.Name)
		}
	}
	if len(late) > 0 {
		return fmt.Sprintf("Hand off again after a later finding: the veterinarian was not told of %s.", some(late))
	}
	if h.unnamed {
		return "Record the name of the person you handed off to."
	}
	return ""
}

// weightyNext and wordsNext speak of wrong answers that foundNext has not named: those whose truth stands at recheck or
// above, and the rest.
func (m *marker) weightyNext() string {
	return m.wrong("Look again at", func(level exam.Level) bool { return level >= ranges.LevelRecheck })
}

func (m *marker) wordsNext() string {
	return m.wrong("Compare words at", func(level exam.Level) bool { return level < ranges.LevelRecheck })
}

func (m *marker) wrong(begin string, concerns func(exam.Level) bool) string {
	told := map[Place]bool{}
	for _, t := range m.out.Tell {
		told[t.Place] = true
	}
	var names []string
	var first FindingMark
	for _, f := range m.out.Findings {
		if f.Right || f.Answer == "" || f.TooSoon != "" || m.out.counted(f.Place) || told[f.Place] || !concerns(f.Level) {
			continue
		}
		if len(names) == 0 {
			first = f
		}
		names = append(names, f.Name)
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("%s %s. At %s it was %s, not %s. %s", begin, some(names), first.Name, first.Truth, first.Answer, m.how(first.Step))
}

// some names up to four things.
func some(names []string) string {
	if len(names) > 4 {
		return strings.Join(names[:4], ", ") + fmt.Sprintf(" and %d more", len(names)-4)
	}
	return strings.Join(names, ", ")
}

func perMin(v float64) string {
	return notation.Quantity{Value: v, Unit: notation.PerMinute}.Text(1)
}
