package rehearse

import "fmt"

// earnedNext speaks of answers that came sooner than the sense can give them.
func (m *marker) earnedNext() string {
	var names []string
	var first FindingMark
	for _, f := range m.out.Findings {
		if f.TooSoon == "" {
			continue
		}
		if len(names) == 0 {
			first = f
		}
		names = append(names, f.Name)
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Take enough time: %s. At %s you %s.", some(names), first.Name, first.TooSoon)
}

func (m *marker) missedNext() string {
	var names []string
	for _, p := range m.out.Missed {
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Skip no step: %s. A step that cannot be done needs a reason.", some(names))
}

func (m *marker) sidesNext() string {
	var names []string
	for _, s := range m.out.Sides {
		names = append(names, s.Name+" ("+list(s.Sites)+")")
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Go to every side: %s. One side says little without the other.", some(names))
}

func (m *marker) countNext() string {
	for _, c := range m.out.Counts {
		if c.Short != "" {
			return fmt.Sprintf("Count for long enough: %s, %s. %s", c.Name, c.Short, m.how(c.Step))
		}
		if !c.Right {
			return fmt.Sprintf("Count again until it holds: %s came out %s, with %s it was %s. %s",
				c.Name, perMin(c.PerMin), c.Basis, perMin(c.TruePerMin), m.how(c.Step))
		}
	}
	return ""
}

func (m *marker) passedNext() string {
	var names []string
	for _, p := range m.out.Passed {
		switch {
		case p.Excused:
		case p.Needed && len(names) == 0:
			return fmt.Sprintf("Come back to what was not done: %s got %q, and something was to be found there.", p.Name, p.Reason)
		default:
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Examine what can be examined: %s. No reason on this horse stood in the way.", some(names))
}

func (m *marker) contextNext() string {
	if m.out.Context.Right {
		return ""
	}
	return fmt.Sprintf("Ask about the last 30 minutes and record it: it was %s.", list(m.out.Context.Truth))
}

func (m *marker) orderNext() string {
	var names []string
	for _, p := range m.out.Order.OutOfOrder {
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Keep to one order, so that nothing is forgotten: %s came out of order.", some(names))
}
