package exam

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"time"
)

// HorseID is a UUID of version 7 (RFC 9562) as text. Its time part is never
// taken for the time of anything.
type HorseID string

// VisitID is a UUID of version 7 (RFC 9562) as text. Its time part is never
// taken for the time of an exam.
type VisitID string

// EntryKind says what a line of the record is.
type EntryKind string

// The kinds of entry.
const (
	EntryOpened    EntryKind = "opened"
	EntryContext   EntryKind = "context"
	EntryFinding   EntryKind = "finding"
	EntryNotDone   EntryKind = "not done"
	EntryNote      EntryKind = "note"
	EntryHandedOff EntryKind = "handed off"
	EntryDecision  EntryKind = "decision"
	EntryInjection EntryKind = "injection"
	EntryDraw      EntryKind = "draw"
	EntryWatch     EntryKind = "watch"
	EntryRead      EntryKind = "read" // by the veterinarian, or by a colleague
	EntryTaken     EntryKind = "taken over"
	EntryClosed    EntryKind = "closed"
	EntryAdded     EntryKind = "added later"
	EntryStruck    EntryKind = "struck" // the whole visit
)

// Hash is a SHA-256 digest in lower-case hex, by which a line of the record is known;
// empty for none.
type Hash string

// Entry is one line of the record: when, by whom, what. It is never changed,
// only corrected by a later entry that names it.
type Entry struct {
	Visit VisitID   `json:"visit" text:"-"`
	Seq   int       `json:"-"`  // the place in the visit, from 1, without gaps
	At    time.Time `json:"at"` // wall clock with offset
	By    string    `json:"by"`
	Kind  EntryKind `json:"kind" text:"name"`

	Step  StepID `json:"step,omitempty" text:"name"`
	Site  Site   `json:"site,omitempty" text:"name"`
	Value *Value `json:"value,omitempty"`
	// Reason says why a step was not done.
	Reason string `json:"reason,omitempty"`
	Note   string `json:"note,omitempty" text:"note"`
	// Corrects is the number of the entry that this one replaces; 0 for none. What is
	// stored is CorrectsLine, that entry's identity (see Numbers).
	Corrects     int  `json:"-"`
	CorrectsLine Hash `json:"corrects,omitempty" text:"-"`
	// Settles are the numbers of further entries that this one replaces, or of which it says
	// that somebody looked at them (Unsettled). What is stored is SettlesLines.
	Settles      []int  `json:"-" most:"64,what a line settles"`
	SettlesLines []Hash `json:"settles,omitempty" text:"-"`
	// Apart are the numbers of earlier entries that the writer of an entry did not hold, where
	// a copy for teaching or an import has all of them in one log. What is stored is ApartLines.
	Apart      []int  `json:"-" most:"4096,a line that others stand beside"`
	ApartLines []Hash `json:"apart,omitempty" text:"-" most:"4096,a line that others stand beside"`
	// Unseen are the numbers of earlier entries that the writer's laptop did not hold; it
	// follows from the logs and from Apart, and is not stored.
	Unseen []int `json:"-" text:"-"`
	// WithoutHandOff says why a visit with something for the veterinarian was closed
	// although no hand-off is saved.
	WithoutHandOff NoHandOff `json:"without_hand_off,omitempty"`
	// Amend says why a line was written after its visit was closed.
	Amend *Amendment `json:"amend,omitempty"`

	Opening *Opening `json:"opening,omitempty"` // of an opened entry
	Context *Context `json:"context,omitempty"` // of a context entry

	HandOff   *HandOffLine   `json:"hand_off,omitempty"`
	Decision  *Decision      `json:"decision,omitempty"`
	Injection *InjectionLine `json:"injection,omitempty"`
	Draw      *DrawLine      `json:"draw,omitempty"`
	Watch     *WatchLine     `json:"watch,omitempty"`
	Recheck   *RecheckLine   `json:"recheck,omitempty"` // of a note or a decision
	Formality *Formality     `json:"formality,omitempty"`
	Reading   *ReadingLine   `json:"reading,omitempty"`
	Taken     *TakenLine     `json:"taken,omitempty"`

	Prev Hash `json:"-" text:"-"` // identity of the entry before it in the visit
	Hash Hash `json:"-" text:"-"` // its own identity
}

// Opening is what an opened entry holds: the horse as it was known that day.
type Opening struct {
	Horse   Horse  `json:"horse"`
	Routine string `json:"routine"`
	Reason  string `json:"reason,omitempty"` // why the horse is seen, in a few words
	// Source names the file that an imported visit came from; empty for a visit
	// examined with this program.
	Source string `json:"source,omitempty"`
	// From is what is kept of the document that the visit was taken out of.
	From *CameFrom `json:"from,omitempty"`
	// Entered says that the visit was entered again instead of a struck one.
	Entered *Entered `json:"entered,omitempty"`
}

// CameFrom is what an imported visit keeps of the FHIR document that it was taken out of, so that it is written again as the
// same document.
type CameFrom struct {
	Practice Letterhead `json:"practice,omitzero"`              // that recorded the visit
	Line     Hash       `json:"line,omitempty" text:"name"`     // the last that the visit had there
	Document Hash       `json:"document,omitempty" text:"name"` // SHA-256 of the document's bytes
	Replaces string     `json:"replaces,omitempty"`             // identity of the document that it replaces
	Lines    int        `json:"lines"`                          // how many lines came in; what is behind them was written here
}

// ErrDamaged is wrapped by every error that says stored bytes are not what was written.
var ErrDamaged = errors.New("the record is damaged")

// entryDigest stands before the bytes of an entry when it is hashed, so that no other
// digest can be taken for an entry's.
const entryDigest = "loosebox/entry/2\x00"

// Seal gives an entry that is in no log an identity: the digest of its bytes and of
// the entry before it, Prev.
func Seal(e *Entry) error {
	body, err := LineBody(LineEntry, e)
	if err != nil {
		return err
	}
	h := sha256.New()
	h.Write([]byte(entryDigest))
	h.Write([]byte(e.Prev))
	h.Write([]byte{0})
	h.Write(body)
	e.Hash = Hash(hex.EncodeToString(h.Sum(nil)))
	return nil
}
