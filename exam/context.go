package exam

import (
	"strings"

	"loosebox/exam/notation"
)

// State is what the horse had been doing or feeling before the exam.
type State string

// The states that change how a finding is read. A horse can be in several.
const (
	StateRest      State = "at rest"
	StateWorked    State = "worked"
	StateExcited   State = "excited"
	StateTravelled State = "travelled"
	StateHot       State = "hot weather"
)

// States lists every state, rest first.
func States() []State {
	return []State{StateRest, StateWorked, StateExcited, StateTravelled, StateHot}
}

// Begins says that a text is the beginning of the state, of its key or of its words.
func (s State) Begins(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	return strings.HasPrefix(string(s), text) || strings.HasPrefix(strings.ToLower(s.String()), text)
}

// Context is the answer to "worked, travelled, frightened or hot in the last
// 30 minutes?". An empty context was not asked.
type Context struct {
	States []State            `json:"states,omitempty" text:"name" most:"64,a context"`
	Air    *notation.Quantity `json:"air,omitempty"`      // air temperature, as typed
	Humid  *float64           `json:"humidity,omitempty"` // relative humidity, percent
	// Globe is a measured wet-bulb globe temperature, as typed.
	Globe *notation.Quantity `json:"wet_bulb_globe,omitempty"`
	Note  string             `json:"note,omitempty" text:"note"`
	// Medicines are those of the last 24 hours, Given what and when, in a person's
	// own words. No medicines: nobody asked.
	Medicines []Medicine `json:"medicines,omitempty" text:"name" most:"64,a context"`
	Given     string     `json:"given,omitempty"`
}

// Has says whether the horse was in the state.
func (c Context) Has(s State) bool {
	for _, own := range c.States {
		if own == s {
			return true
		}
	}
	return false
}

// NotAtRest lists the states other than rest: those after which a high rate or
// temperature is taken again at rest.
func (c Context) NotAtRest() []State {
	var out []State
	for _, s := range c.States {
		if s != StateRest {
			out = append(out, s)
		}
	}
	return out
}

// Reason is why a step was not done: one of the keys below, or words of a person's own.
type Reason string

// Reasons for which a step may be passed over; other asks for words.
const (
	ReasonRefused       Reason = "horse refused"
	ReasonUnsafe        Reason = "unsafe"
	ReasonNoTime        Reason = "no time"
	ReasonNotApplicable Reason = "not applicable"
	ReasonOther         Reason = "other"
	// ReasonNotRecorded is what an imported visit says of an empty field.
	ReasonNotRecorded Reason = "not recorded"
)

// Reasons lists the reasons a person may choose from.
func Reasons() []Reason {
	return []Reason{ReasonRefused, ReasonUnsafe, ReasonNoTime, ReasonNotApplicable, ReasonOther}
}
