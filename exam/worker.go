package exam

// Worker is who wrote last about the horse itself: the newest finding or note, or else who began the visit. Whoever
// goes on under another name is asked who is working now.
func (v Visit) Worker() string {
	by, at := v.By, 0
	for _, f := range v.Findings {
		if f.Seq > at {
			by, at = f.By, f.Seq
		}
	}
	for _, n := range v.Notes {
		if n.Seq > at {
			by, at = n.By, n.Seq
		}
	}
	return by
}
