package round

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
)

// Schema names the form of a Document.
const Schema = "loosebox/round/1"

// Document is the JSON of the round command.
type Document struct {
	Schema string      `json:"schema"`
	At     time.Time   `json:"at"`
	Day    string      `json:"day"` // 2026-03-04
	Counts Counts      `json:"counts"`
	Order  []string    `json:"order"` // where the order comes from
	Horses []HorseJSON `json:"horses"`
}

// HorseJSON is one horse of a Document, in the order to see them.
type HorseJSON struct {
	ID       exam.HorseID `json:"id"`
	Name     string       `json:"name"`
	Age      string       `json:"age"`
	Place    string       `json:"place"`
	Owner    string       `json:"owner"`
	Cautions []string     `json:"cautions"`
	Group    string       `json:"group"`
	Why      string       `json:"why"` // of its place in the order
	Reasons  []Reason     `json:"reasons"`
	State    Status       `json:"state"`
	StateAt  *time.Time   `json:"state_at"`
	Note     string       `json:"note"` // what was said of the state
	Visit    exam.VisitID `json:"visit"`
	// Tell is the last visit, where it holds something for the veterinarian, with its danger signs where a count applies.
	Tell   exam.VisitID       `json:"tell_the_vet,omitempty"`
	Danger *judge.DangerCount `json:"danger_signs,omitempty"`
	// Read says who signed that visit off, and when.
	Read string `json:"read,omitempty"`
}

// NewDocument puts a round into the form of the command.
func NewDocument(r Round, now time.Time) Document {
	d := Document{Schema: Schema, At: now, Day: r.Day, Counts: r.Count(), Order: []string{SourceTold, SourceFirst, SourceLast, SourceDays}, Horses: []HorseJSON{}}
	for _, c := range r.Calls {
		h := c.Horse
		l := HorseJSON{
			ID: h.ID, Name: h.Name, Age: h.AgeWords(r.At), Place: h.Place, Owner: h.Owner, Cautions: append([]string{}, h.Cautions...),
			Group: c.Group.String(), Why: c.Why, Reasons: append([]Reason{}, c.Reasons...), State: c.State, Note: c.Note, Visit: c.Visit,
		}
		if !c.At.IsZero() {
			at := c.At
			l.StateAt = &at
		}
		if c.Told != nil {
			l.Tell, l.Danger, l.Read = c.Told.Visit, c.Told.Count, c.Told.Read
		}
		d.Horses = append(d.Horses, l)
	}
	return d
}
