package due

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Schema names the form of a Document.
const Schema = "loosebox/due/1"

// Document is the JSON of the due command. Days are 2026-03-04.
type Document struct {
	Schema    string      `json:"schema"`
	At        time.Time   `json:"at"`
	Schedule  string      `json:"schedule"`
	Overrides string      `json:"overrides"`
	Horses    []HorseJSON `json:"horses"`
}

// HorseJSON is one horse of a Document.
type HorseJSON struct {
	ID        exam.HorseID  `json:"id"`
	Name      string        `json:"name"`
	Age       string        `json:"age"`
	Group     Part          `json:"group"`
	Status    Status        `json:"status"` // the most pressing
	Due       []DiseaseJSON `json:"due"`
	Rechecks  []RecheckJSON `json:"rechecks"`
	Questions []string      `json:"questions"`
	Notes     []string      `json:"notes"`
}

// DiseaseJSON is one disease of a Document; from and by are null where no day can be
// computed.
type DiseaseJSON struct {
	Disease    string        `json:"disease"`
	Name       string        `json:"name"`
	Class      string        `json:"class"`
	Status     Status        `json:"status"`
	From       *string       `json:"from"`
	By         *string       `json:"by"`
	Given      int           `json:"given"`
	Of         int           `json:"of"` // 0: the first series is whole
	Incomplete bool          `json:"series_incomplete"`
	Last       *LastDoseJSON `json:"last"`
	Why        []string      `json:"why"`
	Note       string        `json:"note"`
	Source     string        `json:"source"`
	Evidence   exam.Evidence `json:"evidence"`
	Practice   bool          `json:"practice,omitempty"`
}

// LastDoseJSON is the last dose that counts.
type LastDoseJSON struct {
	On      string       `json:"on"`
	Exact   bool         `json:"exact"`
	Product string       `json:"product"`
	Lot     string       `json:"lot"`
	Noted   bool         `json:"noted"` // from papers, not given here
	Visit   exam.VisitID `json:"visit"`
}

// RecheckJSON is one recheck of a Document.
type RecheckJSON struct {
	On     string       `json:"on"`
	Time   *time.Time   `json:"time,omitempty"` // where an hour is set
	What   string       `json:"what"`
	Status Status       `json:"status"`
	SetBy  string       `json:"set_by"`
	Visit  exam.VisitID `json:"visit"`
}

// NewDocument is the form of the command, still without its horses (List.Line).
func NewDocument(t *Table, at time.Time) Document {
	return Document{Schema: Schema, At: at, Schedule: t.Version(), Overrides: Overrides, Horses: []HorseJSON{}}
}

// Line puts a list into the form of the command.
func (l List) Line() HorseJSON {
	h := HorseJSON{
		ID: l.Horse.ID, Name: l.Horse.Name, Age: l.Horse.AgeWords(l.At), Group: l.Part, Status: l.Worst(), Due: []DiseaseJSON{},
		Rechecks: []RecheckJSON{}, Questions: append([]string{}, l.Questions...), Notes: append([]string{}, l.Notes...),
	}
	for _, i := range l.Items {
		h.Due = append(h.Due, i.line())
	}
	for _, r := range l.Rechecks {
		h.Rechecks = append(h.Rechecks, RecheckJSON{r.On, r.Time, r.What, r.Status, r.By, r.Visit})
	}
	return h
}

func (i DiseaseDue) line() DiseaseJSON {
	l := DiseaseJSON{
		Disease: i.Disease, Name: i.Name, Class: i.Row.Class, Status: i.Status, From: dayText(i.From), By: dayText(i.By), Given: i.Given,
		Of: i.Of, Incomplete: i.Incomplete, Why: append([]string{}, i.Why...), Note: i.Row.Note, Source: i.Row.Source,
		Evidence: i.Row.Evidence, Practice: i.Row.Practice(),
	}
	if i.Last != nil {
		l.Last = &LastDoseJSON{i.Last.Day(), i.Last.Exact(), i.Last.Product, i.Last.Lot, i.Last.Noted, i.Last.Visit}
	}
	return l
}

func dayText(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	s := t.Format(notation.DayForm)
	return &s
}
