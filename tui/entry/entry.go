// Package entry holds the widgets that answer a step, one for each kind, and the
// wrapper that asks one widget at several sites. A screen hands every key first
// to its field; what the field does not use is the screen's.
//
// Nothing here reads or writes the record: a field gathers an answer, and the
// screen stores it.
package entry

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// KeyResult says what a widget made of a key.
type KeyResult int

// The results of a key press.
const (
	Ignored  KeyResult = iota // the key is the screen's
	Taken                     // the widget used it
	Accepted                  // the answer is whole: Value holds it
)

// Widget asks for the answer to one step at one site. It has pointer receivers and
// keeps its own state; none of its methods waits.
type Widget interface {
	Init() tea.Cmd
	// Press takes a key. After Accepted, Value gives the answer without an error.
	Press(keys.Press) (KeyResult, tea.Cmd)
	// Update takes every other message. Ticks name the field that asked for
	// them, so that those of an old field do nothing.
	Update(tea.Msg) tea.Cmd
	// Value is the answer as it stands; the error is a sentence about what is
	// missing or wrong.
	Value() (exam.Value, error)
	// View draws at most size.H lines of at most size.W columns.
	View(size layout.Size) []string
	// Keys are the bindings that do something now.
	Keys() []keys.Binding
	// Typing says that every letter is text.
	Typing() bool
	// Busy says that a count or a timer runs: the screen stays, and asks before
	// it is left.
	Busy() bool
}

// still is a field that gets no message but keys, where letters are no text and nothing runs.
type still struct{}

func (still) Init() tea.Cmd          { return nil }
func (still) Update(tea.Msg) tea.Cmd { return nil }
func (still) Typing() bool           { return false }
func (still) Busy() bool             { return false }

// Options are those of New: what a widget is made of, beside its step. Theme and Now are needed;
// the rest may be empty.
type Options struct {
	Theme    *theme.Theme
	Now      func() time.Time
	Settings exam.Settings
	Person   string  // who examines; names the tap scatter in the settings
	Bell     tea.Cmd // nil where the settings silence it
	// Later sends a message after a while; nil is the real timer.
	Later func(time.Duration, tea.Msg) tea.Cmd
	Class exam.Class
	Horse exam.Horse
	// Example is a number that an empty field shows as one is typed; without a unit where none is known.
	Example notation.Quantity
	// Nothing lets u stand for "none" in an empty comment.
	Nothing bool
	// Before is the answer that stands now, for a correction.
	Before *exam.Value
	// Measured are tape measures that another step of this visit holds; a weighing does not ask them anew.
	Measured map[weight.Measure]notation.Quantity
	// LastWeight is the last known weight.
	LastWeight *EarlierWeight
	// UsualRate is this horse's usual rate a minute, for the question whether
	// both heart sounds were tapped; 0 where it is not known.
	UsualRate float64
}

// later sends a message after a while.
func (o Options) later(after time.Duration, msg tea.Msg) tea.Cmd {
	if o.Later != nil {
		return o.Later(after, msg)
	}
	return tea.Tick(after, func(time.Time) tea.Msg { return msg })
}

// EarlierWeight is a weight of an earlier visit.
type EarlierWeight struct {
	Value exam.Value
	At    time.Time
}

// lastKg is the last known weight in kg, 0 where there is none.
func (o Options) lastKg() float64 {
	if o.LastWeight == nil {
		return 0
	}
	kg, _ := o.LastWeight.Value.In(notation.Kilograms)
	return kg
}

// New makes the field for a step by its kind; of a step with parts they can be
// scored one by one.
func New(step exam.Step, o Options) Widget {
	if len(step.Parts.List) > 0 {
		return newParts(step, o, whole(step, o))
	}
	return whole(step, o)
}

// whole is the field of a whole answer.
func whole(step exam.Step, o Options) Widget {
	switch step.Kind {
	case exam.KindNumber:
		return newNumber(step, o)
	case exam.KindMarks:
		return newMarks(step, o)
	case exam.KindScale:
		return newScale(step, o)
	case exam.KindEvent:
		return newEvent(step, o)
	case exam.KindNote:
		return newNote(step, o)
	case exam.KindTime:
		return newStopwatch(step, o)
	case exam.KindCount:
		return newCount(step, o)
	case exam.KindWeight:
		return newWeigh(step, o)
	case exam.KindPick:
	}
	return newPick(step, o)
}

// prefer is the unit in which a bare number of the step is taken.
func (o Options) prefer(step exam.Step) notation.Unit {
	return step.Prefer(o.Settings.Units)
}
