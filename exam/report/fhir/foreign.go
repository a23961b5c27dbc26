package fhir

import (
	"bytes"
	"encoding/json"
	"slices"
	"time"

	"loosebox/exam"
)

// Foreign is what was understood of a FHIR document, by animal, and what was not, each with its reason.
type Foreign struct {
	Animals []ForeignAnimal
	Left    []string
	// Rest is a Bundle of what was not taken, with every Patient, to be corrected and read again; nil where all was.
	Rest []byte
}

// ForeignAnimal is an animal with its visits, oldest first, and its vaccinations as past doses.
type ForeignAnimal struct {
	Horse  exam.Horse
	Visits []ForeignVisit
	Doses  []exam.InjectionLine
}

// ForeignVisit is what was found in one encounter, or on one day where resources name none.
type ForeignVisit struct {
	ID      exam.VisitID // of the document that it stands in; empty where that has none
	Horse   exam.Horse   // as the document has it
	Routine string       // its key; empty where the document has none
	At      time.Time
	Reason  string // why the animal was seen
	By      string
	// Lines are those of the visit behind its first: answers, notes and doses, the closing, and what was written after it.
	// They are numbered from 2 where they name each other.
	Lines []exam.Entry
	From  *exam.CameFrom // of a document of this program
}

func (r *reader) foreign(document []byte) Foreign {
	f := Foreign{Left: r.left}
	var whole bytes.Buffer
	_ = json.Compact(&whole, document) // it was read already
	for _, key := range r.keys {
		v := r.visits[key]
		if len(v.told) == 0 && v.Routine == "" {
			continue
		}
		a := r.animals[v.animal]
		a.Visits = append(a.Visits, v.lines(digestOf(whole.Bytes())))
	}
	for _, url := range r.order {
		a := r.animals[url]
		slices.SortStableFunc(a.Visits, func(x, y ForeignVisit) int { return x.At.Compare(y.At) })
		f.Animals = append(f.Animals, *a)
	}
	return f
}

// calledBy is how a resource is called in the list of what was left.
func calledBy(res *resource) string {
	var called struct {
		Code, VaccineCode concept
		Title             string
	}
	_ = json.Unmarshal(res.raw, &called) // one that cannot be read is called by its identity
	if called.Title != "" {
		return called.Title
	}
	for _, c := range []concept{called.Code, called.VaccineCode} {
		if words := c.words(); words != "" {
			return words
		}
	}
	return res.id
}
