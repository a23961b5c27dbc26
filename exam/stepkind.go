package exam

// StepID is a step's identity: stable for ever, never used again for another
// step. The list is in the contract of commands and JSON.
type StepID string

// StepKind says how a step is answered. Every kind has one widget and one plain prompt.
type StepKind string

// The kinds of step.
const (
	KindCount  StepKind = "count"  // beats or breaths a minute, tapped or counted by ear
	KindNumber StepKind = "number" // a typed number with its unit
	KindTime   StepKind = "time"   // seconds between two presses
	KindPick   StepKind = "pick"   // one of a list
	KindMarks  StepKind = "marks"  // several of a list
	KindScale  StepKind = "scale"  // an ordered score with anchors
	KindWeight StepKind = "weight" // body weight by scale, tape, measures or eye
	KindEvent  StepKind = "event"  // something that happens once: when it was seen, or not yet
	KindNote   StepKind = "note"   // free text
)

// StepKinds lists every kind, in the order of the design.
func StepKinds() []StepKind {
	return []StepKind{KindCount, KindNumber, KindTime, KindPick, KindMarks, KindScale, KindWeight, KindEvent, KindNote}
}

// Measured says that a step of the kind is answered with a number and not with words.
func (k StepKind) Measured() bool {
	switch k {
	case KindCount, KindNumber, KindTime, KindWeight:
		return true
	case KindPick, KindMarks, KindScale, KindEvent, KindNote:
	}
	return false
}

// Site is where on the horse a step is done; empty for a step without sides.
type Site string

// The sites.
const (
	NoSite     Site = ""
	Left       Site = "left"
	Right      Site = "right"
	LeftUpper  Site = "left upper"
	LeftLower  Site = "left lower"
	RightUpper Site = "right upper"
	RightLower Site = "right lower"
	LeftFore   Site = "left fore"
	RightFore  Site = "right fore"
	LeftHind   Site = "left hind"
	RightHind  Site = "right hind"
	Overall    Site = "overall" // one answer for all sites of a step that allows it
)
