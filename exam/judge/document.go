package judge

import "loosebox/exam"

// Schema names the form of a Document.
const Schema = "loosebox/judge/1"

// Document is the JSON of many judged visits.
type Document struct {
	Schema string   `json:"schema"`
	Visits []Judged `json:"visits"`
}

// Judged is one visit of a Document.
type Judged struct {
	ID        exam.VisitID `json:"id"`
	Class     string       `json:"class"`
	Level     exam.Level   `json:"level"`
	Remarks   []Line       `json:"remarks"`
	NotJudged []NotJudged  `json:"not_judged"`
	Danger    *Danger      `json:"danger_signs,omitempty"`
}

// Line is one remark of a Document. Value is a number where the finding is one, in Unit, the unit in which it was
// judged; words otherwise. Low and High are the ends of what is usual, null where there are none.
type Line struct {
	Step        exam.StepID    `json:"step"`
	Site        exam.Site      `json:"site"`
	Injection   int            `json:"injection,omitempty"` // number of the injection it is about, in place of a step
	Value       any            `json:"value"`
	Unit        exam.Unit      `json:"unit"`
	Level       exam.Level     `json:"level"`
	Low         *float64       `json:"low"`
	High        *float64       `json:"high"`
	Crossed     string         `json:"crossed,omitempty"`
	Evidence    exam.Evidence  `json:"evidence"`
	Source      string         `json:"source"`
	Practice    bool           `json:"practice,omitempty"`
	Why         string         `json:"why"`
	Medicine    string         `json:"medicine,omitempty"`
	Borderline  bool           `json:"borderline,omitempty"`
	Combination bool           `json:"combination,omitempty"`
	Own         *exam.OwnRange `json:"own,omitempty"`
}

// NewDocument puts visits and their verdicts, one for each visit, into the form of the judge command.
func NewDocument(visits []exam.Visit, verdicts []Verdict) Document {
	d := Document{Schema: Schema, Visits: make([]Judged, 0, len(visits))}
	for i := range verdicts {
		d.Visits = append(d.Visits, judged(&visits[i], &verdicts[i]))
	}
	return d
}

func judged(v *exam.Visit, verdict *Verdict) Judged {
	out := Judged{
		ID: v.ID, Class: string(v.Class().Name), Level: verdict.Level,
		Remarks: make([]Line, 0, len(verdict.Remarks)), NotJudged: verdict.NotJudged, Danger: verdict.Danger,
	}
	if out.NotJudged == nil {
		out.NotJudged = []NotJudged{}
	}
	for _, r := range verdict.Remarks {
		out.Remarks = append(out.Remarks, Line{
			Step: r.Step, Site: r.Site, Injection: r.Injection, Value: valueOf(v, &r), Unit: r.Unit, Level: r.Level, Low: r.Low, High: r.High,
			Crossed: r.Crossed, Evidence: r.Evidence, Source: r.Source, Practice: r.Practice, Why: r.Why, Medicine: r.Medicine,
			Borderline: r.Borderline, Combination: r.Combination, Own: r.Own,
		})
	}
	return out
}

// valueOf is the number of a remark in the unit it was judged in, or its words.
func valueOf(v *exam.Visit, r *exam.Remark) any {
	if r.Combination || r.Unit == exam.NoUnit {
		return r.Value
	}
	if f, ok := find(v, exam.Key{Step: r.Step, Site: r.Site}); ok {
		if x, ok := f.Value.In(r.Unit); ok {
			return x
		}
	}
	return r.Value
}
