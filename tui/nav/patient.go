package nav

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// RehearsalSign stands in the first line of every screen of a rehearsal.
const RehearsalSign = "REHEARSAL, not a real horse"

// Patient stands in for the horse of a rehearsal. The exam screen asks it what
// the hand, the eye and the ear get, puts its questions in the place of the
// step, and stores what it adds to the record. A real horse has none.
//
// One patient serves every screen of its rehearsal, and is called from Update
// only.
type Patient interface {
	// Come says which place is looked at from now on; coming to the same place
	// again without leaving it changes nothing.
	Come(exam.Key) tea.Cmd
	// Leave says that nothing is looked at any more.
	Leave()
	// Timing says since when a count or a watch runs at the place, or that the
	// one begun then has ended.
	Timing(began time.Time, running bool) tea.Cmd
	// Update takes every message, behind the screen.
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
	// Before gives the entries that stand before an answer in the record; began
	// is when its count was begun, zero where nothing was counted. It is not
	// ready where a question comes first.
	Before(k exam.Key, began time.Time) (entries []exam.Entry, ready bool)
	// TooSoon says why "usual" cannot be said of a place yet: it was not looked at, listened to or felt for as long as
	// that takes. Empty where it can.
	TooSoon(k exam.Key, answer exam.Value) string
	// Stored tells of every entry that is on the disk.
	Stored(exam.Entry)

	// View draws what is seen, heard and felt, in as few lines as it needs in a
	// body of that size; Question the open question.
	View(layout.Size) []string
	Question(layout.Size) []string
	// Keys are those of the open question, or of Command.
	Keys() []keys.Binding
	// Right stands at the right of the first line.
	Right() string
	// Blind says that neither the order of the steps nor how they are done is shown.
	Blind() bool
	// OnlyOrder says that only what comes next is chosen, and nothing is examined.
	OnlyOrder() bool
	// Closing gives the entries that stand before those that close a visit with
	// so many places left.
	Closing(left int) []exam.Entry
	// Closed is what follows once the visit is closed.
	Closed() tea.Cmd
}

// RehearsalCases are the cases to rehearse with, the built-in ones where nobody
// gave others; a problem is a sentence about a file that was refused.
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

// Play is what a rehearsal is begun with.
type Play struct {
	Case         string
	Seed         uint64 // 0 for a new one
	By           string // empty for the person of the settings
	Blind, Timed bool
	Set          *rehearse.Set // the set exam that is taken; nil for none. It says the rest.
}
