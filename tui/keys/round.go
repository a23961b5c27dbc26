package keys

// The bindings of a day's round.

// Round opens today's round.
func Round() Binding {
	return Binding{Keys: []string{"t"}, Does: "round", More: "today's horses in the order to see them, and why"}
}

// PickHorse puts a horse on the round.
func PickHorse() Binding {
	return Binding{Keys: []string{"/"}, Does: "pick", More: "find a horse and put it on the round of this day"}
}

// LeaveOut takes a horse off the round of a day.
func LeaveOut() Binding {
	return Binding{Keys: []string{"x"}, Does: "leave out", More: "leave this horse out of this day's round; what is due stays due"}
}

// Seen says that a horse was seen without an exam.
func Seen() Binding {
	return Binding{Keys: []string{"f"}, Does: "seen", More: "this horse was seen without an exam of its own"}
}

// HandOver gives a horse to another day or person.
func HandOver() Binding {
	return Binding{Keys: []string{"h"}, Does: "hand over", More: "carry this horse over to another day, or hand it to another person with words"}
}

// HandAll gives every horse that is left to another day or person.
func HandAll() Binding {
	return Binding{Keys: []string{"a"}, Does: "hand over all", More: "carry every horse that is left over to another day, or hand them to another person"}
}

// InTurn decides when a horse comes.
func InTurn() Binding {
	return Binding{Keys: []string{"l"}, Does: "turn", More: "put this horse last, or back in its place, and say why"}
}
