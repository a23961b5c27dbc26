package nav

// Sharing is the state and the actions of the page of several laptops. The screen only draws them: an action says itself
// what it needs, what it did and what comes next.
type Sharing interface {
	State() (ShareState, error)
}

// ShareState is how sharing stands, and what can be done about it.
type ShareState struct {
	Facts []ShareFact
	Acts  []ShareAct
}

// ShareFact is one line: a label and what stands behind it.
type ShareFact struct{ Label, Text string }

// ShareAct is one action.
type ShareAct struct {
	Name, Does string // in the list, and a line about it
	Fields     []ShareField
	Button     string
	// Propose returns the texts to propose in the fields, in their order, "" for none, where finding them takes time. It
	// runs in a command while the form is open. Nil where the fields have their texts already.
	Propose func() []string
	// Do runs the action with the texts of the fields, in their order. It runs in a command; the error is shown.
	Do func(values []string) (ShareStep, error)
}

// ShareField is a line to be filled in.
type ShareField struct {
	Label, Text, Hint string
	Secret            bool // what is typed is not shown
}

// Waits is how many lines wait to be sent by one way, the folder or the hub.
type Waits struct {
	Place string
	Lines int
}

// ShareStep is the result of an action.
type ShareStep struct {
	Say   []string // sentences
	Words string   // six words to be read aloud; empty for none
	// Ask is a question about the words, and Then goes on where the answer is yes.
	Ask  string
	Then func() (ShareStep, error)
}
