package progress

import (
	"cmp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
)

// Person is somebody with all their rehearsals, the newest first.
type Person struct {
	Name   string      `json:"name"`
	Points []Rehearsal `json:"rehearsals"`
}

// People sorts rehearsals by person, and people by name. Names that differ in capitals only are one person, called as in
// the newest rehearsal.
func People(points []Rehearsal) []Person {
	sorted := slices.Clone(points)
	slices.SortStableFunc(sorted, func(a, b Rehearsal) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Visit, a.Visit))
	})
	at := map[string]int{}
	var out []Person
	for _, p := range sorted {
		key := same(p.By)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, Person{Name: notation.CleanLine(p.By, 0)})
		}
		out[i].Points = append(out[i].Points, p)
	}
	slices.SortFunc(out, func(a, b Person) int {
		return cmp.Or(cmp.Compare(same(a.Name), same(b.Name)), cmp.Compare(a.Name, b.Name))
	})
	return out
}

func same(name string) string { return strings.ToLower(notation.CleanLine(name, 0)) }

// Is says whether the name is the person's.
func (p Person) Is(name string) bool { return same(p.Name) == same(name) }

// SamePerson says that two names are of one person: they differ in nothing but case and spaces.
func SamePerson(a, b string) bool { return same(a) == same(b) }

// With leaves only rehearsals of one routine; an empty name leaves all.
func (p Person) With(routine string) Person {
	if routine == "" {
		return p
	}
	out := Person{Name: p.Name}
	for _, point := range p.Points {
		if point.Routine == routine {
			out.Points = append(out.Points, point)
		}
	}
	return out
}

// Finished lists the rehearsals that were brought to an end, the newest first. The others are shown but not judged: what
// nobody came to is not missed.
func (p Person) Finished() []Rehearsal {
	var out []Rehearsal
	for _, point := range p.Points {
		if point.Finished {
			out = append(out, point)
		}
	}
	return out
}

// Trend is where a measure goes over the person's finished rehearsals.
func (p Person) Trend(m Measure) Trend { return TrendOf(p.values(m)) }

// values are the numbers of a measure, oldest first.
func (p Person) values(m Measure) []float64 {
	var out []float64
	for _, point := range slices.Backward(p.Finished()) {
		if v, ok := m.Of(point); ok {
			out = append(out, v)
		}
	}
	return out
}

// Usual is the median of a measure over the newest Lately finished rehearsals; false where none has it.
func (p Person) Usual(m Measure) (float64, bool) {
	values := p.values(m)
	if len(values) == 0 {
		return 0, false
	}
	return median(values[max(0, len(values)-Lately):]), true
}

// Weak is something that went wrong in more than one of the newest rehearsals.
type Weak struct {
	What  string `json:"what"`
	Times int    `json:"times"` // rehearsals in which it happened
	Of    int    `json:"of"`    // rehearsals looked at
}

// Weak lists what went wrong again, the most frequent first, at most so many. Two in the newest Lately are again.
func (p Person) Weak(most int) []Weak {
	points := p.Finished()
	points = points[:min(len(points), Lately)]
	times := map[string]int{}
	for _, point := range points {
		once := map[string]bool{}
		for _, f := range point.Faults {
			if what := faultWords(f); what != "" && !once[what] {
				once[what] = true
				times[what]++
			}
		}
	}
	out := []Weak{}
	for what, n := range times {
		if n > 1 {
			out = append(out, Weak{what, n, len(points)})
		}
	}
	slices.SortFunc(out, func(a, b Weak) int { return cmp.Or(b.Times-a.Times, cmp.Compare(a.What, b.What)) })
	return out[:min(len(out), max(most, 0))]
}

// faultWords names a fault without its side; empty for a remark, which follows from something else.
func faultWords(f rehearse.Fault) string {
	place := f.Name
	if f.Site != exam.NoSite {
		place = strings.TrimSuffix(place, ", "+f.Site.String())
	}
	switch f.Kind {
	case rehearse.FaultSafety:
		return "not safe at " + cmp.Or(place, "the injection")
	case rehearse.FaultFinding:
		return place + ": another answer was right"
	case rehearse.FaultCount:
		return place + ": the count was off"
	case rehearse.FaultMissed:
		return place + ": left out"
	case rehearse.FaultSide:
		return place + ": a side left out"
	case rehearse.FaultNotDone:
		return place + ": not done, but there was a finding"
	case rehearse.FaultOrder:
		return place + ": out of order"
	case rehearse.FaultContext:
		return "the last half hour: not as the groom said"
	case rehearse.FaultHandOff:
		return "the hand-off: not complete"
	case rehearse.FaultHurried:
		return place + ": answered too soon"
	case rehearse.FaultRemark:
	}
	return ""
}
