package exam

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam/notation"
)

// Finding is the value written down for a step and site, or the reason why it
// was not done, as it stands after every correction.
type Finding struct {
	Step    StepID    `json:"step"`
	Site    Site      `json:"site,omitempty"`
	Value   Value     `json:"value"`
	NotDone Reason    `json:"not_done,omitempty"` // the reason; the value is then empty
	Note    string    `json:"note,omitempty"`
	At      time.Time `json:"at"`
	By      string    `json:"by"`
	Seq     int       `json:"seq"`
	// Why is why the one before was corrected, where the visit was closed already.
	Why AmendReason `json:"why,omitempty"`
	// Added says that the finding was added after the visit was closed; Happened
	// when it was made, where that is not the time of the visit.
	Added    bool       `json:"added_later,omitempty"`
	Happened *time.Time `json:"happened,omitempty"`
	// Before are the findings that this one replaced, or that others replaced before it,
	// oldest first; theirs are empty, and Replaced is the entry that replaced each.
	Before   []Finding `json:"before,omitempty"`
	Replaced int       `json:"replaced_by,omitempty"`
	// Differ are answers that stand beside this one: their writers did not know of it, nor
	// its writer of them. The worst of them counts until somebody chooses.
	Differ []Finding `json:"differ,omitempty"`
}

// Key is the finding's place.
func (f Finding) Key() Key { return Key{f.Step, f.Site} }

// Done says that there is a value, not only a reason.
func (f Finding) Done() bool { return f.NotDone == "" }

// WhyNot says why a step was not done, in one line: of "other" the person's own words are all that is known, behind any
// other reason they say more. Empty where it was done.
func (f Finding) WhyNot() string {
	reason, own := notation.CleanLine(f.NotDone.String(), 0), notation.CleanLine(f.Note, 0)
	switch {
	case f.Done() || own == "":
		return reason
	case f.NotDone == ReasonOther:
		return own
	}
	return reason + ", " + own
}

// VisitNote is a note in words, to one place of the exam or to the whole visit.
type VisitNote struct {
	Text string    `json:"text"`
	Step StepID    `json:"step,omitempty"` // empty: to the visit
	Site Site      `json:"site,omitempty"`
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	Seq  int       `json:"seq"`
	// Formality is what the text says in words; nil in any other note.
	Formality *Formality `json:"formality,omitempty"`
	// Why, Added and Happened are those of a Finding.
	Why      AmendReason `json:"why,omitempty"`
	Added    bool        `json:"added_later,omitempty"`
	Happened *time.Time  `json:"happened,omitempty"`
	// Before are the notes that this one replaced, oldest first; theirs are empty.
	Before []VisitNote `json:"before,omitempty"`
}

// Silent says that the note has no text and never had: its line sets a follow-up alone.
func (n VisitNote) Silent() bool { return n.Text == "" && len(n.Before) == 0 }

// Visit is one horse on one occasion: the fold of its entries.
type Visit struct {
	ID       VisitID    `json:"id"`
	Horse    Horse      `json:"horse"` // as it was known when the visit was opened
	Routine  string     `json:"routine"`
	Reason   string     `json:"reason,omitempty"`
	Source   string     `json:"source,omitempty"`
	From     *CameFrom  `json:"from,omitempty"`    // of an imported visit
	Entered  *Entered   `json:"entered,omitempty"` // instead of a struck visit
	Struck   *Struck    `json:"struck,omitempty"`  // the visit does not count
	By       string     `json:"by"`
	OpenedAt time.Time  `json:"opened_at"`
	ClosedAt *time.Time `json:"closed_at,omitempty"`
	// WithoutHandOff is why it was closed although something for the veterinarian was
	// not handed off.
	WithoutHandOff NoHandOff `json:"without_hand_off,omitempty"`
	// ClosedSeq is the entry that closed it, ClosedWithout are entries that its writer did
	// not have, or whose writers did not know that it was closed.
	ClosedSeq     int   `json:"closed_entry,omitempty"`
	ClosedWithout []int `json:"closed_without,omitempty"`
	// Settled are entries of which somebody said that they were looked at (Unsettled).
	Settled []int `json:"settled,omitempty"`

	Context  Context     `json:"context"`
	Findings []Finding   `json:"findings"`
	Notes    []VisitNote `json:"notes,omitempty"`

	HandOffs   []HandOff   `json:"hand_offs,omitempty"`
	Decisions  []Decided   `json:"decisions,omitempty"`
	Injections []Injection `json:"injections,omitempty"`
	Draws      []Draw      `json:"draws,omitempty"`
	Watches    []Watch     `json:"watches,omitempty"`
	Rechecks   []Recheck   `json:"rechecks,omitempty"`
	Readings   []Reading   `json:"readings,omitempty"` // who read the visit and signed it off

	Taken []Taken `json:"taken_over,omitempty"`
	// Elsewhere says that another laptop puts the needles in, until this one takes the visit
	// over. It follows from who reads and is in no snapshot.
	Elsewhere bool `json:"elsewhere,omitempty"`
	// Laptops are those on which the visit was written, in the order of their first lines;
	// none where all of it was written on this one. A list says it of open visits only. It
	// follows from who reads and is in no snapshot.
	Laptops []OnLaptop `json:"laptops,omitempty"`

	// Thinned says that the visit is as an outline holds it, without findings.
	Thinned *Thinned `json:"-" cbor:"thinned,omitempty"`

	Entries int  `json:"entries"` // how many were folded
	Last    Hash `json:"last"`    // hash of the last of them
}

// Fold reads a visit out of its entries, which must be whole and in order. It
// returns an error that wraps ErrDamaged where a line is missing or out of place.
func Fold(entries []Entry) (Visit, error) {
	var v Visit
	for _, e := range entries {
		if err := v.Apply(e); err != nil {
			return Visit{}, err
		}
	}
	if v.Entries == 0 {
		return Visit{}, fmt.Errorf("a visit without entries: %w", ErrDamaged)
	}
	return v, nil
}

// Apply folds one more entry into the visit.
func (v *Visit) Apply(e Entry) error {
	if e.Seq != v.Entries+1 || e.Prev != v.Last {
		return fmt.Errorf("entry %d does not follow entry %d: %w", e.Seq, v.Entries, ErrDamaged)
	}
	v.late(e)
	if e.Kind != EntryOpened && v.Entries == 0 {
		return fmt.Errorf("entry %d (%s) is out of place: %w", e.Seq, e.Kind, ErrDamaged)
	}
	switch e.Kind {
	case EntryOpened:
		if e.Opening == nil {
			return fmt.Errorf("the opening of a visit is empty: %w", ErrDamaged)
		}
		if v.Entries > 0 { // the same visit came in by two logs: the first opening holds
			break
		}
		v.ID, v.By, v.OpenedAt = e.Visit, e.By, e.At
		v.Horse, v.Routine = e.Opening.Horse, e.Opening.Routine
		v.Reason, v.Source, v.From, v.Entered = e.Opening.Reason, e.Opening.Source, e.Opening.From, e.Opening.Entered
	case EntryContext:
		if e.Context != nil {
			v.Context = *e.Context
		}
	case EntryFinding, EntryNotDone:
		v.put(e)
	case EntryNote:
		v.write(e)
		v.applyLine(e)
	case EntryAdded:
		if e.Step != "" && (e.Value != nil || e.Reason != "") {
			v.put(e)
		} else if e.Note != "" {
			v.write(e)
		}
		v.applyLine(e)
	case EntryClosed:
		v.end(e)
	case EntryStruck:
		v.strike(e)
	case EntryHandedOff, EntryDecision, EntryInjection, EntryDraw, EntryWatch, EntryRead, EntryTaken:
		v.applyLine(e)
	default:
		return fmt.Errorf("entry %d is of an unknown kind %q: %w", e.Seq, e.Kind, ErrDamaged)
	}
	v.Entries, v.Last = e.Seq, e.Hash
	return nil
}

// put writes a finding in its place: a correction or a second answer replaces what its
// writer knew of, and remembers it.
func (v *Visit) put(e Entry) {
	f := Finding{Step: e.Step, Site: e.Site, Note: e.Note, At: e.At, By: e.By, Seq: e.Seq, Added: e.Kind == EntryAdded}
	f.Why, f.Happened = e.amended()
	if e.Kind == EntryNotDone || e.Kind == EntryAdded && e.Value == nil {
		f.NotDone = Reason(e.Reason)
	} else if e.Value != nil {
		f.Value = *e.Value
	}
	for i := range v.Findings { // not by value: a finding is large, and this is asked for each of them
		if old := &v.Findings[i]; old.Step == f.Step && old.Site == f.Site {
			replaced := f.after(*old, e)
			v.Findings = slices.Clone(v.Findings)
			v.Findings[i] = replaced
			return
		}
	}
	v.Findings = append(v.Findings, f)
}

// write adds a note, or replaces the one that it corrects and remembers it.
func (v *Visit) write(e Entry) {
	n := VisitNote{Text: e.Note, Step: e.Step, Site: e.Site, At: e.At, By: e.By, Seq: e.Seq, Formality: e.Formality, Added: e.Kind == EntryAdded}
	n.Why, n.Happened = e.amended()
	for i, old := range v.Notes {
		if e.Corrects > 0 && old.Seq == e.Corrects {
			n.Before = append(append([]VisitNote(nil), old.Before...), old)
			n.Before[len(n.Before)-1].Before = nil
			v.Notes = append([]VisitNote(nil), v.Notes...)
			v.Notes[i] = n
			return
		}
	}
	v.Notes = append(v.Notes, n)
}

// strike marks the visit as one that does not count. An open visit is closed by it.
func (v *Visit) strike(e Entry) {
	s := Struck{Signed: Signed{At: e.At, By: e.By, Seq: e.Seq}}
	if e.Amend != nil {
		s.Why, s.Again = e.Amend.Why, e.Amend.Again
	}
	v.Struck = &s
	v.end(e)
}

// Closed says that the visit was finished.
func (v Visit) Closed() bool { return v.ClosedAt != nil }

// ClosedBeforeOpened says that the clock was set back while the visit was open.
func (v Visit) ClosedBeforeOpened() bool { return v.ClosedAt != nil && v.ClosedAt.Before(v.OpenedAt) }

// Class is the horse's class at this visit.
func (v Visit) Class() Class { return ClassOf(v.Horse, v.OpenedAt) }
