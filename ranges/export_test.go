package ranges

// ExplainIn is Explain in the unit asked for; empty if the row cannot be given in that unit.
func ExplainIn(r Row, u Unit) string {
	c, ok := r.in(u)
	if !ok {
		return ""
	}
	return c.Explain()
}
