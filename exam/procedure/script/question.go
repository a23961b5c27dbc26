package script

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/label"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// Question is one state of a procedure: what is asked, what may be answered, and
// what each answer leads to. A screen and the plain prompts draw the same one.
type Question struct {
	ID string // of the state, for tests
	// Head stands above the answers. Ask is what the prompts say instead of it, where
	// a line of text says it otherwise; instead of its first line where it is over.
	Head []Text
	Ask  string
	// Stage is where its cautions belong; empty keeps those that were told.
	Stage procedure.Stage

	// Options are the answers in sight; More are keys beside them. Prompts are
	// answers that only a prompt takes, as "wait".
	Options, More, Prompts []Option
	// Listed says that the cursor stands on the first of the options; otherwise enter
	// alone answers nothing, or does what Enter says.
	Listed bool
	Enter  *Option
	// Free is the key of the option that takes words: a prompt reads a line that is no
	// answer as these. Alone is the key of the option that an empty line gives there.
	Free, Alone string

	// One of these at most stands in the place of the options.
	Form   *Form
	Checks *CheckList
	Places *Places
	Marks  *Several
	Rail   *Rail

	// Leaving is said once before it is left; a needle is in.
	Leaving string
	// Back is the question before; nil leaves the procedure.
	Back func() *Question
	// Locked says that the gate is shut. Ends is the error with which the prompts end
	// here, and First what they write before they do.
	Locked bool
	Ends   error
	First  []exam.Entry
	// Over says that the procedure is over: the prompts ask no more.
	Over bool
	// Ticks says that what is shown changes with the clock.
	Ticks bool
	// Rehearsed says that the horse of a rehearsal asks its own question here.
	Rehearsed bool
	// Numbered says that the prompts take the number of an answer beside its letter.
	Numbered bool
	// Cautions are held ready for the key that shows them, without being told.
	Cautions []procedure.Caution
}

// Option is one answer to a question, or a key.
type Option struct {
	// Key is the letter that gives it at once. Without one it has a number.
	Key         string
	Words, Hint string
	// Off is why it does nothing now on the screen; the gate says it at the prompts.
	Off string
	// Also are words that give it at the prompts beside its letter. Rest is the key of
	// the option that is meant where something is typed behind the letter.
	Also []string
	Rest string
	// Then is asked by the prompts behind the answer; on the screen what stands in it
	// holds, and another answer leads to a form.
	Then *Form
	Do   func() Move
}

// Form is a list of fields with a line that says what it does.
type Form struct {
	Fields []order.Field
	To     Answers
	Action string // the last line: "save what was given"
	Does   string // the same in one word
	// Only is the key that does it, where an enter too many must not; AtEnd puts the
	// cursor on the last line.
	Only  Option
	AtEnd bool
	// Numbers says that no line takes letters, so that other keys work on any line.
	Numbers bool
	// Word stands before the only field at the prompts, on one line: "begin 20".
	Word string
	Done func() Move
	// At is the key of the field under which the cursor begins; empty for the first.
	At string
	// Scan takes the code of a package that was scanned, with what the practice wrote
	// down of an item number before; nil where no code belongs.
	Scan func(text string, known FindProduct) Move
}

// FindProduct looks up what this practice wrote down last with an item number.
type FindProduct func(item string) (label.SavedProduct, bool)

// Answers is where the answers of a form stand.
type Answers interface {
	Get(key string) string
	Put(key, text string)
}

// CheckList is a check list. Each point has letters of its own.
type CheckList struct {
	Points []order.AnsweredPoint
	Done   func([]exam.Checked) Move
}

// Places is the choice of a site.
type Places struct {
	Choices  []procedure.OfferedPlace
	Proposed bool   // the first one is
	Note     string // a sentence above the list
	Chosen   func(procedure.OfferedPlace) Move
}

// Several are lines of which those that are seen are marked.
type Several struct {
	Asks  string
	Lines []string
	Done  func(seen string) Move
	// Own is the question for what no line says, after what was marked.
	Own func(seen string) *Question
}

// Rail is a list of titles with what belongs to each; those with Do are answers,
// given by their number.
type Rail struct {
	Pages        []RailLine
	Answer, Read Option // the words of both kinds of key
	Enter        string // enter alone answers nothing, and this is said
}

// RailLine is one line of a rail.
type RailLine struct {
	Title string
	Body  []Text
	Do    func() Move // nil: only read
}

// Text is a line of a head or of a rail with its tone, wrapped where it is too long unless Cut is set.
type Text struct {
	Words string
	Tone  Tone
	Cut   bool
	Lead  string         // an alarm before the words: TELL THE VET
	Mark  string         // a number before the words, which stand clear of it
	Steps []ProgressStep // in the place of words: what is done, now, left
}

// ProgressStep is one of a row of things that are done one after the other.
type ProgressStep struct {
	Words string
	State StepState
}

// StepState is how far one is.
type StepState int

// The states.
const (
	Left StepState = iota
	Now
	Done
)

// Tone is how a text stands out.
type Tone int

// The tones.
const (
	Plain Tone = iota
	Strong
	Alarm
	Warn
	Caution
	Faint
	Heading
	Digits
)

// Move is what an answer leads to. With Write the lines are stored first, each
// durable before the next. Then Next is asked; without it the script says what
// comes next, unless only something was said.
type Move struct {
	Write []exam.Entry
	Next  *Question
	Say   string      // the question stays, and this is said
	To    Destination // elsewhere
	// Told is said by the prompts once the lines are stored. Over ends them.
	Told string
	Over bool
	// Fail ends the prompts with an error. Wait is how long they still wait before they
	// ask again, 0 for no longer; they look at it time and again.
	Fail error
	Wait func() time.Duration
}

// Destination is where a move leads that leaves the procedure.
type Destination struct {
	Kind   DestinationKind
	Name   Name // of To
	Number int
}

// DestinationKind is a kind of destination.
type DestinationKind int

// The kinds: none, what follows the exam, back to where it came from, another
// procedure.
const (
	Here DestinationKind = iota
	Hub
	Back
	To
)
