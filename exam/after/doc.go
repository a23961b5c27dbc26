// Package after says what follows the exam of a visit: hand-off, decision,
// injections, draws, watches, rechecks, closing, each open, done or locked, and
// why it is locked. Screens, prompts and commands read the same lines.
//
// In a closed visit an entry is added later, with its reason; what the veterinarian decides
// after closing, on the same day, still takes an injection or a draw there. A corrected
// decision stands from when it was first saved (Decided.Since), so that a correction opens
// nothing. A past dose goes into the open visit, or into one closed visit of the routine
// "papers"; exam.LookedAt leaves such visits out wherever visits are compared or counted.
package after

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Status says how a task stands.
type Status string

// The statuses. Open waits for somebody or can be begun now.
const (
	Open   Status = "open"
	Done   Status = "done"
	Locked Status = "locked"
)

// Kind is a kind of task.
type Kind string

// The kinds, in the order of the lines.
const (
	HandOff   Kind = "hand-off"
	Decision  Kind = "decision"
	Injection Kind = "injection"
	ByVet     Kind = "by the vet" // without an earlier decision
	Draw      Kind = "blood draw"
	Watch     Kind = "watch"
	Recheck   Kind = "recheck"
	Dose      Kind = "earlier dose" // from papers
	Due       Kind = "due"
	Close     Kind = "close"
)

// Task is one thing that follows the exam: a line of the list.
type Task struct {
	Kind  Kind   `json:"kind"`
	State Status `json:"state"`
	// Number is that of the injection or draw, for a watch of its injection, for a
	// decision or a recheck of its entry; 0 for what is not begun.
	Number int    `json:"number,omitempty"`
	Text   string `json:"text"`
	// Why says why it is locked, or what it waits for; empty where nothing is to be said.
	Why string `json:"why,omitempty"`
	// Urgent comes before everything else: a needle of which nobody said what
	// happened, a watch that nobody began or that is over.
	Urgent bool `json:"urgent,omitempty"`
	// Again is one more of what is done already; nothing leads there by itself.
	Again bool `json:"again,omitempty"`
	// Procedure is what a line that is not begun would begin.
	Procedure *exam.CoveredProcedure `json:"procedure,omitempty"`
}

// Input is what the lines are made of.
type Input struct {
	Visit   exam.Visit
	Remarks []exam.Remark // the judge's on the visit as it stands
	Left    int           // places of the routine not answered yet
	// WatchMinutes is how long the practice watches after an injection; 0 for not at all.
	WatchMinutes int
	Waits        *exam.Waits // by which running watches are measured; nil for the clock on the wall alone
	Now          time.Time
}

// Lines lists what follows the exam, in the order in which it is done.
func Lines(in Input) []Task {
	out := []Task{in.handOff()}
	for _, part := range []func() []Task{in.decisions, in.injections, in.byVet, in.draws, in.watches, in.rechecks, in.doses} {
		out = append(out, part()...)
	}
	out = append(out, Task{Kind: Due, State: Open, Text: "what is due by the schedule"}, in.closing())
	for i := range out {
		out[i].Text, out[i].Why = notation.CleanNote(out[i].Text), notation.CleanNote(out[i].Why)
	}
	return out
}

// Locks says what closing the visit locks, and what can be written into it after.
func Locks(lines []Task) string {
	var left []string
	for _, l := range lines {
		if (l.Kind == Injection || l.Kind == Draw) && l.State == Open && !l.Again {
			left = append(left, l.Text)
		}
	}
	text := "Closing locks the answers. A correction needs a reason; the old value stays readable."
	if len(left) > 0 {
		text += " It locks decided procedures that are not done: " + strings.Join(left, "; ") + "."
	}
	return text + " Decisions of later today can still be added to this visit."
}

// Next is the line to do next: what is urgent, then the first that waits. Nothing
// leads to closing by itself; where nothing waits it is the first line.
func Next(lines []Task) int {
	for i, l := range lines {
		if l.Urgent {
			return i
		}
	}
	for i, l := range lines {
		switch l.Kind {
		case HandOff, Injection, Draw, Watch:
			if l.State == Open && !l.Again {
				return i
			}
		case Decision:
			if l.State == Open && l.Why != "" {
				return i
			}
		case Recheck, Dose, Due, Close, ByVet:
		}
	}
	return 0
}
