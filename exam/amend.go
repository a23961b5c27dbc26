package exam

import (
	"fmt"
	"time"

	"loosebox/exam/notation"
)

// Amendment is what a line holds that comes after its visit was closed: why it
// was written, so that whoever reads the record later need not guess. Date and
// name are the entry's own; the line it corrects stays readable. Source: the
// rules of records in calculations-and-procedures, 8.1 and 8.2 (a correction is
// dated, signed, gives its reason and covers nothing; a late entry says when it
// was written, why, and when the event happened).
type Amendment struct {
	Why AmendReason `json:"why"`
	// Happened is when what is added later happened; nil where that was at the visit.
	Happened *time.Time `json:"happened,omitempty"`
	// Again is the visit in which a struck visit was entered again; empty for none.
	Again VisitID `json:"again,omitempty"`
}

// AmendReason says why a line was written into a closed visit, why one was corrected there, or why a
// visit was voided: one of the keys below, or words of a person's own.
type AmendReason string

// The reasons that the program itself gives.
const (
	AmendTakenOver AmendReason = "a procedure was decided after the visit was closed"
	AmendRead      AmendReason = "read after the visit was closed"
	AmendDecided   AmendReason = "decided by the veterinarian after closing"
	AmendForRecord AmendReason = "for the record, after the visit was closed"
	AmendSignSeen  AmendReason = "seen after the visit was closed"
	AmendPastDose  AmendReason = "a past dose, noted afterwards"
)

// ReadAmendReason reads a typed reason, as one clean line.
func ReadAmendReason(text string) AmendReason {
	return amendWords.Read(notation.CleanLine(text, 0))
}

// Struck says that a whole visit does not count, and why: it was entered on the
// wrong horse. It stays readable.
type Struck struct {
	Why   AmendReason `json:"why"`
	Again VisitID     `json:"again,omitempty"` // where it was entered again
	Signed
}

// Entered says of a visit that it holds the lines of a struck one, who entered
// it again, when and why. Its lines keep their own times and names.
type Entered struct {
	Instead VisitID     `json:"instead" text:"name"` // the struck visit
	Why     AmendReason `json:"why"`
	At      time.Time   `json:"at"`
	By      string      `json:"by"`
}

// Stands says that the visit counts: it was not struck.
func (v Visit) Stands() bool { return v.Struck == nil }

// CheckAmendment says why a closed visit does not take an entry. It takes corrections and
// entries added later, each with its reason, and nothing once it was struck.
// Every store asks it before it writes. The error is a sentence; it wraps
// ErrClosed where the entry is of no kind that a closed visit takes.
func CheckAmendment(v Visit, e Entry) error {
	switch {
	case !v.Closed():
		return nil
	case v.Struck != nil:
		return fmt.Errorf("%w and was voided on %s; nothing was saved. Use the right visit",
			ErrClosed, v.Struck.At.Format("2 Jan 2006"))
	case e.Kind == EntryClosed || e.Kind != EntryAdded && e.Corrects == 0:
		return fmt.Errorf("%w; nothing was saved. Correct it, add later entries, or open a new visit", ErrClosed)
	case e.Amend == nil || e.Amend.Why == "":
		return &notation.Refusal{Why: "The visit is closed: type why this is added now. Nothing was saved."}
	case e.Amend.Happened != nil && e.Amend.Happened.After(e.At):
		return &notation.Refusal{Why: fmt.Sprintf("What is added cannot have happened at %s, which is in the future. Nothing was saved.",
			e.Amend.Happened.Format("2 Jan 2006 15:04"))}
	case e.Kind == EntryAdded && e.Step != "" && e.Value != nil && e.Corrects == 0:
		if f, ok := v.Finding(Key{e.Step, e.Site}); ok {
			return &notation.Refusal{Why: fmt.Sprintf("There is an answer already (entry %d). Correct it instead. Nothing was saved.", f.Seq)}
		}
	}
	return nil
}

// CheckStrike says why a visit cannot be struck by an entry of the kind
// EntryStruck, with its lines entered again or not. A visit that was struck and not entered
// again can still be entered again. The error is a sentence.
func CheckStrike(v Visit, e Entry, again bool) error {
	switch {
	case e.Kind != EntryStruck || e.Amend == nil || e.Amend.Why == "":
		return &notation.Refusal{Why: "Type why the visit is voided. Nothing was saved."}
	case v.Struck != nil && v.Struck.Again != "":
		return fmt.Errorf("%w: it is voided and entered again already. Nothing was saved", ErrClosed)
	case v.Struck != nil && !again:
		return fmt.Errorf("%w: it is voided already. It can be entered again for the right horse. Nothing was saved", ErrClosed)
	}
	return nil
}

// EnterAgain is the lines of a struck visit as they are entered for the horse
// that they are of. Every line keeps its time, its name and its number in the
// visit, so that corrections still name the right lines; the opening says where
// they come from. Visit, Prev and Hash are left to the store.
func EnterAgain(lines []Entry, horse Horse, strike Entry) ([]Entry, error) {
	if len(lines) == 0 || lines[0].Opening == nil || strike.Amend == nil {
		return nil, fmt.Errorf("a visit without its opening cannot be entered again: %w", ErrDamaged)
	}
	out := make([]Entry, 0, len(lines))
	for _, e := range lines {
		if e.Kind == EntryStruck {
			continue
		}
		e.Visit, e.Seq, e.Prev, e.Hash = "", 0, "", ""
		out = append(out, e)
	}
	wrong := out[0].Opening.Horse.Name
	o := *out[0].Opening
	o.Horse = horse
	o.Entered = &Entered{Instead: strike.Visit, Why: strike.Amend.Why, At: strike.At, By: strike.By}
	if !o.IsRehearsal() {
		o.Source = notation.CleanLine(fmt.Sprintf("visit %s, which was entered for %s and voided", strike.Visit, wrong), 0)
	}
	out[0].Opening = &o
	return out, nil
}

func (e Entry) amended() (why AmendReason, happened *time.Time) {
	if e.Amend == nil {
		return "", nil
	}
	return e.Amend.Why, e.Amend.Happened
}
