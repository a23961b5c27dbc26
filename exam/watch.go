package exam

import (
	"slices"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// WatchPhase is what one entry of a watch says.
type WatchPhase string

// The phases.
const (
	WatchBegun     WatchPhase = "begun"
	WatchQuiet     WatchPhase = "quiet"
	WatchReaction  WatchPhase = "reaction"
	WatchLeftEarly WatchPhase = "left early"
	// WatchDeclined says that nobody watches the horse after an injection, and why.
	WatchDeclined WatchPhase = "declined"
)

// WatchPhases lists every phase.
func WatchPhases() []WatchPhase {
	return []WatchPhase{WatchBegun, WatchQuiet, WatchReaction, WatchLeftEarly, WatchDeclined}
}

// WatchLine is what a watch entry holds.
type WatchLine struct {
	Injection int        `json:"injection,omitempty"`   // number of the injection it follows
	Of        Hash       `json:"of,omitempty" text:"-"` // identity of the line that began that injection
	Phase     WatchPhase `json:"phase"`
	Minutes   int        `json:"minutes,omitempty"` // of begun: the practice's own
	Sign      string     `json:"sign,omitempty"`    // of reaction
	SignWords string     `json:"sign_words,omitempty"`
	Why       StopReason `json:"why,omitempty"` // of left before the end, and of declined
}

// Watch is the time in which a horse is looked at after an injection.
type Watch struct {
	Injection int        `json:"injection"`
	Minutes   int        `json:"minutes,omitempty"`
	State     WatchPhase `json:"state"`
	EndAt     *time.Time `json:"end_at,omitempty"`
	EndBy     string     `json:"end_by,omitempty"`
	EndSeq    int        `json:"end_seq,omitempty"`
	Sign      string     `json:"sign,omitempty"`
	SignWords string     `json:"sign_words,omitempty"`
	Why       StopReason `json:"why,omitempty"`
	Signed               // of its beginning
}

// Running says that the watch has not ended.
func (w Watch) Running() bool { return w.State == WatchBegun }

// Ends is when the practice's minutes are over.
func (w Watch) Ends() time.Time { return w.At.Add(time.Duration(w.Minutes) * time.Minute) }

// Begin says which watch follows an injection of a practice that watches for so
// many minutes; false where the practice watches none.
func (i Injection) Begin(minutes int) (WatchLine, bool) {
	return WatchLine{Injection: i.Number, Phase: WatchBegun, Minutes: minutes}, minutes > 0 && i.State == InjectionGiven
}

// WentIn says that something of the product went into the horse here: all of it, a
// part, or an amount that nobody knows. A dose from papers is none.
func (i Injection) WentIn() bool {
	return !i.Earlier() && (i.State == InjectionGiven || i.State == InjectionStopped && (i.GivenML > 0 || i.NotKnown))
}

// Unwatched lists the injections after which a watch is still to do: something went
// in, and none was begun or declined since.
func (v Visit) Unwatched() []Injection {
	var out []Injection
	for _, i := range v.Injections {
		watched := slices.ContainsFunc(v.Watches, func(w Watch) bool { return w.Injection == i.Number })
		if i.WentIn() && !watched {
			out = append(out, i)
		}
	}
	return out
}

// ToWatch are those of Unwatched that still wait for somebody: closing a visit asks about them, so that of a closed one they
// are those of what was ordered after closing.
func (v Visit) ToWatch() []Injection {
	return slices.DeleteFunc(v.Unwatched(), func(i Injection) bool {
		return v.Closed() && (!v.Stands() || !v.OrderedAfterClosing(Entry{Injection: &InjectionLine{Number: i.Number}}))
	})
}

// HandOffLine is what a handed off entry holds.
type HandOffLine struct {
	To    string `json:"to"` // the veterinarian
	How   Means  `json:"how,omitempty"`
	Asked string `json:"asked,omitempty" text:"note"` // what was asked
	// ReadBack says that the other side read back what was asked.
	ReadBack bool `json:"read_back,omitempty"`
}

// HandOff is a hand-off as it stands in a visit.
type HandOff struct {
	HandOffLine
	Signed
	Without []int `json:"made_without,omitempty"` // as of a Decided
}

// RecheckLine is a day, or a time of it, at which something is to be looked at
// again, set in a visit.
type RecheckLine struct {
	On   string `json:"on"` // day, 2026-03-04
	What string `json:"what"`
	// Time is the moment of that day, with its offset; nil where only the day is set.
	Time *time.Time `json:"time,omitempty"`
}

// RecheckAt is the line of something that is looked at again at a moment.
func RecheckAt(m notation.Moment, what string) RecheckLine {
	return RecheckLine{On: m.Day, What: what, Time: m.At}
}

// When is the day for a person, and the time by the clock of now where one is set: "4 Mar 2026 20:00".
func (r RecheckLine) When(now time.Time) string {
	if r.Time == nil {
		return notation.Shown(r.On)
	}
	return notation.ShownAt(*r.Time, now)
}

// ISO is the day as the record has it, and the time where one is set: "2026-03-04 20:00".
func (r RecheckLine) ISO() string {
	if r.Time == nil {
		return r.On
	}
	return r.On + " " + r.Time.Format("15:04")
}

// Compare sets two by their time; one without a time stands behind those of its day.
func (r RecheckLine) Compare(other RecheckLine) int {
	if c := strings.Compare(r.On, other.On); c != 0 || r.Time == nil && other.Time == nil {
		return c
	}
	switch {
	case r.Time == nil:
		return 1
	case other.Time == nil:
		return -1
	}
	return r.Time.Compare(*other.Time)
}

// Recheck is a recheck as it stands in a visit.
type Recheck struct {
	RecheckLine
	Signed
}

// TimeTo is how long after it was set it comes; 0 where it has no hour.
func (r Recheck) TimeTo() time.Duration {
	if r.Time == nil {
		return 0
	}
	return r.Time.Sub(r.At)
}

// RecheckOf is the recheck that an entry of the visit set; nil for none.
func (v Visit) RecheckOf(seq int) *RecheckLine {
	for _, r := range v.Rechecks {
		if seq > 0 && r.Seq == seq {
			line := r.RecheckLine
			return &line
		}
	}
	return nil
}
