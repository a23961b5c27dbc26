package keys

// Light is something that says which presses only move its cursor or type into
// it, and can take them back: a reader of chips types faster than that is known.
type Light interface {
	// Light says that the press answers nothing, writes nothing and opens nothing.
	Light(Press) bool
	// Keep remembers how it stands and returns what puts that back.
	Keep() (putBack func())
}

// Repeats says that a held key may repeat, whatever is on the screen: it counts,
// moves the cursor or deletes.
func Repeats(p Press) bool {
	switch Name(p) {
	case " ", "up", "down", "left", "right", "ctrl+p", "ctrl+n", "pgup", "pgdown", "home", "end", "backspace", "ctrl+h", "delete":
		return true
	}
	return false
}
