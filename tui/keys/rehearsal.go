package keys

// Listen switches what is heard of a simulated horse.
func Listen() Binding {
	return Binding{Keys: []string{"ctrl+l"}, Does: "sound", More: "sound of the simulated horse: off, bell or played"}
}

// Rehearse opens the rehearsal of an exam.
func Rehearse() Binding {
	return Binding{Keys: []string{"j"}, Does: "rehearse", More: "rehearse an exam on a simulated horse; it is marked afterwards"}
}
