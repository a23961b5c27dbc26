package exam

import (
	"fmt"
	"time"

	"loosebox/exam/notation"
)

// RoundAct is what somebody decided about a horse for one day's round.
type RoundAct string

// The acts. What a round holds beside them (due dates, rechecks, open visits)
// is read from the record and written nowhere.
const (
	RoundPicked  RoundAct = "picked"      // to be seen that day
	RoundLeftOut RoundAct = "left out"    // not that day, whatever is due
	RoundSeen    RoundAct = "seen"        // seen without an exam
	RoundHanded  RoundAct = "handed over" // to another person or to another day
	RoundTurn    RoundAct = "turn"        // when it comes, instead of what the record says
	RoundBack    RoundAct = "put back"    // as if nothing had been decided that day
)

// RoundActs lists every act.
func RoundActs() []RoundAct {
	return []RoundAct{RoundPicked, RoundLeftOut, RoundSeen, RoundHanded, RoundTurn, RoundBack}
}

// Turn is when a horse comes in a round where a person decides it.
type Turn string

// The turns.
const (
	TurnByRecord Turn = ""             // as the record says
	TurnLast     Turn = "last"         // after all others
	TurnOrdinary Turn = "in its place" // not last, whatever was found
)

// RoundLine is one line of a day's round: who decided what about a horse, and
// when. A line is never changed; the last one of a horse and an act counts.
type RoundLine struct {
	Day   string    `json:"day"` // 2026-03-04
	Seq   int       `json:"seq"` // from 1 in each day, set by the store
	At    time.Time `json:"at"`
	By    string    `json:"by"`
	Horse HorseID   `json:"horse"`
	Act   RoundAct  `json:"act"`
	Words string    `json:"words,omitempty"`
	To    string    `json:"to,omitempty"`     // of handed over: the other person
	OnDay string    `json:"on_day,omitempty"` // of handed over: the other day
	Turn  Turn      `json:"turn,omitempty"`   // of turn
}

// Check says what is missing of a line, or wrong with it; the error is a *notation.Refusal.
func (l RoundLine) Check() error {
	refuse := func(typed, format string, args ...any) error {
		return &notation.Refusal{Typed: typed, Why: fmt.Sprintf(format, args...)}
	}
	if !isDay(l.Day) {
		return refuse(l.Day, "a round is of a day, written as 2026-03-04")
	}
	switch {
	case l.Horse == "":
		return refuse("", "a line of a round names its horse")
	case l.By == "":
		return refuse("", "a line of a round needs a name")
	case l.At.IsZero():
		return refuse("", "a line of a round says when")
	}
	switch l.Act {
	case RoundPicked, RoundLeftOut, RoundSeen, RoundBack:
		return nil
	case RoundHanded:
		return l.checkHanded(refuse)
	case RoundTurn:
		if l.Turn != TurnByRecord && l.Words == "" {
			return refuse("", "say why this horse comes %s", l.Turn)
		}
		if l.Turn != TurnByRecord && l.Turn != TurnLast && l.Turn != TurnOrdinary {
			return refuse(string(l.Turn), "a horse comes last or in its place")
		}
		return nil
	}
	return refuse(string(l.Act), "there is no such action of a round")
}

func (l RoundLine) checkHanded(refuse func(string, string, ...any) error) error {
	switch {
	case (l.To == "") == (l.OnDay == ""):
		return refuse("", "a horse is reassigned to a person or another day")
	case l.To != "" && l.Words == "":
		return refuse("", "type what the other person needs to know")
	case l.OnDay != "" && !isDay(l.OnDay):
		return refuse(l.OnDay, "write a day as 2026-03-04")
	case l.OnDay != "" && l.OnDay <= l.Day:
		return refuse(l.OnDay, "choose a later day")
	}
	return nil
}

func isDay(text string) bool {
	at, err := time.Parse(notation.DayForm, text)
	return err == nil && at.Format(notation.DayForm) == text
}

// CleanRoundLine is Clean for a line of a round, which holds no list.
func CleanRoundLine(l RoundLine) RoundLine {
	l, _ = Clean(l)
	return l
}
