package exam

// OpenInjections lists the injections whose needle went in and of which nothing
// says that it came out: what happened is asked, and answered by a person.
func (v Visit) OpenInjections() []Injection {
	var out []Injection
	for _, i := range v.Injections {
		if _, open := i.NeedleIn(); open {
			out = append(out, i)
		}
	}
	return out
}

// OpenDraws is OpenInjections for blood draws.
func (v Visit) OpenDraws() []Draw {
	var out []Draw
	for _, d := range v.Draws {
		if _, open := d.NeedleIn(); open {
			out = append(out, d)
		}
	}
	return out
}

// Watching lists the watches that run.
func (v Visit) Watching() []Watch {
	var out []Watch
	for _, w := range v.Watches {
		if w.Running() {
			out = append(out, w)
		}
	}
	return out
}

// Injection returns an injection of the visit by its number.
func (v Visit) Injection(number int) (Injection, bool) {
	for _, i := range v.Injections {
		if i.Number == number {
			return i, true
		}
	}
	return Injection{}, false
}

// Draw returns a blood draw of the visit by its number.
func (v Visit) Draw(number int) (Draw, bool) {
	for _, d := range v.Draws {
		if d.Number == number {
			return d, true
		}
	}
	return Draw{}, false
}
