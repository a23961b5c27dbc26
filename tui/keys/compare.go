package keys

// EveryRow shows the rows of a comparison that are the same as before.
func EveryRow() Binding {
	return Binding{Keys: []string{"a"}, Does: "show all", More: "show the findings that are the same as before too, or only what changed or is out of range"}
}

// Together draws several measures of a trend under one time axis.
func Together() Binding {
	return Binding{Keys: []string{"a"}, Does: "all measures", More: "draw temperature, heart and breathing above each other, or the one measure alone"}
}
