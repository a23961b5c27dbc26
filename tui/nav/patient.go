package nav

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// RehearsalSign is shown in the first line of every screen of a rehearsal.
const RehearsalSign = "REHEARSAL, not a real horse"

// Patient is the simulated horse of a rehearsal. The exam screen draws what it shows of a step, asks its questions in
// place of the step, and stores the entries that it adds. With a real horse it is nil.
//
// One patient serves every screen of its rehearsal, and is called from Update
// only.
type Patient interface {
	// Come tells the patient which place is examined from now on. A second call for the same place without Leave
	// changes nothing.
	Come(exam.Key) tea.Cmd
	// Leave tells the patient that no place is examined any more.
	Leave()
	// Timing tells the patient that a count or stopwatch at the place began at this time and runs, or has ended.
	Timing(began time.Time, running bool) tea.Cmd
	// Update takes every message, after the screen.
	Update(tea.Msg) tea.Cmd

	// Asks says that a question is open: Press then takes every key, and gives the
	// entries to be stored. Command is asked about keys that the exam screen has no
	// use for; false where the patient has none either.
	Asks() bool
	Press(keys.Press) []exam.Entry
	Command(keys.Press) (tea.Cmd, bool)
	// NeedleIn opens the question that comes once the needle is in the muscle; false
	// where it was answered in this rehearsal.
	NeedleIn() bool
	// Before returns the entries to store before an answer; began is when its count began, zero where nothing was
	// counted. Ready is false where a question must be answered first.
	Before(k exam.Key, began time.Time) (entries []exam.Entry, ready bool)
	// TooSoon is a sentence where the place was not looked at, listened to or felt for long enough to answer "usual";
	// empty where it was.
	TooSoon(k exam.Key, answer exam.Value) string
	// Stored is called for every entry once it is on the disk.
	Stored(exam.Entry)

	// View draws what is seen, heard and felt, in as few lines as it needs in a body of that size. Question draws the
	// open question.
	View(layout.Size) []string
	Question(layout.Size) []string
	// Keys are those of the open question, or of Command.
	Keys() []keys.Binding
	// Right is the text at the right of the first line.
	Right() string
	// Blind reports whether the order of the steps and how they are done are hidden.
	Blind() bool
	// OnlyOrder reports whether only the next step is chosen each time, and nothing is examined.
	OnlyOrder() bool
	// Closing returns the entries to store before those that close a visit with this many places left.
	Closing(left int) []exam.Entry
	// Closed returns the command to run once the visit is closed.
	Closed() tea.Cmd
}

// RehearsalCases are the cases of Deps.Cases, or the built-in ones where that is nil. A problem is a sentence about a file
// that was refused. It reads files: call it in a command.
func (d *Deps) RehearsalCases() (cases []rehearse.Case, problems []string) {
	if d.Cases != nil {
		return d.Cases()
	}
	cases, err := rehearse.Cases(d.Steps, d.Ranges)
	if err != nil {
		return nil, []string{err.Error()}
	}
	return cases, nil
}

// Play is the choices that a rehearsal begins with.
type Play struct {
	Case         string
	Seed         uint64 // 0 for a new one
	By           string // empty for the person of the settings
	Blind, Timed bool
	Set          *rehearse.Set // the set exam that is taken; nil for none. It says the rest.
}
