package exam

import (
	"fmt"
	"slices"

	"loosebox/exam/notation"
)

// ReaderRole is in which role somebody read a visit.
type ReaderRole string

// The readers. Only a veterinarian signs a visit off.
const (
	ReadByVet       ReaderRole = "veterinarian"
	ReadByColleague ReaderRole = "colleague"
)

// ReaderRoles lists every role, the one who signs off first.
func ReaderRoles() []ReaderRole { return []ReaderRole{ReadByVet, ReadByColleague} }

// ReadingLine is what an entry holds by which somebody says that the visit was read.
// Who read it is the person of the entry.
type ReadingLine struct {
	Role  ReaderRole `json:"role" text:"name"`
	Words string     `json:"words,omitempty" text:"note"` // the reader's own; may be empty
}

// Reading is a reading as it stands in a visit.
type Reading struct {
	ReadingLine
	Signed
	Without []int `json:"made_without,omitempty"` // as of a Decided
}

// SignsOff says that it is the veterinarian's.
func (r Reading) SignsOff() bool { return r.Role == ReadByVet }

// SignedOff is the last reading by a veterinarian, and how many lines were saved after it; false for none.
func (v Visit) SignedOff() (r Reading, since int, ok bool) {
	for i := len(v.Readings) - 1; i >= 0; i-- {
		if r = v.Readings[i]; !r.SignsOff() {
			continue
		}
		after := 0 // readings change nothing that was read
		for _, other := range v.Readings {
			if other.Seq > r.Seq {
				after++
			}
		}
		return r, max(v.Entries-r.Seq-after, 0), true
	}
	return Reading{}, 0, false
}

// SignedOffWords says who signed the visit off, when, and how much was saved since; empty where nobody did.
func (v Visit) SignedOffWords() string {
	r, since, ok := v.SignedOff()
	if !ok {
		return ""
	}
	text := fmt.Sprintf("Read by %s, %s, %s.", notation.CleanLine(r.By, 0), r.Role, r.At.Format("2 Jan 2006 15:04"))
	switch {
	case since == 1:
		text += " 1 line was saved after it."
	case since > 1:
		text += fmt.Sprintf(" %d lines were saved after it.", since)
	}
	return text
}

// CheckReading says what is missing of a reading before it is saved; the error is a *notation.Refusal.
func (v Visit) CheckReading(e Entry) error {
	switch {
	case e.Reading == nil || !slices.Contains(ReaderRoles(), e.Reading.Role):
		return &notation.Refusal{Why: "A visit is read by a veterinarian or by a colleague: choose one. Nothing was saved."}
	case notation.CleanLine(e.By, 0) == "":
		return &notation.Refusal{Why: "Say who read the visit. Nothing was saved."}
	case e.Corrects == 0 && !v.anythingToRead():
		return &notation.Refusal{Why: "Nothing in this visit is answered yet, so there is nothing to sign. Nothing was saved."}
	}
	return nil
}

// anythingToRead says that the visit holds more than its opening and what was said before the exam.
func (v Visit) anythingToRead() bool {
	return len(v.Findings)+len(v.Notes)+len(v.Injections)+len(v.Draws)+len(v.Decisions)+len(v.HandOffs) > 0
}
