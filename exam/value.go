package exam

import (
	"math"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// Value is what was found at one step and site. Which fields it fills depends
// on its kind; see the field comments.
type Value struct {
	Kind StepKind `json:"kind" text:"name"`
	// Number holds a rate, a temperature, a median time, a weight or a score,
	// in the unit that was typed.
	Number *notation.Quantity `json:"number,omitempty"`
	// Bound is set where only one side of the number is known, as records made
	// elsewhere have it ("3 s or more"). Such a value has no figure to compute with.
	Bound Bound `json:"bound,omitempty" text:"name"`
	// Typed is the very text that was typed, where a number was.
	Typed string `json:"typed,omitempty"`
	// Words are the keys of the choices of a pick, marks or scale step.
	Words []string `json:"words,omitempty" text:"name" most:"64,a value"`
	// Count says how a rate was counted.
	Count *Count `json:"count,omitempty"`
	// TrialsS are all times of a time step, in seconds, in the order taken;
	// Number is their median.
	TrialsS []float64 `json:"trials_s,omitempty" most:"100,a value"`
	// Weight says how a weight was found.
	Weight *Weight `json:"weight,omitempty"`
	// Parts are the scores of the parts that Number was made of, by the keys of
	// the step's parts; a part that was not seen is left out. Empty where the
	// total was given at once.
	Parts map[string]float64 `json:"parts,omitempty" text:"name" most:"100,a score"`
	// Measured says how a value of an imported visit was measured, in the words of where it
	// came from.
	Measured string `json:"measured,omitempty" text:"note"`
	// At is when an event was seen; nil where nobody knows, or not yet.
	At *time.Time `json:"at,omitempty"`
	// Text is a free note.
	Text string `json:"text,omitempty" text:"note"`
	// Usual is true where the answer was given by the one key for usual.
	Usual bool `json:"usual,omitempty"`
	// InOneGo is true where one key answered every step of an area that is looked at: "the rest of this area looks usual".
	InOneGo bool `json:"in_one_go,omitempty"`
}

// Bound says on which side of its number a value lies; the words stand for the
// signs <, <=, > and >=.
type Bound string

// The bounds; a value that is known exactly has none.
const (
	NoBound Bound = ""
	Under   Bound = "under"
	UpTo    Bound = "up to"
	Over    Bound = "over"
	AtLeast Bound = "at least"
)

// Show writes the bound with its number: "under 3 s", "3 s or more".
func (b Bound) Show(number string) string {
	switch b {
	case Under, UpTo, Over:
		return b.String() + " " + number
	case AtLeast:
		return number + " " + b.String()
	case NoBound:
	}
	return number
}

// CountMethod is how a rate was counted.
type CountMethod string

// The methods of counting.
const (
	CountTapped CountMethod = "tapped"
	CountByEar  CountMethod = "counted by ear"
	CountTyped  CountMethod = "typed"
)

// Count says how a rate was counted, with all that is needed to compute it again.
type Count struct {
	Method CountMethod `json:"method" text:"name"`
	// TapsS are the times of every tap that counted, lead-in included, in
	// seconds from the first key press, by the monotonic clock.
	TapsS  []float64 `json:"taps_s,omitempty" most:"5000,a count"`
	LeadIn int       `json:"lead_in,omitempty"`
	Held   int       `json:"held,omitempty"` // presses of a held key, not counted
	// WindowS and Counted belong to a count by ear: the seconds until the bell
	// and what was counted in them.
	WindowS float64 `json:"window_s,omitempty"`
	Counted int     `json:"counted,omitempty"`
	// HalfWidth is the 95 % half-width of the rate during this count, /min; 0
	// where there is none.
	HalfWidth float64  `json:"half_width_per_min,omitempty"`
	Evenness  Evenness `json:"evenness,omitempty"`
	// Answers settle long gaps, by the number of the tap before the gap.
	Answers []GapAnswer `json:"answers,omitempty" most:"5000,a count"`
	// NotBeats are the numbers of taps that the person said were no beat, and
	// OneSound is true where both heart sounds seemed tapped and were not.
	NotBeats []int `json:"not_beats,omitempty"`
	OneSound bool  `json:"one_sound,omitempty"`
}

// Taps is how many taps the rate is made of: those behind the lead-in, without those that were said to be no beat.
func (c Count) Taps() int { return max(len(c.TapsS)-c.LeadIn-len(c.NotBeats), 0) }

// Evenness is what may be said about the evenness of what was tapped, and no more: it names no rhythm, which only an ECG does.
type Evenness string

// The words about evenness. TooFastToJudge is that of a heart that is too quick to tell the finger's scatter from its own changes.
const (
	Even               Evenness = "even"
	EvenWithPauses     Evenness = "even with pauses"
	SpeedingAndSlowing Evenness = "speeding and slowing"
	Irregular          Evenness = "irregular, no repeating pattern"
	TooFewToSay        Evenness = "too few to say"
	TooFastToJudge     Evenness = "too fast to judge"
)

// EvennessWords are the evenness for a person who reads it behind a rate, where "too fast" alone would be of the rate.
func (c *Count) EvennessWords() string {
	if c.Evenness == TooFastToJudge {
		return "evenness " + TooFastToJudge.String() + " by tapping"
	}
	return c.Evenness.String()
}

// GapAnswer is what the person said of a long gap between two taps.
type GapAnswer struct {
	AfterTap int  `json:"after_tap"`
	Missed   bool `json:"missed"` // true: a tap was missed; false: the heart paused
}

// WeighMethod is how a body weight was found.
type WeighMethod string

// The methods of weighing.
const (
	WeightScale    WeighMethod = "scale"
	WeightTape     WeighMethod = "weight tape"
	WeightMeasured WeighMethod = "girth and length"
	WeightEye      WeighMethod = "by eye"
)

// Weight says how a body weight was found.
type Weight struct {
	Method WeighMethod `json:"method" text:"name"`
	// Measures are the tape readings as typed, by name: "girth", "girth again",
	// "length", "height", "neck" and so on.
	Measures map[string]notation.Quantity `json:"measures,omitempty" text:"name" most:"100,a weight"`
	// Equation names the equation that turned the measures into a weight.
	Equation string `json:"equation,omitempty"`
	// LowKg and HighKg bound the published error of the method, and BandPercent
	// of animals lay inside in its study; 0 where no study says.
	LowKg       float64 `json:"low_kg,omitempty"`
	HighKg      float64 `json:"high_kg,omitempty"`
	BandPercent int     `json:"band_percent,omitempty"`
}

// Mark stands behind a weight that is a guess, wherever it is shown; empty for any other.
func (w *Weight) Mark() string {
	if w == nil || w.Method != WeightEye {
		return ""
	}
	return " " + w.Method.String()
}

// In returns the value's number in the given unit; false where it has none, where
// only a bound of it is known, or the unit does not fit.
func (v Value) In(u notation.Unit) (float64, bool) {
	if v.Number == nil || v.Bound != NoBound {
		return 0, false
	}
	q, ok := v.Number.In(u)
	if !ok || math.IsNaN(q.Value) || math.IsInf(q.Value, 0) {
		return 0, false
	}
	return q.Value, true
}

// Has says whether the value holds the choice key.
func (v Value) Has(key string) bool {
	for _, w := range v.Words {
		if w == key {
			return true
		}
	}
	return false
}

// Show writes the value for a person, in the words of its step: "38.4 C",
// "44 /min", "moist", "none".
func (v Value) Show(s Step) string {
	switch v.Kind {
	case KindPick, KindMarks, KindScale:
		return v.showWords(s)
	case KindEvent:
		return v.showEvent(s)
	case KindNote:
		return v.Text
	case KindCount, KindNumber, KindTime, KindWeight:
		if v.Number != nil {
			return v.Bound.Show(v.Number.Text(s.Decimals)) + v.Weight.Mark()
		}
	}
	return v.Text
}

func (v Value) showWords(s Step) string {
	if len(v.Words) == 0 && v.Kind == KindScale && v.Number != nil {
		return v.showScore(s)
	}
	words := make([]string, 0, len(v.Words))
	for _, key := range v.Words {
		c, ok := s.Choice(key)
		switch {
		case !ok:
			words = append(words, key)
		case s.Kind == KindScale:
			words = append(words, notation.FormatNumber(c.Score, 1)+" "+c.Words)
		default:
			words = append(words, c.Words)
		}
	}
	return strings.Join(words, ", ")
}

// showScore writes a score without a choice: half-way between two, or as a record
// made elsewhere has it.
func (v Value) showScore(s Step) string {
	text := v.Bound.Show(notation.FormatNumber(v.Number.Value, 1))
	for _, c := range s.Choices {
		if c.Score == v.Number.Value {
			return text + " " + c.Words
		}
	}
	if below, above, ok := s.between(v.Number.Value); ok {
		text += " between " + below.Words + " and " + above.Words
	}
	return text
}
