package rehearse

import (
	"time"

	"loosebox/exam"
	"loosebox/ranges"
)

// MarksSchema names the form of Marks as JSON.
const MarksSchema = "loosebox/marks/1"

// Marks say how a rehearsal went, each mark with what it rests on. They are made from the stored entries, the case and
// the seed alone, so that they come out the same whenever they are made.
type Marks struct {
	Schema string `json:"schema"`
	CaseOrigin
	Title    string       `json:"title"`
	Horse    string       `json:"horse"`
	Class    ranges.Class `json:"class"`
	Visit    exam.VisitID `json:"visit"`
	Routine  string       `json:"routine"`
	By       string       `json:"by"`
	At       time.Time    `json:"at"`
	Finished bool         `json:"finished"`
	TotalS   float64      `json:"total_s"` // from the opening to the last line

	Order    OrderMark     `json:"order"`
	Missed   []Place       `json:"missed"`       // steps without any answer
	Sides    []SideMark    `json:"sides_missed"` // steps answered at some of their sites only
	Passed   []PassedMark  `json:"not_done"`     // passed over with a reason
	Times    []TimeMark    `json:"times"`
	Counts   []CountMark   `json:"counts"`
	Findings []FindingMark `json:"findings"` // every place of the routine that has a truth
	Context  ContextMark   `json:"context"`
	// Unraised are remarks that the truth raises and the answers did not; NoCause are remarks that only the answers raise.
	Unraised []RemarkMark `json:"remarks_missed"`
	NoCause  []RemarkMark `json:"remarks_without_cause"`
	Tell     []TellMark   `json:"must_tell"`
	Safety   []SafetyMark `json:"safety"`
	LimitS   float64      `json:"limit_s,omitempty"` // of a drill
	Late     int          `json:"late,omitempty"`    // answers that came after it; they do not count
	HandOff  HandOffMark  `json:"hand_off"`
	Score    Points       `json:"score"`  // by the usual weights
	Count    Tally        `json:"count"`  // of the places, by what became of them
	Better   []string     `json:"better"` // at most three things, what matters most first
	Teaching []Taught     `json:"teaching"`

	find []exam.Key // what must be found, of the case
}

// Place names a place for a person and for a program.
type Place struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site,omitempty"`
	Name string      `json:"name"`
}

// SideMark is a step of which some sites were left out.
type SideMark struct {
	Place
	Sites []exam.Site `json:"sites"` // those that have no answer
}

// PassedMark is a place that was passed over with a reason.
type PassedMark struct {
	Place
	Reason exam.Reason `json:"reason"`
	Needed bool        `json:"needed"` // the case says that it had to be found
	// Excused says that this horse cannot be examined there, and that the reason is the one that holds.
	Excused bool `json:"excused"`
	// Holds is the reason that holds where another one was given; empty where the place could be examined.
	Holds exam.Reason `json:"reason_that_holds,omitempty"`
}

// TimeMark is how long the answers at one step took, all its sites together.
type TimeMark struct {
	Place
	Seconds float64 `json:"seconds"`
}

// CountMark sets a count beside the beats or breaths that were there, in beats or breaths a minute.
type CountMark struct {
	Place
	Method        exam.CountMethod `json:"method"`
	PerMin        float64          `json:"rate_per_min"`
	TruePerMin    float64          `json:"true_per_min"`
	ErrorPerMin   float64          `json:"error_per_min"` // counted minus true
	AllowedPerMin float64          `json:"allowed_per_min"`
	Right         bool             `json:"right"`
	Basis         string           `json:"basis"` // which stretch the true rate is of
	// Short says why the count was too short to be right, however near it came; empty where it was long enough.
	Short string `json:"too_short,omitempty"`
	// BiasS is how late the taps came on the whole and SigmaS how much they scatter; null with fewer than ten pairs.
	BiasS  *float64 `json:"tap_bias_s"`
	SigmaS *float64 `json:"tap_scatter_s"`
	Pairs  int      `json:"tap_pairs"`
}

// FindingMark sets one answer beside the truth.
type FindingMark struct {
	Place
	Answer string     `json:"answer"` // empty where there is none
	Truth  string     `json:"truth"`
	Level  exam.Level `json:"level"` // of the truth
	Right  bool       `json:"right"`
	// Outcome says more than Right: what was found in part or measured wrong is not what was missed.
	Outcome Outcome `json:"outcome"`
	Why     string  `json:"why,omitempty"` // what is wrong, or why it still counts as right
	// TooSoon says that the answer was not earned: the sense had less time than it takes. It is then not examined.
	TooSoon string `json:"too_soon,omitempty"`
	// SensedS is for how long the place was looked at, listened to or felt, Need how long it takes; null for counts.
	SensedS *float64 `json:"sensed_s"`
	Need    *Need    `json:"needs"`
}

// ContextMark sets what was written of the last half hour beside what the keeper said.
type ContextMark struct {
	Answer []exam.State `json:"answer"`
	Truth  []exam.State `json:"truth"`
	Right  bool         `json:"right"`
}

// RemarkMark is a remark at the level recheck or above that stands on one side only.
type RemarkMark struct {
	Place
	Level  exam.Level `json:"level"`
	Value  string     `json:"value"`
	Why    string     `json:"why"`
	Source string     `json:"source"`
	Of     []Place    `json:"of,omitempty"` // of a combination: the findings that make it
}

// TellMark is something that had to be told to the veterinarian.
type TellMark struct {
	Place
	Truth string `json:"truth"`
	// Outcome is that of the finding. What was found in part, or measured wrong at the right level, is found.
	Outcome Outcome `json:"outcome"`
	Found   bool    `json:"found"`
	Told    bool    `json:"told"` // found, and handed off after that
}

// SafetyMark is a choice at a moment of danger.
type SafetyMark struct {
	Moment  string `json:"moment"`
	Place   Place  `json:"place"`
	Happens string `json:"happens"`
	Chose   string `json:"chose"`
	Safe    bool   `json:"safe"`
	Better  string `json:"better,omitempty"` // what would have been safe
	Why     string `json:"why"`
	Source  string `json:"source"`
}

// HandOffMark says whether the hand-off was made and holds what it must.
type HandOffMark struct {
	Needed   bool     `json:"needed"`
	Done     bool     `json:"done"`
	Complete bool     `json:"complete"`
	Lacks    []string `json:"lacks"`
	unnamed  bool     // it does not say who was told
}

// Taught is a teaching point of the case with its source in full.
type Taught struct {
	TeachingPoint
	Cited string `json:"cited"`
}
