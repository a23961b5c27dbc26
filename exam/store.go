package exam

import (
	"errors"
	"fmt"
	"time"

	"loosebox/exam/notation"
)

// Errors that a caller decides on. Each is wrapped in a sentence.
var (
	ErrNotFound = errors.New("not found")
	ErrInUse    = errors.New("in use by another run")
	ErrClosed   = errors.New("the visit is closed")
	ErrNewer    = errors.New("written by a newer version")
	ErrStale    = errors.New("changed by somebody else meanwhile")
)

// NoSuch is an error that is ErrNotFound, said in a sentence of its own.
func NoSuch(format string, args ...any) error { return &missing{fmt.Sprintf(format, args...)} }

type missing struct{ text string }

func (m *missing) Error() string { return m.text }

func (m *missing) Is(target error) bool { return target == ErrNotFound }

// Settings are a machine's choices, which stay on it, and what its practice set; none of
// them changes a visit.
type Settings struct {
	// Common is of the practice: lines of the record say it (Store.SaveSetting).
	Common  `json:"-"`
	Person  string `json:"person"`  // who examines, offered at the next visit
	Routine string `json:"routine"` // name of the default routine; empty for the full exam
	// Units are the units offered first, by the unit they replace: C -> F, kg -> lb.
	Units notation.Units `json:"units,omitempty" text:"name"`
	// WantedHeart and WantedBreath are the half-widths at which a count is firm, /min.
	WantedHeart  float64 `json:"wanted_heart,omitempty"`
	WantedBreath float64 `json:"wanted_breath,omitempty"`
	Theme        string  `json:"theme,omitempty" text:"name"`
	// DayOrder is how a date like 3/4/2026 is meant.
	DayOrder notation.DayOrder `json:"day_order,omitempty" text:"name"`
	Silent   bool              `json:"silent,omitempty"` // no bell
	// Rehearsal is what of a simulated horse is heard: nothing, "bell" at each beat,
	// or "played" as sound.
	Rehearsal string `json:"rehearsal,omitempty"`
	// BackupFolder is a second place, like a stick, into which a backup goes after
	// each closed visit, and BackupRecipient the public key (age1…) that it is
	// encrypted to; empty for none.
	BackupFolder    string `json:"backup_folder,omitempty" text:"note"`
	BackupRecipient string `json:"backup_recipient,omitempty" text:"note"`
	// ShareFolder is the folder through which laptops share one record, on a stick or a
	// network drive; empty for none.
	ShareFolder string `json:"share_folder,omitempty" text:"note"`
	// Scatter is each person's own tap scatter, by name.
	Scatter map[string]Scatter `json:"scatter,omitempty"`
}

// Call is how the veterinarian is reached, in words; empty where no number is set.
func (s Settings) Call() string {
	day, night := notation.CleanLine(s.VetPhone, MaxPhone), notation.CleanLine(s.VetNight, MaxPhone)
	switch {
	case day == "" && night == "":
		return ""
	case night == "":
		return "Call the veterinarian: " + day
	case day == "":
		return "Call the veterinarian, at night: " + night
	}
	return "Call the veterinarian: " + day + "; at night: " + night
}

// MaxPhone is the longest telephone number, in characters.
const MaxPhone = 30

// Scatter is how far a person's taps stray from a steady pulse.
type Scatter struct {
	SigmaS float64   `json:"sigma_s"` // standard deviation of tap minus beat
	Taps   int       `json:"taps"`
	At     time.Time `json:"at"`
}

// Found is a horse in a list, with what a person looks for first.
type Found struct {
	Horse  Horse
	Visits int             // struck ones are not counted
	Each   map[HorseID]int // of each of Horse.Joined; nil where it was entered once
	LastAt time.Time       // zero where there was no visit yet
	Open   VisitID         // a visit not yet closed; empty for none
	// Stamp is another one after each change of a closed visit, or of which visits are closed.
	Stamp uint64
}

// ReadTx is what a check sees: the visit that an entry is for and its horse's visits, as they stand in the transaction
// that would write the entry.
type ReadTx interface {
	Visit() (Visit, error)
	// Past lists the horse's visits newest first, this one among them; struck ones are left out.
	Past() ([]Visit, error)
}

// Check says whether an entry may be written. It reads by Standing alone: it must not call the store.
type Check func(ReadTx) error

// Store keeps the record. Every method that writes is durable when it returns.
// Implementations are safe for use by several goroutines.
type Store interface {
	// Horses lists every horse by name.
	Horses() ([]Found, error)
	// Horse returns the newest revision of a horse, or ErrNotFound.
	Horse(HorseID) (Horse, error)
	// SaveHorse adds a revision of a horse; Revision must be one more than the
	// newest, or 1 for a new horse, else ErrStale. The stored horse is returned.
	SaveHorse(h Horse, by string, at time.Time) (Horse, error)

	// Join writes that horses are one, or that the first is none of the others (Joining);
	// Undoes and Line are set by the store. From then on horses that are one are read as
	// one: every method that takes or returns a horse's identity takes any of theirs and
	// returns the smallest. The error is a *notation.Refusal where they are one already,
	// ErrNotFound where one is not in the record.
	Join(Joining) error
	// Joinings lists the lines of Join, in the order of the record.
	Joinings() (Joinings, error)

	// Begin opens a visit with its first entry, whose Opening names the horse;
	// Visit, Seq and Prev are set by the store.
	Begin(first Entry) (Visit, error)
	// Append adds an entry to a visit; Seq and Prev are set by the store. A
	// closed visit takes only entries of the kind EntryAdded and corrections, each
	// with its reason, and a struck one nothing (see CheckAmendment), else ErrClosed. A procedure that no decision covers is ErrRefused (see
	// CheckDecided), and nothing is written.
	//
	// Each check is asked within the same transaction, before anything is written; its
	// error is returned as it is.
	Append(e Entry, checks ...Check) (Entry, error)
	// Visit returns a visit, or ErrNotFound.
	Visit(VisitID) (Visit, error)
	// Entries returns a visit's lines in order, each checked against its digest.
	Entries(VisitID) ([]Entry, error)
	// Strike strikes a visit as a whole: it stays readable and counts nowhere. The
	// entry is of the kind EntryStruck and names visit, person, time and reason.
	// Where again names a horse, the visit's lines are entered again for that horse
	// in the same step (see EnterAgain), and the second visit is the new one; else
	// it is empty. All of it is written or nothing. See CheckStrike.
	Strike(e Entry, again HorseID) (struck, entered Visit, err error)
	// Past lists a horse's visits newest first, at most limit (0 for all). Struck
	// visits are left out of every list but Struck's.
	Past(h HorseID, limit int) ([]Visit, error)
	// Outline lists what Past lists of a horse as lists and rounds need it: whole what was
	// opened since a moment, the rest from one short row (see Visit.Thin).
	Outline(h HorseID, since time.Time) ([]Visit, error)
	// Struck lists a horse's struck visits newest first.
	Struck(h HorseID) ([]Visit, error)
	// Recent lists visits of all horses newest first, at most limit.
	Recent(limit int) ([]Visit, error)
	// Unfinished lists the visits that are not closed, newest first.
	Unfinished() ([]Visit, error)
	// Unsettled lists the visits in which somebody must look at something that two laptops
	// wrote without knowing of each other (Visit.Unsettled), newest first.
	Unsettled() ([]Visit, error)

	// AddToRound adds lines to the rounds of their days, all or none; Seq is set by
	// the store. A line whose Check fails is refused with that error, a horse that
	// is not in the record with ErrNotFound.
	AddToRound(lines ...RoundLine) error
	// RoundLines lists the lines of the days from one to another, both included,
	// by day and in the order in which they were added.
	RoundLines(from, to string) ([]RoundLine, error)

	Settings() (Settings, error)
	// SaveSettings keeps the machine's own; what is Common is left as it is.
	SaveSettings(Settings) error
	// SaveSetting writes a line about a setting of the practice. Where Replaces is nil it
	// takes the place of every line about its key that is here. Nothing is written where that
	// changes nothing. The error is a *notation.Refusal where Setting.Check has one.
	SaveSetting(Setting) error
	// PracticeSettings lists the settings of the practice as they stand, by key.
	PracticeSettings() ([]SettingState, error)
}
