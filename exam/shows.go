package exam

import (
	"loosebox/ranges"

	"loosebox/exam/notation"
)

// Sense says by what a step is answered.
type Sense string

// The senses.
const (
	ByEye  Sense = "eye"
	ByEar  Sense = "ear"
	ByHand Sense = "hand"
)

// Listen says which movement or sound of the horse goes on while a step is asked: a screen draws it, a player plays it.
type Listen string

// What there is to listen to or to watch.
const (
	ListenNone   Listen = ""
	ListenHeart  Listen = "heart"
	ListenBreath Listen = "breath"
	ListenGut    Listen = "gut"
)

// Shows is what a simulated horse shows of a step: the words describe what eye, ear or hand gets, never the answer itself.
// They add no fact to the step.
type Shows struct {
	Choices map[string]string // by choice key
	Young   map[string]string // by choice key, instead of Choices, of an animal under six months
	Never   []string          // choices that describe the examiner ("not sure"): true of no horse
	// Parts are what is seen of each part of a score, from its least points upwards.
	Parts map[string][]string
	// While is what is seen as a number, a count, a time or a note is taken; %s stands for the figure. Of a choice by ear it
	// is what stands there instead of the words of Choices, where these are heard.
	While string
	// Moments says that what is heard is drawn, listed or played from moment to moment: the words of Choices are never told.
	Moments bool
	Also    notation.Unit // in which the figure is shown too; NoUnit for its own alone
	// Begin and End are the two moments of a time.
	Begin, End string

	// What a healthy animal is drawn from, where neither the case nor a range table has it: the usual answer of the step,
	// else one of Healthy, else Span of its class, else a share of what is true of another step.
	Healthy []string
	Newborn string // the choice of a horse foal in its first week
	Span    func(ranges.Class) Span
	Share   Share
}

// Share is a span of parts of another step's figure: 0.5 to 0.6 of the height.
type Share struct {
	Of   StepID
	From Span
}
