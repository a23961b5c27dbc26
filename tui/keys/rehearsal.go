package keys

// Listen switches what is heard of a simulated horse.
func Listen() Binding {
	return Binding{Keys: []string{"ctrl+l"}, Does: "sound", More: "sound of the simulated horse: off, bell or played"}
}

// Rehearse opens the rehearsal of an exam.
func Rehearse() Binding {
	return Binding{Keys: []string{"j"}, Does: "rehearse", More: "rehearse an exam on a simulated horse; it is marked afterwards"}
}

// NewRehearsal rehearses once more with the same case and another horse.
func NewRehearsal() Binding {
	return Binding{Keys: []string{"n"}, Does: "new rehearsal", More: "rehearse the same case with another horse"}
}

// Progress opens the rehearsals over time.
func Progress() Binding {
	return Binding{Keys: []string{"ctrl+r"}, Does: "progress", More: "see all rehearsals over time"}
}

// Everybody sets the people who rehearse side by side.
func Everybody() Binding {
	return Binding{Keys: []string{"a"}, Does: "all people", More: "compare everybody who rehearses"}
}

// OneRoutine leaves only the rehearsals of one routine, each in turn.
func OneRoutine() Binding {
	return Binding{Keys: []string{"/"}, Does: "one routine", More: "show one routine at a time, then all again"}
}

// Class opens the table of a class.
func Class() Binding {
	return Binding{Keys: []string{"c"}, Does: "class", More: "see the set exams that were taken here: by person, by step, by fault"}
}

// Tour shows somebody new round.
func Tour() Binding {
	return Binding{Keys: []string{"i"}, Does: "tour", More: "a five-minute tour of the keys with a simulated horse"}
}
