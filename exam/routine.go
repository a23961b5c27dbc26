package exam

// Ask is one place in a routine: a step and those of its sites that are
// examined there. The left half of the lungs and the right half are two asks
// of one step, because the examiner walks round the horse between them.
type Ask struct {
	Step  StepID
	Sites []Site // one NoSite for a step without sides
	// Heading says where the examiner now stands, on the first ask there; it is
	// shown above the step in the order at the left.
	Heading string
}

// Key is the place of a finding: a step at a site.
type Key struct {
	Step StepID
	Site Site
}

// Keys lists the places that the ask covers.
func (a Ask) Keys() []Key {
	keys := make([]Key, len(a.Sites))
	for i, site := range a.Sites {
		keys[i] = Key{a.Step, site}
	}
	return keys
}

// Routine is an ordered list of steps that a person picks and keeps to.
type Routine struct {
	Name  string // in commands: lower case, words joined by a hyphen
	Title string // on screens
	About string // one line: when to use it
	Asks  []Ask
	Own   bool // read from a person's own file
}

// For leaves out what is not asked of a horse of this class.
func (r Routine) For(c Class, steps *Steps) Routine {
	kept := make([]Ask, 0, len(r.Asks))
	heading := ""
	for _, ask := range r.Asks {
		if ask.Heading != "" {
			heading = ask.Heading
		}
		step, ok := steps.ByID(ask.Step)
		if !ok || !step.AskedOf(c) {
			continue
		}
		ask.Heading, heading = heading, ""
		kept = append(kept, ask)
	}
	r.Asks = kept
	return r
}
