package keys

// The bindings of a day's round.

// Round opens today's round.
func Round() Binding {
	return Binding{Keys: []string{"o"}, Does: "round", More: "today's horses, in the order to see them"}
}

// PickHorse puts a horse on the round.
func PickHorse() Binding {
	return Binding{Keys: []string{"/"}, Does: "pick", More: "add a horse to the round of this day"}
}

// LeaveOut takes a horse off the round of a day.
func LeaveOut() Binding {
	return Binding{Keys: []string{"x"}, Does: "skip", More: "skip this horse today; what is due stays due"}
}

// Seen says that a horse was seen without an exam.
func Seen() Binding {
	return Binding{Keys: []string{"f"}, Does: "seen", More: "this horse was seen without an exam"}
}

// HandOver gives a horse to another day or person.
func HandOver() Binding {
	return Binding{Keys: []string{"m"}, Does: "reassign", More: "move this horse to another day or another person"}
}

// HandAll gives every horse that is left to another day or person.
func HandAll() Binding {
	return Binding{Keys: []string{"a"}, Does: "reassign all", More: "move all horses to do to another day or person"}
}

// InTurn decides when a horse comes.
func InTurn() Binding {
	return Binding{Keys: []string{"o"}, Does: "order", More: "put this horse last, or back in order, with the reason"}
}
