package score

import (
	"cmp"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// Effect is what the last half hour does to a measure, and when it is taken again.
type Effect struct {
	State    exam.State
	Measure  exam.StepID
	Words    string
	AgainMin [2]int // minutes at rest before it is taken again, from and to; zero for what is only told
	Source   string
	Evidence ranges.Evidence
	// AgainBasis is where the minutes come from; empty where it is Source.
	AgainBasis string
}

// After work a high rate is counted again after AfterWorkMin at rest. It is told all the same where the heart is above
// FirstGateBeats once FirstGateMin have passed since the first count, or above SecondGateBeats after SecondGateMin. The judge
// goes by these numbers, and their sources stand in Effects: every time to wait is in that one list.
const (
	AfterWorkMin    = 15
	FirstGateMin    = 20
	FirstGateBeats  = 64
	SecondGateMin   = 30
	SecondGateBeats = 60
)

// QuietMin is how long a horse stands quietly before a second look, from and to: a habit of the trade.
func QuietMin() [2]int { return [2]int{10, 15} }

// Effects lists what the context does to temperature, heart and breaths. It is
// empty for a horse at rest. The value stands, and is taken again; only work
// lowers a level, and only for the heart and the breaths (exam/judge).
func Effects(c exam.Context) []Effect {
	const (
		rises    = "a shop's page for owners (drsfostersmith.com, article 1766)"
		recovery = "a company's page on heart rate recovery in endurance horses (enduroequine.com)"
		book     = "online text of an equine cardiology book, exercise (provet.co.uk)"
		fei      = "FEI endurance trial rule 2019, as the New Zealand federation prints it: 64 within 20 min; " +
			"Younes et al., PLoS One 2015: later than 11 to 13 min foretold elimination at the next gate"
		hold     = "our own limit; 489 endurance horses: above 60 after the hold went with more eliminations (Equine Vet J Suppl 2002)"
		practice = "quiet rest and a second count, a common practice"
		asHeart  = "our own: as long as the heart takes after hard work; no source read"
	)
	quiet := QuietMin()
	all := []Effect{
		{exam.StateWorked, "heart.rate", "after moderate work under 100 /min by 2 min and under 60 by 10 min", quiet, recovery, ranges.PracticePage, ""},
		{exam.StateWorked, "heart.rate", "back within 15 % of rest by 15 min after light work, 30 to 45 min after hard work", [2]int{AfterWorkMin, 45}, book, ranges.PracticePage, ""},
		{exam.StateWorked, "heart.rate", fmt.Sprintf("told if it is above %d /min %d min after the first count", FirstGateBeats, FirstGateMin), [2]int{}, fei, ranges.Published, ""},
		{exam.StateWorked, "heart.rate", fmt.Sprintf("told if it is above %d /min after %d min", SecondGateBeats, SecondGateMin), [2]int{}, hold, ranges.CommonPractice, ""},
		{exam.StateWorked, "temp.rectal", "can rise by up to 3 F (1.7 C) with work", [2]int{30, 45}, rises, ranges.PracticePage, asHeart},
		{exam.StateWorked, "breath.rate", "raised by work; falls with the heart", quiet, practice, ranges.CommonPractice, ""},
		{exam.StateWorked, "breath.rate", fmt.Sprintf("told if it is labored, or still high after %d min", SecondGateMin), [2]int{}, "our own limit, as for the heart", ranges.CommonPractice, ""},
		{exam.StateExcited, "heart.rate", "raised while excited; the usual cause of one high count", quiet, practice, ranges.CommonPractice, ""},
		{exam.StateExcited, "breath.rate", "raised while excited", quiet, practice, ranges.CommonPractice, ""},
		{exam.StateTravelled, "heart.rate", "may be raised after travel", quiet, practice, ranges.CommonPractice, ""},
		{exam.StateTravelled, "breath.rate", "may be raised after travel", quiet, practice, ranges.CommonPractice, ""},
		{exam.StateTravelled, "temp.rectal", "may be raised after travel", [2]int{30, 45}, practice, ranges.CommonPractice, asHeart},
		{exam.StateHot, "temp.rectal", "can rise by up to 3 F (1.7 C) in heat", quiet, rises, ranges.PracticePage, practice},
		{
			exam.StateHot, "breath.rate", "raised in heat; breaths faster than the heart beats: watch the temperature and tell the veterinarian",
			quiet,
			"not read", ranges.FromMemory, practice,
		},
	}
	var out []Effect
	for _, e := range all {
		if c.Has(e.State) {
			out = append(out, e)
		}
	}
	return out
}

// EffectsOn are those on one measure.
func EffectsOn(c exam.Context, measure exam.StepID) []Effect {
	var out []Effect
	for _, e := range Effects(c) {
		if e.Measure == measure {
			out = append(out, e)
		}
	}
	return out
}

// Lines says what the state does, when the measure is taken again, and where
// either comes from.
func (e Effect) Lines() []string {
	if !e.again() {
		return []string{fmt.Sprintf("%s: %s", e.State, e.Words), fmt.Sprintf("source: %s (%s)", e.Source, e.Evidence)}
	}
	return []string{
		fmt.Sprintf("%s: %s; again after %d to %d min at rest", e.State, e.Words, e.AgainMin[0], e.AgainMin[1]),
		fmt.Sprintf("source: %s (%s); the minutes: %s", e.Source, e.Evidence, cmp.Or(e.AgainBasis, "the same")),
	}
}

// again says that the measure is taken again for it.
func (e Effect) again() bool { return e.AgainMin[1] > 0 }

// Again is after how many minutes at rest a measure is taken again: the longest
// that any of the states asks for, so that heat does not shorten what work
// needs. False where none of them moves it.
func Again(c exam.Context, measure exam.StepID) (minutes [2]int, ok bool) {
	byState := map[exam.State][2]int{}
	for _, e := range EffectsOn(c, measure) {
		if !e.again() {
			continue
		}
		m, seen := byState[e.State]
		if !seen {
			m = e.AgainMin
		}
		byState[e.State] = [2]int{min(m[0], e.AgainMin[0]), max(m[1], e.AgainMin[1])}
	}
	for _, m := range byState {
		minutes = [2]int{max(minutes[0], m[0]), max(minutes[1], m[1])}
	}
	return minutes, len(byState) > 0
}

// stirredBy is one line of what the last half hour does to a measure; empty where
// it does nothing.
func stirredBy(c exam.Context, measure exam.StepID) string {
	minutes, ok := Again(c, measure)
	if !ok {
		return ""
	}
	var states []string
	words := ""
	for _, e := range EffectsOn(c, measure) {
		if len(states) == 0 || states[len(states)-1] != e.State.String() {
			states = append(states, e.State.String())
		}
		if words == "" && e.AgainMin[1] == minutes[1] {
			words = e.Words
		}
	}
	return fmt.Sprintf("%s: again after %d to %d min at rest; %s", strings.Join(states, ", "), minutes[0], minutes[1], words)
}

// Repeat says in one sentence when the measures that the last half hour raises
// are taken again; empty for a horse at rest.
func Repeat(c exam.Context) string {
	var parts []string
	for _, m := range []struct {
		step exam.StepID
		name string
	}{{"heart.rate", "heart"}, {"breath.rate", "breaths"}, {"temp.rectal", "temperature"}} {
		if minutes, ok := Again(c, m.step); ok {
			parts = append(parts, fmt.Sprintf("%s after %d to %d min", m.name, minutes[0], minutes[1]))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "Raised values stay in the record; measure again at rest: " + strings.Join(parts, ", ") + "."
}
