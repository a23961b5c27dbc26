package rehearse

import (
	"slices"
	"strings"

	"loosebox/exam"
)

// factKind says what a rehearsal keeps beside the answers of the trainee.
type factKind string

// The facts, with their values.
const (
	factSafety factKind = "safety" // a choice at a moment of danger: the moment, the option
	factClock  factKind = "clock"  // when a count began: seconds of the horse's time
	factModes  factKind = "modes"  // how it is played: blind, timed
	factLeft   factKind = "left"   // how many places had no answer at the end
	factCase   factKind = "case"   // a part of the file of the case
	factSet    factKind = "set"    // a part of the file of a set exam
	factSensed factKind = "sensed" // for how many seconds a place was looked at, listened to or felt
)

func factKinds() []factKind {
	return []factKind{factSafety, factClock, factModes, factLeft, factSensed, factCase, factSet}
}

// fact is one of them. The record keeps it as a note, "rehearsal: KIND [VALUES] words",
// which is written and read here and nowhere else.
type fact struct {
	exam.VisitNote // where it stands; not set in a fact that is to be written
	kind           factKind
	values         []string
	words          string // for a reader of the record
}

const factMark = "rehearsal: "

// entry is the fact as a line of the record, for the caller to stamp with time and person.
func (f fact) entry(at exam.Key) exam.Entry {
	note := factMark + string(f.kind) + " [" + strings.Join(f.values, " ") + "]"
	if f.words != "" {
		note += " " + f.words
	}
	return exam.Entry{Kind: exam.EntryNote, Step: at.Step, Site: at.Site, Note: note}
}

// factOf reads a note; false where it is none of a rehearsal's own.
func factOf(n exam.VisitNote) (fact, bool) {
	text, own := strings.CutPrefix(n.Text, factMark)
	kind, text, opened := strings.Cut(text, " [")
	values, words, closed := strings.Cut(text, "]")
	f := fact{VisitNote: n, kind: factKind(kind), values: strings.Fields(values), words: strings.TrimSpace(words)}
	return f, own && opened && closed && slices.Contains(factKinds(), f.kind)
}

// factsIn are the facts of a kind in a visit, in the order in which they were written.
func factsIn(v exam.Visit, kind factKind) []fact {
	var out []fact
	for _, n := range v.Notes {
		if f, ok := factOf(n); ok && f.kind == kind {
			out = append(out, f)
		}
	}
	return out
}

// IsOwnNote says that a note was written by the rehearsal and not by the trainee.
func IsOwnNote(text string) bool {
	_, own := factOf(exam.VisitNote{Text: text})
	return own
}
