package keys

// The bindings that open another screen, or begin something on one.

// MoveGroups opens the order of a routine, to move its groups.
func MoveGroups() Binding {
	return Binding{Keys: []string{"m"}, Does: "move groups", More: "move the groups of this routine into your own order"}
}

// Review opens the review of the visit.
func Review() Binding {
	return Binding{Keys: []string{"r"}, Does: "review", More: "see what is out of range and what is not done"}
}

// After opens what follows the exam.
func After() Binding {
	return Binding{Keys: []string{"p"}, Does: "after exam", More: "hand-off, decision, injections, blood draws, observation and follow-ups"}
}

// Record opens what rules about records require beside the exam; only the help shows it.
func Record() Binding {
	return Binding{Keys: []string{"n"}, More: "new: consent, people present and controlled products; all optional"}
}

// Dose enters an earlier dose.
func Dose() Binding {
	return Binding{Keys: []string{"n"}, Does: "new past dose", More: "record a dose given before, from a passport or vaccination record"}
}

// Compare opens the comparison of a horse's visits.
func Compare() Binding {
	return Binding{Keys: []string{"c"}, Does: "compare", More: "compare the visits of this horse side by side"}
}

// New makes a new horse.
func New() Binding {
	return Binding{Keys: []string{"n"}, Does: "new horse", More: "add a new horse"}
}

// Arrived lists what came in from other laptops.
func Arrived() Binding {
	return Binding{Keys: []string{"ctrl+a"}, Does: "arrived", More: "see the visits that came in from other laptops since yesterday"}
}

// Settle lists what two laptops wrote in two ways.
func Settle() Binding {
	return Binding{Keys: []string{"ctrl+t"}, Does: "settle", More: "settle what two laptops saved in two ways, and horses entered twice"}
}

// Joined looks at two records of one horse side by side.
func Joined() Binding {
	return Binding{Keys: []string{"ctrl+o"}, More: "entered twice: look at both records and join them, or part them"}
}

// Due opens what is due.
func Due() Binding {
	return Binding{Keys: []string{"d"}, Does: "due", More: "see which vaccinations and follow-ups are due, and why"}
}

// Settings opens the settings.
func Settings() Binding {
	return Binding{Keys: []string{"g"}, Does: "settings", More: "your name, units, routine, theme, bell and tap practice"}
}

// FindHorse searches horses.
func FindHorse() Binding {
	return Binding{Keys: []string{"/"}, Does: "find", More: "find a horse by name, owner, location or chip"}
}

// Begin starts an exam of the horse.
func Begin() Binding {
	return Binding{Keys: []string{"b"}, Does: "begin exam", More: "begin an exam of this horse, or continue the unfinished one"}
}

// Edit changes what is known of the horse.
func Edit() Binding {
	return Binding{Keys: []string{"e"}, Does: "change", More: "change this horse's details; earlier versions are kept"}
}

// Finish closes the visit.
func Finish() Binding {
	return Binding{Keys: []string{"f"}, Does: "finish", More: "close the visit; later changes are kept as corrections"}
}

// Strike voids a whole visit.
func Strike() Binding {
	return Binding{Keys: []string{"k"}, Does: "void visit", More: "void this visit (wrong horse) and enter it for the right one"}
}

// EnterAgain enters a voided visit for the right horse.
func EnterAgain() Binding {
	return Binding{Keys: []string{"n"}, Does: "enter again", More: "enter this voided visit again, for the right horse"}
}

// SignOff saves that the veterinarian read the visit.
func SignOff() Binding {
	return Binding{Keys: []string{"v"}, Does: "sign off", More: "save that a veterinarian or colleague has read this visit"}
}

// AddLater writes a late entry to a closed visit.
func AddLater() Binding {
	return Binding{Keys: []string{"n"}, Does: "new late entry", More: "add what was forgotten to this closed visit, with time and reason"}
}

// CheckAgain begins the next check of an episode.
func CheckAgain() Binding {
	return Binding{Keys: []string{"l"}, Does: "check again", More: "begin a five-minute check now and set the next one"}
}

// Episode shows the checks of an episode side by side.
func Episode() Binding {
	return Binding{Keys: []string{"ctrl+e"}, Does: "episode", More: "compare these checks: changes, doses, and when the next is due"}
}

// QuickCount counts a heart or a breath without saving it.
func QuickCount() Binding {
	return Binding{Keys: []string{"q"}, Does: "count", More: "count a heart or breathing rate; nothing is saved"}
}

// Sums opens the calculators. The key is no letter, so that it is the same on every screen.
func Sums() Binding {
	return Binding{Keys: []string{"="}, Does: "calculators", More: "calculators: weight, dose volume, paste, drip, fluid deficit, blood"}
}
