package needle

import (
	"cmp"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Stage is what comes next in a procedure.
type Stage int

// The stages.
const (
	Ordering Stage = iota // nothing is written down yet
	Placing               // where the needle goes in
	Seeing                // the needle is in: what is seen
	Giving                // the product may go in, or the tubes are filled
	Ended
)

// StageOf is what comes next in an injection.
func StageOf(i exam.Injection) Stage {
	attempt, in := i.NeedleIn()
	switch {
	case i.Number == 0:
		return Ordering
	case i.Finished():
		return Ended
	case !i.Order.Route.Needled():
		return Giving
	case !in:
		return Placing
	case attempt.Seen == "":
		return Seeing
	}
	return Giving
}

// StageOfDraw is what comes next in a blood draw.
func StageOfDraw(d exam.Draw) Stage {
	_, in := d.NeedleIn()
	switch {
	case d.Number == 0:
		return Ordering
	case d.Finished():
		return Ended
	case in:
		return Giving
	}
	return Placing
}

// Seen is one answer to what is seen once the needle is in.
type Seen struct {
	Key   string
	Press string // the letter that gives the answer at once
	Words string
	Phase exam.InjectionPhase
	Then  string // what follows, for a person
}

// Aspirated are the answers after the syringe was drawn back, where nothing is
// given into a vein.
func Aspirated() []Seen {
	return []Seen{
		{"clear", "c", "clear: no blood", exam.InjectionClear, "It may be given."},
		{"blood", "b", "blood", exam.InjectionBlood, "Needle out. A new needle, and another site."},
		{"out", "m", "the needle came out, or it moved", exam.InjectionNotFound, "A new needle, and begin again."},
	}
}

// InVein are the answers to a question before a product goes into a vein, by its
// place in procedure.VeinQuestions; the phase is empty where the next is asked. No
// letter of a question means anything on the question after it, so that a key
// pressed twice answers once.
func InVein(n int) []Seen {
	q := procedure.VeinQuestions()[n]
	switch n {
	case 0:
		return []Seen{{"yes", "u", q.Good + ", upper third", "", ""}, {"no", "l", "no, lower", exam.InjectionNotFound, q.Otherwise}}
	case 1:
		return []Seen{{"yes", "i", q.Good + ", in line and to the hub", "", ""}, {"no", "k", "no", exam.InjectionNotFound, q.Otherwise}}
	case 2:
		return []Seen{
			{"drips", "d", q.Good, exam.InjectionInVein, ""},
			{"pulses", "p", "pulses, or is bright", exam.InjectionPulsing, q.Otherwise},
			{"none", "n", "none comes", exam.InjectionNotFound, "Needle out; begin again."},
		}
	}
	return []Seen{{"yes", "b", q.Good + ", blood comes back", "", ""}, {"no", "n", "no blood", exam.InjectionStopped, q.Otherwise}}
}

// AfterDrip is how many of procedure.VeinQuestions are asked before the line
// "blood drips, no pulse" is written; the last one is asked after it.
const AfterDrip = 3

// TubesLeft are the ordered tubes of a draw that are not filled yet, in the order
// of draw.
func TubesLeft(d exam.Draw) []exam.Tube {
	filled := map[string]int{}
	for _, f := range d.Filled {
		filled[f.Kind]++
	}
	var out []exam.Tube
	for _, t := range d.Order.Tubes {
		if filled[t.Kind] > 0 {
			filled[t.Kind]--
			continue
		}
		out = append(out, t)
	}
	return out
}

// TubeOf is how a kind of tube is filled and mixed.
func TubeOf(kind string) volume.BloodTube {
	for _, t := range volume.BloodTubes() {
		if string(t.Kind) == kind {
			return t
		}
	}
	return volume.BloodTube{Kind: volume.TubeKind(kind)}
}

// LabelOf is what stands on a tube of a draw, with the time of its needle.
func LabelOf(h exam.Horse, d exam.Draw, kind string) []string {
	stick, _ := d.NeedleIn()
	return volume.Label(h, volume.TubeKind(kind), stick.At, cmp.Or(d.Order.VetDraws, d.By))
}
