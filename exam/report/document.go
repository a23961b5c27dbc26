package report

import (
	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/score"
	"loosebox/exam/settle"
)

// Document is the JSON of the show command. Numbers carry their
// unit beside them; times are RFC 3339 with offset.
type Document struct {
	Schema string     `json:"schema"`
	Visit  exam.Visit `json:"visit"`
	Class  string     `json:"class"`
	// Level is null where nothing was answered.
	Level *exam.Level `json:"level"`
	// Answered of Steps of the routine are answered; Steps is 0 where it is not known.
	Answered int           `json:"steps_answered"`
	Steps    int           `json:"steps"`
	Remarks  []exam.Remark `json:"remarks"`
	// Danger are the danger signs from published studies, of an animal that is told, where a count applies.
	Danger    *judge.DangerCount `json:"danger_signs,omitempty"`
	NotJudged []judge.NotJudged  `json:"not_judged"`
	Left      []PlaceJSON        `json:"left"`
	Corrected []CorrectedFinding `json:"corrected"`
	Scores    []score.Encoded    `json:"scores"` // every score that the findings allow
	// Certificates hold what a rabies certificate asks, for each such dose.
	Certificates []Certificate `json:"certificates,omitempty"`
	// Unsettled is what two laptops wrote without knowing of each other, until it is settled.
	Unsettled []settle.Matter `json:"unsettled,omitempty"`
}

// PlaceJSON is a step and site of a Document.
type PlaceJSON struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site,omitempty"`
}

// JSON makes the document.
func JSON(p Page) Document {
	d := Document{
		Schema: "loosebox/show/1", Visit: p.Visit, Class: string(p.Visit.Class().Name), Level: p.covered().Rated(p.Verdict.Level),
		Answered: p.covered().Answered, Steps: p.covered().Of,
		Remarks: append([]exam.Remark{}, p.Verdict.Remarks...), NotJudged: append([]judge.NotJudged{}, p.Verdict.NotJudged...),
		Danger: p.Verdict.Danger,
		Left:   []PlaceJSON{}, Corrected: []CorrectedFinding{}, Certificates: Certificates(p.Visit),
		Unsettled: settle.OfVisit(p.Visit, p.Steps, p.Visit.OpenedAt),
		Scores:    score.Lines(score.Summary(p.Visit, p.Earlier)),
	}
	for _, k := range p.Left {
		d.Left = append(d.Left, PlaceJSON{k.Step, k.Site})
	}
	for _, f := range p.Visit.Findings {
		d.Corrected = append(d.Corrected, replaced(f)...)
	}
	return d
}
