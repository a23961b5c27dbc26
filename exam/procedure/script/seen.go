package script

import (
	"loosebox/exam"
	"loosebox/exam/procedure"
)

// NeedleSign is one answer to what is seen once the needle is in.
type NeedleSign struct {
	Key   string
	Press string // the letter that gives the answer at once
	Words string
	Phase exam.InjectionPhase
	Then  string // what follows, for a person
}

// Aspirated are the answers after the syringe was drawn back, where nothing is
// given into a vein.
func Aspirated() []NeedleSign {
	return []NeedleSign{
		{"clear", "c", "clear: no blood", exam.InjectionClear, "It may be given."},
		{"blood", "b", "blood", exam.InjectionBlood, "Needle out. A new needle, and another site."},
		{"out", "m", "the needle came out, or it moved", exam.InjectionNotFound, "A new needle, and begin again."},
	}
}

// InVein are the answers to a question before a product goes into a vein, by its
// place in procedure.VeinQuestions; the phase is empty where the next is asked. No
// letter of a question means anything on the question after it, so that a key
// pressed twice answers once.
func InVein(n int) []NeedleSign {
	q := procedure.VeinQuestions()[n]
	switch n {
	case 0:
		return []NeedleSign{{"yes", "u", q.Good + ", upper third", "", ""}, {"no", "l", "no, lower", exam.InjectionNotFound, q.Otherwise}}
	case 1:
		return []NeedleSign{{"yes", "i", q.Good + ", in line and to the hub", "", ""}, {"no", "k", "no", exam.InjectionNotFound, q.Otherwise}}
	case 2:
		return []NeedleSign{
			{"drips", "d", q.Good, exam.InjectionInVein, ""},
			{"pulses", "p", "pulses, or is bright", exam.InjectionPulsing, q.Otherwise},
			{"none", "n", "none comes", exam.InjectionNotFound, "Needle out; begin again."},
		}
	}
	return []NeedleSign{{"yes", "b", q.Good + ", blood comes back", "", ""}, {"no", "e", "no blood", exam.InjectionStopped, q.Otherwise}}
}

// AfterDrip is how many of procedure.VeinQuestions are asked before the line
// "blood drips, no pulse" is written; the last one is asked after it.
const AfterDrip = 3
