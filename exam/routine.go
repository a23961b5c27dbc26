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

// Area is the run of asks around ask i that belong to one heading: the index of the first, and how many they are. An index
// outside the routine has none.
func (r Routine) Area(i int) (from, n int) {
	if i < 0 || i >= len(r.Asks) {
		return 0, 0
	}
	for from = i; from > 0 && r.Asks[from].Heading == ""; {
		from--
	}
	for n = 1; from+n < len(r.Asks) && r.Asks[from+n].Heading == ""; {
		n++
	}
	return from, n
}

// OneSite says that the area of ask i asks several steps at one and the same site, as at a leg; screens show such an area
// as a whole.
func (r Routine) OneSite(i int) bool {
	from, n := r.Area(i)
	for _, a := range r.Asks[from : from+n] {
		if len(a.Sites) != 1 || a.Sites[0] == NoSite || a.Sites[0] != r.Asks[from].Sites[0] {
			return false
		}
	}
	return n > 1
}

// Groups are the areas of the routine in their order, each with its heading on its first ask.
func (r Routine) Groups() [][]Ask {
	var out [][]Ask
	for i := 0; i < len(r.Asks); {
		_, n := r.Area(i)
		out = append(out, r.Asks[i:i+n:i+n])
		i += n
	}
	return out
}

// WithRoutine is the list with the routine in the place of the one of its name, or at its end; the list itself stays.
func WithRoutine(list []Routine, r Routine) []Routine {
	out := append([]Routine(nil), list...)
	for i := range out {
		if out[i].Name == r.Name {
			out[i] = r
			return out
		}
	}
	return append(out, r)
}
