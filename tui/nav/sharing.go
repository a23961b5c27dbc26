package nav

// Sharing is what the page of several laptops shows and does. The screen only draws it:
// what an act needs, what it says and what comes next are in the act.
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

// ShareAct is something that can be done.
type ShareAct struct {
	Name, Does string // in the list, and a line about it
	Fields     []ShareField
	Button     string
	// Propose is what may stand in the fields, in their order, where it takes time to learn;
	// empty where nothing is proposed, nil for an act that knows. It runs in a command beside the form.
	Propose func() []string
	// Do does it with what stands in the fields, in their order. It runs in a command.
	Do func(values []string) (ShareStep, error)
}

// ShareField is a line to be filled in.
type ShareField struct {
	Label, Text, Hint string
	Secret            bool // what is typed is not shown
}

// Waits is how many lines wait to go to other laptops by a place, the folder or the hub.
type Waits struct {
	Place string
	Lines int
}

// ShareStep is what came of an act.
type ShareStep struct {
	Say   []string // sentences
	Words string   // six words to be read aloud; empty for none
	// Ask is a question about the words, and Then goes on where the answer is yes.
	Ask  string
	Then func() (ShareStep, error)
}
