package rehearse

import (
	"regexp"
	"strings"

	"loosebox/exam"
)

// modesMark begins the note that holds the modes of a rehearsal.
const modesMark = "rehearsal: modes "

// Modes are how a rehearsal is played: Blind shows neither the order of the steps nor how they are done, Timed shows the
// time that passes.
type Modes struct {
	Blind bool `json:"blind"`
	Timed bool `json:"timed"`
}

// Entry keeps the modes in the record, for the caller to stamp with time and person: a note to the whole visit.
func (m Modes) Entry() exam.Entry {
	words := []string{}
	for _, w := range []struct {
		on   bool
		word string
	}{{m.Blind, "blind"}, {m.Timed, "timed"}} {
		if w.on {
			words = append(words, w.word)
		}
	}
	return exam.Entry{Kind: exam.EntryNote, Note: modesMark + "[" + strings.Join(words, " ") + "]"}
}

// ModesIn reads the modes of a visit; none where it says nothing.
func ModesIn(v exam.Visit) Modes {
	form := regexp.MustCompile(`^` + modesMark + `\[([a-z ]*)\]$`)
	var out Modes
	for _, n := range v.Notes {
		m := form.FindStringSubmatch(n.Text)
		if m == nil || n.Step != "" {
			continue
		}
		for _, word := range strings.Fields(m[1]) {
			out.Blind = out.Blind || word == "blind"
			out.Timed = out.Timed || word == "timed"
		}
	}
	return out
}
