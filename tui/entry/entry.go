// Package entry holds the widgets that answer a step, one for each kind of step, and Sites, which asks a step at several
// sites with a widget each. A screen passes every key to the widget first, and uses those that the widget ignores.
//
// Widgets do not read or write the record: they hold an answer, and the screen stores it.
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

// KeyResult says what a widget did with a key.
type KeyResult int

// The results of a key press.
const (
	Ignored  KeyResult = iota // the widget did not use the key
	Taken                     // the widget used it
	Accepted                  // the answer is complete: Value returns it
)

// Widget asks for the answer to one step at one site. It has pointer receivers and keeps its own state. No method blocks.
type Widget interface {
	Init() tea.Cmd
	// Press takes a key. After Accepted, the error of Value is nil.
	Press(keys.Press) (KeyResult, tea.Cmd)
	// Update takes every other message. Ticks name the widget that asked for them, so that it ignores those of others.
	Update(tea.Msg) tea.Cmd
	// Value is the answer so far; the error is a sentence that says what is missing or wrong.
	Value() (exam.Value, error)
	// View draws at most size.H lines of at most size.W columns.
	View(size layout.Size) []string
	// Keys are the bindings that do something now.
	Keys() []keys.Binding
	// Typing reports whether every letter is text.
	Typing() bool
	// Busy reports whether a count or a timer runs: the screen then asks before it is left.
	Busy() bool
}

// still is embedded by widgets that need only keys: no start, no ticks, no typed text, no timer.
type still struct{}

func (still) Init() tea.Cmd          { return nil }
func (still) Update(tea.Msg) tea.Cmd { return nil }
func (still) Typing() bool           { return false }
func (still) Busy() bool             { return false }

// Options are what a widget is made with, beside its step. Theme and Now are required; the rest may be empty.
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
	// Nothing lets the key u answer "none" in an empty comment.
	Nothing bool
	// Before is the answer that stands now, for a correction.
	Before *exam.Value
	// Measured are tape measures from another step of this visit; a weighing does not ask for them again.
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

// given is the answer that stands, or none.
func (o Options) given() []exam.Value {
	if o.Before == nil {
		return nil
	}
	return []exam.Value{*o.Before}
}

// New makes the widget for a step by its kind, with the choices that can be of the horse. The parts of a step that has some
// can be scored one by one.
func New(step exam.Step, o Options) Widget {
	step = step.For(o.Horse, o.given()...)
	if len(step.Parts.List) > 0 {
		return newParts(step, o, whole(step, o))
	}
	return whole(step, o)
}

// whole is the widget for the answer at once, without parts.
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
