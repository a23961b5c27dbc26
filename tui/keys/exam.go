package keys

// The bindings of the exam, of counting and of procedures.

// Half adds half a score.
func Half() Binding {
	return Binding{Keys: []string{".", ","}, Does: "half", More: "add a half to the score, or take it away again"}
}

// Usual marks the step with its defined usual answer.
func Usual() Binding {
	return Binding{Keys: []string{"u"}, Does: "usual", More: "answer this step with \"usual\" and go on"}
}

// AllUsual answers every open site of the step with its usual answer.
func AllUsual() Binding {
	return Binding{Keys: []string{"a"}, Does: "all usual", More: "answer every site that has no answer with \"usual\""}
}

// RestUsual answers usual at every open step of an area that is judged by eye.
func RestUsual() Binding {
	return Binding{Keys: []string{"z"}, Does: "rest looks usual", More: "the rest of this area looks usual: saves only what the eye can judge"}
}

// TakeMeant takes the number that was probably meant.
func TakeMeant() Binding {
	return Binding{Keys: []string{"y"}, Does: "yes, that", More: "save the suggested number instead of the typed one"}
}

// NotDone passes a step over with a reason.
func NotDone() Binding {
	return Binding{Keys: []string{"x"}, Does: "not done", More: "mark this step as not done and choose the reason"}
}

// Write adds a note in words to the step.
func Write() Binding {
	return Binding{Keys: []string{"w"}, Does: "comment", More: "write a comment on this step"}
}

// How shows or hides how the step is done.
func How() Binding {
	return Binding{Keys: []string{"h"}, Does: "how", More: "show or hide how this step is done"}
}

// Later goes to the next step without an answer.
func Later() Binding {
	return Binding{Keys: []string{"tab"}, Does: "later", More: "go to the next step; this one stays \"to do\""}
}

// Earlier goes to the step before.
func Earlier() Binding {
	return Binding{Keys: []string{"shift+tab"}, More: "go to the step before"}
}

// Order moves the cursor into the order of steps, to jump anywhere.
func Order() Binding {
	return Binding{Keys: []string{"o"}, Does: "order", More: "choose any step from the list"}
}

// Source shows where the range under the cursor comes from.
func Source() Binding {
	return Binding{Keys: []string{"s"}, Does: "source", More: "show where these numbers come from"}
}

// ByEar switches between tapping and counting by ear.
func ByEar() Binding {
	return Binding{Keys: []string{"t"}, Does: "timed count", More: "timed count of 15, 30 or 60 s instead of tapping"}
}

// Timer starts the running timer of a slow instrument.
func Timer() Binding {
	return Binding{Keys: []string{"t"}, Does: "timer", More: "start or stop the running timer, for a slow thermometer"}
}

// CountAgain throws a count away; it asks for a second press.
func CountAgain() Binding {
	return Binding{Keys: []string{"n"}, Does: "new count", More: "discard this count and begin again; asks once more"}
}

// Dangers opens the signs of danger; it works while somebody types too.
func Dangers() Binding {
	return Binding{Keys: []string{"ctrl+d"}, Does: "danger", More: "danger signs of an injection, and what to do first"}
}

// Watched opens the watch that ends first; pressed again, the next one.
func Watched() Binding {
	return Binding{Keys: []string{"ctrl+w"}, More: "go to the observation that ends first; again for the next"}
}

// Understood acknowledges that the chip of another horse was read.
func Understood() Binding {
	return Binding{Keys: []string{"y"}, Does: "I have read this", More: "close the wrong-horse warning; nothing was answered"}
}

// Cautions shows the cautions of a procedure in full: how it is done, without harm.
func Cautions() Binding {
	return How().With("cautions", "show every caution for this step, with its source")
}
