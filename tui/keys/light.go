package keys

// Light is a field or form that can undo presses that only type into it or move its cursor. They act at once, before it is
// known whether they come from a reader of chips.
type Light interface {
	// Light reports whether the press only types or moves: it answers, writes and opens nothing.
	Light(Press) bool
	// Keep saves the present state and returns the function that restores it.
	Keep() (putBack func())
}

// Repeats reports whether a held key may repeat on every screen, because it counts, moves the cursor or deletes.
func Repeats(p Press) bool {
	switch Name(p) {
	case " ", "up", "down", "left", "right", "ctrl+p", "ctrl+n", "pgup", "pgdown", "home", "end", "backspace", "ctrl+h", "delete":
		return true
	}
	return false
}
