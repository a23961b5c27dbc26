package compare

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Schema names the form of a Document.
const Schema = "loosebox/compare/1"

// Document is the JSON of the compare command.
type Document struct {
	Schema string       `json:"schema"`
	Horse  DocumentOf   `json:"horse"`
	Visits []VisitJSON  `json:"visits"`
	Rows   []ChangeJSON `json:"rows"`
}

// DocumentOf says whose visits they are.
type DocumentOf struct {
	ID   exam.HorseID `json:"id"`
	Name string       `json:"name"`
}

// VisitJSON is one visit of a Document, newest first.
type VisitJSON struct {
	ID      exam.VisitID `json:"id"`
	At      time.Time    `json:"at"`
	Routine string       `json:"routine"`
	By      string       `json:"by"`
	Class   ranges.Class `json:"class"`
	Level   *exam.Level  `json:"level"` // null where nothing was answered
	// Answered of Steps of the routine are answered; Steps is 0 where it is not known.
	Answered int `json:"steps_answered"`
	Steps    int `json:"steps"`
}

// ChangeJSON is one row of a Document. Values, Levels and NotDone hold one element for each visit: a number in Unit, or
// words; null where the visit has none, with the reason in NotDone where it has one. Low and High are what is usual for
// the class, OwnLow and OwnHigh for this horse, Change newest minus before: in Unit, null where they are not known.
type ChangeJSON struct {
	Step        exam.StepID    `json:"step"`
	Site        exam.Site      `json:"site"`
	Unit        notation.Unit  `json:"unit"`
	Values      []any          `json:"values"`
	Levels      []*exam.Level  `json:"levels"`
	NotDone     []*exam.Reason `json:"not_done"`
	Low         *float64       `json:"low"`
	High        *float64       `json:"high"`
	OwnLow      *float64       `json:"own_low"`
	OwnHigh     *float64       `json:"own_high"`
	Change      *float64       `json:"change"`
	ChangeMeans string         `json:"change_means"`
	// Changed is "changed", "within noise" or "not known"; Noise is the largest change that is noise, in Unit, null where
	// it is not known, and NoiseFrom where the variation within the horse was learnt: own visits, published, not known.
	Changed   Worth       `json:"changed,omitempty"`
	Noise     *float64    `json:"noise"`
	NoiseFrom NoiseSource `json:"noise_from,omitempty"`
	// Unsettled holds one element for each visit where two laptops gave answers that nobody has settled: who gave which, in
	// words; the value is then in words too. Absent where there is none.
	Unsettled []string `json:"unsettled,omitempty"`
	// Before holds one element for each visit where a finding of the row was
	// corrected: what it said before; absent where none was.
	Before [][]Was `json:"before,omitempty"`
}

// Document puts the table into the form of the compare command.
func (t Table) Document() Document {
	d := Document{
		Schema: Schema, Horse: DocumentOf{ID: t.Horse.ID, Name: t.Horse.Name},
		Visits: make([]VisitJSON, 0, len(t.Columns)), Rows: make([]ChangeJSON, 0, len(t.Rows)),
	}
	for _, c := range t.Columns {
		d.Visits = append(d.Visits, VisitJSON{ID: c.ID, At: c.At, Routine: c.Routine, By: c.By, Class: c.Class, Level: c.Coverage.Rated(c.Level), Answered: c.Coverage.Answered, Steps: c.Coverage.Of})
	}
	for i := range t.Rows {
		d.Rows = append(d.Rows, t.Rows[i].line())
	}
	return d
}

func (r *StepRow) line() ChangeJSON {
	l := ChangeJSON{
		Step: r.Step, Site: r.Site, Unit: r.Unit, Low: r.Low, High: r.High, Change: r.Change.By, ChangeMeans: r.Change.Means,
		Changed: r.Change.Verdict, NoiseFrom: r.Change.Noise.From,
		Values: make([]any, len(r.Cells)), Levels: make([]*exam.Level, len(r.Cells)), NotDone: make([]*exam.Reason, len(r.Cells)),
	}
	if limit := r.Change.Noise.Limit; limit > 0 {
		l.Noise = &limit
	}
	if r.Own != nil {
		l.OwnLow, l.OwnHigh = &r.Own.Low, &r.Own.High
	}
	for i := range r.Cells {
		c := &r.Cells[i]
		if c.Corrected {
			if l.Before == nil {
				l.Before = make([][]Was, len(r.Cells))
			}
			l.Before[i] = c.Before
		}
		if c.Unsettled != "" {
			if l.Unsettled == nil {
				l.Unsettled = make([]string, len(r.Cells))
			}
			l.Unsettled[i] = c.Unsettled
		}
		switch {
		case c.Empty:
			continue
		case c.NotDone != "":
			l.NotDone[i] = &c.NotDone
			continue
		case c.Number != nil:
			l.Values[i] = *c.Number
		default:
			l.Values[i] = c.Text
		}
		if c.Rated {
			l.Levels[i] = &c.Level
		}
	}
	return l
}
