package keys

// Listen switches what is heard of a simulated horse.
func Listen() Binding {
	return Binding{Keys: []string{"l"}, Does: "sound", More: "let the simulated heart, breath and gut be heard: off, the bell at each beat, played"}
}

// Rehearse opens the rehearsal of an exam.
func Rehearse() Binding {
	return Binding{Keys: []string{"r"}, Does: "rehearse", More: "rehearse an exam on a simulated horse; it is marked afterwards and never mixed with the record"}
}
