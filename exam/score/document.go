package score

import (
	"loosebox/exam"

	"loosebox/exam/notation"
)

// Encoded is one score as JSON. Numbers are in unit; low and high are what open
// items leave the score between.
type Encoded struct {
	Score    string        `json:"score"`
	Name     string        `json:"name"`
	Says     string        `json:"says"`
	Value    *float64      `json:"value"`
	Low      *float64      `json:"low"`
	High     *float64      `json:"high"`
	Unit     notation.Unit `json:"unit"`
	Level    exam.Level    `json:"level"`
	Items    []ItemJSON    `json:"items"`
	Missing  []string      `json:"missing"`
	Range    string        `json:"range"`
	Source   string        `json:"source"`
	Evidence exam.Evidence `json:"evidence"`
	Note     string        `json:"note,omitempty"`
}

// ItemJSON is one thing that went into a score, or that is open.
type ItemJSON struct {
	Name   string  `json:"name"` // in English, whatever the language in use is
	Found  string  `json:"found"`
	Says   string  `json:"says"`
	Counts float64 `json:"counts"`
	Open   bool    `json:"open"`
}

// Lines makes the JSON of scores.
func Lines(scores []Score) []Encoded {
	out := make([]Encoded, len(scores))
	for i, s := range scores {
		out[i] = Encoded{
			Score: s.ID, Name: s.Name, Says: s.Words, Value: s.Value, Low: s.Low, High: s.High, Unit: s.Unit, Level: s.Level,
			Items: make([]ItemJSON, len(s.Items)), Missing: s.Missing(), Range: s.Range, Source: s.Source, Evidence: s.Evidence, Note: s.Note,
		}
		for k, item := range s.Items {
			out[i].Items[k] = ItemJSON{itemNames.English(item.Name), item.Found, item.Says, item.Count, item.Open}
		}
	}
	return out
}
