package handoff

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
)

// Schema names the form of a Document.
const Schema = "loosebox/handoff/1"

// Document is the JSON of the handoff command.
type Document struct {
	Schema string       `json:"schema"`
	Visit  exam.VisitID `json:"visit"`
	Horse  HorseJSON    `json:"horse"`
	At     time.Time    `json:"at"`
	By     string       `json:"by"`
	Level  *exam.Level  `json:"level"` // null where nothing was answered
	// Answered of Steps is how much of the routine is answered; Steps is 0 where the
	// routine is not known.
	Answered int            `json:"steps_answered"`
	Steps    int            `json:"steps"`
	Vitals   []VitalJSON    `json:"vitals"` // every one, taken or not
	Read     []SectionJSON  `json:"read"`
	Words    int            `json:"words"`
	Seconds  float64        `json:"seconds"`
	Findings []FindingJSON  `json:"findings"`
	NotRead  int            `json:"findings_not_read"`
	NotDone  []NotDoneJSON  `json:"not_done"`
	Left     []PlaceJSON    `json:"left"`
	Soap     SoapJSON       `json:"soap"`
	HandOffs []exam.HandOff `json:"hand_offs"`
}

// HorseJSON is the horse of a Document.
type HorseJSON struct {
	ID   exam.HorseID `json:"id"`
	Name string       `json:"name"`
}

// VitalJSON is one vital sign: what was found, as it is read, with its number where
// it is one; not_taken names of it what was not looked at.
type VitalJSON struct {
	Name     string             `json:"name"`
	Steps    []exam.StepID      `json:"steps"`
	Said     string             `json:"said"`
	Number   *notation.Quantity `json:"number"`
	NotTaken []NotTakenJSON     `json:"not_taken"`
}

// NotTakenJSON is what was not taken, with the reason where one was given.
type NotTakenJSON struct {
	Name   string `json:"name"`
	Reason string `json:"reason,omitempty"`
}

// SectionJSON is one part of what is read.
type SectionJSON struct {
	Name  string   `json:"name"`
	Lines []string `json:"lines"`
}

// FindingJSON is one finding out of range; low and high are the ends of what is
// usual, change the number since the visit before, both in unit.
type FindingJSON struct {
	Step        exam.StepID   `json:"step"`
	Site        exam.Site     `json:"site"`
	Injection   int           `json:"injection,omitempty"` // number of the injection it is about, in place of a step
	Value       string        `json:"value"`
	Unit        notation.Unit `json:"unit"`
	Level       exam.Level    `json:"level"`
	Low         *float64      `json:"low"`
	High        *float64      `json:"high"`
	Change      *float64      `json:"change"`
	ChangeMeans string        `json:"change_means"`
	// Changed says what the change is worth: "changed", "within noise", "not known".
	Changed compare.Worth `json:"changed,omitempty"`
	Why     string        `json:"why"`
	Read    bool          `json:"read"`
}

// NotDoneJSON is a step passed over with its reason.
type NotDoneJSON struct {
	PlaceJSON
	Reason string `json:"reason"`
	Note   string `json:"note,omitempty"`
}

// PlaceJSON is a step and site.
type PlaceJSON struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site"`
}

// SoapJSON is the note: a and p are always empty, for the veterinarian.
type SoapJSON struct {
	S          []string `json:"s"`
	O          []string `json:"o"`
	Assessment string   `json:"a"`
	Plan       string   `json:"p"`
	LeftFor    string   `json:"a_and_p"`
}

// Document makes the JSON of the page.
func (p Page) Document() Document {
	d := Document{
		Schema: Schema, Visit: p.Visit.ID, Horse: HorseJSON{p.Visit.Horse.ID, p.Visit.Horse.Name}, At: p.At, By: p.By, Level: p.Coverage.Rated(p.Level),
		Answered: p.Coverage.Answered, Steps: p.Coverage.Of, Vitals: vitalDocument(p.Vitals),
		Words: p.Words, Seconds: p.Seconds(), NotRead: p.More, Findings: []FindingJSON{}, NotDone: []NotDoneJSON{}, Left: []PlaceJSON{},
		Soap: SoapJSON{S: p.Subject, O: p.Object, LeftFor: ForTheVet}, HandOffs: append([]exam.HandOff{}, p.HandOffs...),
	}
	for _, s := range p.Sections {
		d.Read = append(d.Read, SectionJSON{s.Name, append([]string{}, s.Lines...)})
	}
	for _, w := range p.Worries {
		r := w.Remark
		d.Findings = append(d.Findings, FindingJSON{
			Step: r.Step, Site: r.Site, Injection: r.Injection, Value: r.Value, Unit: r.Unit, Level: r.Level, Low: r.Low, High: r.High,
			Change: w.Change.By, ChangeMeans: w.Change.Means, Changed: w.Change.Verdict, Why: r.Why, Read: w.Read,
		})
	}
	for _, f := range p.NotDone {
		d.NotDone = append(d.NotDone, NotDoneJSON{PlaceJSON{f.Step, f.Site}, string(f.NotDone), f.Note})
	}
	for _, k := range p.Left {
		d.Left = append(d.Left, PlaceJSON(k))
	}
	return d
}

func vitalDocument(vitals []Vital) []VitalJSON {
	out := make([]VitalJSON, len(vitals))
	for i, v := range vitals {
		out[i] = VitalJSON{Name: v.Name, Steps: v.Steps, Said: v.Said, Number: v.Number, NotTaken: make([]NotTakenJSON, len(v.Open))}
		for k, name := range v.Open {
			out[i].NotTaken[k] = NotTakenJSON{name, notation.CleanLine(v.Why[k], 0)}
		}
	}
	return out
}
