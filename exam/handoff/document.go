package handoff

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
)

// Schema names the form of a Document.
const Schema = "loosebox/handoff/1"

// Document is the JSON of a page.
type Document struct {
	Schema string       `json:"schema"`
	Visit  exam.VisitID `json:"visit"`
	Horse  HorseLine    `json:"horse"`
	At     time.Time    `json:"at"`
	By     string       `json:"by"`
	Level  *exam.Level  `json:"level"` // null where nothing was answered
	// Answered of Steps is how much of the routine is answered; Steps is 0 where the
	// routine is not known.
	Answered int            `json:"steps_answered"`
	Steps    int            `json:"steps"`
	Vitals   []VitalLine    `json:"vitals"` // every one, taken or not
	Read     []SectionLine  `json:"read"`
	Words    int            `json:"words"`
	Seconds  float64        `json:"seconds"`
	Findings []FindingLine  `json:"findings"`
	NotRead  int            `json:"findings_not_read"`
	NotDone  []NotDoneLine  `json:"not_done"`
	Left     []PlaceLine    `json:"left"`
	Soap     SoapLine       `json:"soap"`
	HandOffs []exam.HandOff `json:"hand_offs"`
}

// HorseLine says which horse it is.
type HorseLine struct {
	ID   exam.HorseID `json:"id"`
	Name string       `json:"name"`
}

// VitalLine is one vital sign: what was found, as it is read, with its number where
// it is one; not_taken names of it what was not looked at.
type VitalLine struct {
	Name     string             `json:"name"`
	Steps    []exam.StepID      `json:"steps"`
	Said     string             `json:"said"`
	Number   *notation.Quantity `json:"number"`
	NotTaken []NotTakenLine     `json:"not_taken"`
}

// NotTakenLine is what was not taken, with the reason where one was given.
type NotTakenLine struct {
	Name   string `json:"name"`
	Reason string `json:"reason,omitempty"`
}

// SectionLine is one part of what is read.
type SectionLine struct {
	Name  string   `json:"name"`
	Lines []string `json:"lines"`
}

// FindingLine is one finding out of range; low and high are the ends of what is
// usual, change the number since the visit before, both in unit.
type FindingLine struct {
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
	Changed compare.Verdict `json:"changed,omitempty"`
	Why     string          `json:"why"`
	Read    bool            `json:"read"`
}

// NotDoneLine is a step passed over with its reason.
type NotDoneLine struct {
	PlaceLine
	Reason string `json:"reason"`
	Note   string `json:"note,omitempty"`
}

// PlaceLine is a step and site.
type PlaceLine struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site"`
}

// SoapLine is the note: a and p are always empty, for the veterinarian.
type SoapLine struct {
	S          []string `json:"s"`
	O          []string `json:"o"`
	Assessment string   `json:"a"`
	Plan       string   `json:"p"`
	LeftFor    string   `json:"a_and_p"`
}

// Document makes the JSON of the page.
func (p Page) Document() Document {
	d := Document{
		Schema: Schema, Visit: p.Visit.ID, Horse: HorseLine{p.Visit.Horse.ID, p.Visit.Horse.Name}, At: p.At, By: p.By, Level: p.Coverage.Rated(p.Level),
		Answered: p.Coverage.Answered, Steps: p.Coverage.Of, Vitals: vitalDocument(p.Vitals),
		Words: p.Words, Seconds: p.Seconds(), NotRead: p.More, Findings: []FindingLine{}, NotDone: []NotDoneLine{}, Left: []PlaceLine{},
		Soap: SoapLine{S: p.Subject, O: p.Object, LeftFor: ForTheVet}, HandOffs: append([]exam.HandOff{}, p.HandOffs...),
	}
	for _, s := range p.Sections {
		d.Read = append(d.Read, SectionLine{s.Name, append([]string{}, s.Lines...)})
	}
	for _, w := range p.Worries {
		r := w.Remark
		d.Findings = append(d.Findings, FindingLine{
			Step: r.Step, Site: r.Site, Injection: r.Injection, Value: r.Value, Unit: r.Unit, Level: r.Level, Low: r.Low, High: r.High,
			Change: w.Change.By, ChangeMeans: w.Change.Means, Changed: w.Change.Verdict, Why: r.Why, Read: w.Read,
		})
	}
	for _, f := range p.NotDone {
		d.NotDone = append(d.NotDone, NotDoneLine{PlaceLine{f.Step, f.Site}, string(f.NotDone), f.Note})
	}
	for _, k := range p.Left {
		d.Left = append(d.Left, PlaceLine(k))
	}
	return d
}

func vitalDocument(vitals []Vital) []VitalLine {
	out := make([]VitalLine, len(vitals))
	for i, v := range vitals {
		out[i] = VitalLine{Name: v.Name, Steps: v.Steps, Said: v.Said, Number: v.Number, NotTaken: make([]NotTakenLine, len(v.Open))}
		for k, name := range v.Open {
			out[i].NotTaken[k] = NotTakenLine{name, notation.CleanLine(v.Why[k], 0)}
		}
	}
	return out
}
