package ranges

import "fmt"

// order checks tell.low <= recheck.low <= usual.low <= usual.high < recheck.high <= tell.high; absent edges are skipped.
func (r *Row) order() error {
	type mark struct {
		name   string
		value  *float64
		strict bool // must lie above the mark before it, not on it
	}
	marks := []mark{
		{"tell_low", r.Tell.Low, false},
		{"recheck_low", r.Recheck.Low, false},
		{"usual_low", r.Usual.Low, false},
		{"usual_high", r.Usual.High, false},
		{"recheck_high", r.Recheck.High, true},
		{"tell_high", r.Tell.High, r.Recheck.High == nil},
	}
	var before mark
	for _, m := range marks {
		if m.value == nil {
			continue
		}
		if b := before.value; b != nil {
			if *m.value < *b || m.strict && *m.value == *b {
				return fmt.Errorf("%s %s and %s %s are crossed",
					before.name, number(*b, r.Unit), m.name, number(*m.value, r.Unit))
			}
		}
		before = m
	}
	return nil
}

// once returns an error for a second row for the same measure, class and unit.
func (p *parser) once(r Row) error {
	k := r.key()
	if line, ok := p.seen[k]; ok {
		return fmt.Errorf("%s of %q in %s is already on line %d", r.Measure, r.Class, r.Unit, line)
	}
	p.seen[k] = r.Line
	return nil
}

// pairs adds a problem where a class has a row in C and one in F whose limits are not the same temperature.
func (p *parser) pairs(rows []Row) {
	fahrenheit := make(map[Class]*Row)
	for i := range rows {
		if rows[i].Unit == Fahrenheit {
			fahrenheit[rows[i].Class] = &rows[i]
		}
	}
	for i := range rows {
		f, ok := fahrenheit[rows[i].Class]
		if !ok || rows[i].Unit != Celsius {
			continue
		}
		if !samePair(&rows[i], f) {
			p.bad.Add(max(rows[i].Line, f.Line), "the limits in C and in F (lines %d and %d) do not agree by F = 1.8 C + 32",
				rows[i].Line, f.Line)
		}
	}
}

func samePair(c, f *Row) bool {
	cl, fl := c.limits(), f.limits()
	for i := range cl {
		for _, side := range []string{SideLow, SideHigh} {
			cv, cok := cl[i].Edge(side)
			fv, fok := fl[i].Edge(side)
			from := i > 0 && side == SideHigh
			if cok != fok || cok && !pairAgrees(cv, fv, from) {
				return false
			}
		}
	}
	return true
}
