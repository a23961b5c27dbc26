package exam

import (
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// System is the body system a step belongs to; it heads the blocks of the
// review, the report and the blank sheet.
type System string

// The systems, in the order in which a record shows them.
const (
	SystemGeneral   System = "general"
	SystemHeart     System = "heart and circulation"
	SystemBreathing System = "breathing"
	SystemGut       System = "gut"
	SystemSkin      System = "skin"
	SystemHead      System = "head and neck"
	SystemLimbs     System = "limbs and feet"
	SystemRear      System = "manure, urine, udder"
	SystemPain      System = "pain"
	SystemFoal      System = "foal"
)

// Systems lists every system in record order.
func Systems() []System {
	return []System{
		SystemGeneral, SystemHeart, SystemBreathing, SystemGut, SystemSkin,
		SystemHead, SystemLimbs, SystemRear, SystemPain, SystemFoal,
	}
}

// Level is how far a finding stands from usual; the order is meant.
type Level = ranges.Level

// Evidence says how well a limit is supported.
type Evidence = ranges.Evidence

// Asked says which horses a step is asked of.
type Asked string

// Whom a step is asked of.
const (
	AskedOfAll   Asked = ""
	AskedOfFoals Asked = "foals" // under six months
	// AskedOfNewborns is asked of horse foals on their first day; no published
	// milestones of donkey and mule foals are held.
	AskedOfNewborns Asked = "newborn foals"
	// AskedInFirstWeek is asked of horse foals up to seven days, whoever saw the
	// birth: whether it nursed, its first manure and urine, the mare's afterbirth.
	AskedInFirstWeek Asked = "foals in their first week"
	// AskedOfGrown is asked of horses, ponies, drafts and miniatures from two
	// years; not of donkeys and mules.
	AskedOfGrown Asked = "grown horses"
)

// AskedOf says whether the step is asked of animals of a class.
func (s Step) AskedOf(c Class) bool {
	switch s.Asked {
	case AskedOfFoals:
		return c.Young
	case AskedOfNewborns:
		return c.Newborn()
	case AskedInFirstWeek:
		return c.FirstWeek()
	case AskedOfGrown:
		return c.GrownHorse()
	case AskedOfAll:
	}
	return true
}

// Span is a closed interval in a step's unit.
type Span struct{ Low, High float64 }

// Contains says whether v lies in the span, ends included.
func (s Span) Contains(v float64) bool { return v >= s.Low && v <= s.High }

// Step is one question of the exam, described once. Screen, plain prompt,
// review, comparison, report, export and blank sheet all read this literal.
type Step struct {
	ID     StepID
	Name   string // as a heading, at most 30 columns
	Short  string // in the order at the left, at most 18 columns
	Plain  string // the name in an owner's words, where Name is the trade's; else empty
	System System
	Sites  []Site // empty for a step without sides
	// OneForAll allows the single site "overall" instead of the sites.
	OneForAll bool
	Kind      StepKind

	Unit     notation.Unit   // in which it is judged and compared
	Units    []notation.Unit // accepted when typed; the first is taken where none is
	Decimals int             // shown at most
	// Possible bounds what is taken at all, Likely what is taken without a
	// question; both in Unit.
	Possible, Likely Span

	Choices []Choice
	// Others are choices of another sex, left out by For: shown where they are stored and read by their whole words, never
	// offered.
	Others []Choice
	// Usual lists the keys that the one-key answer "usual" stands for; empty
	// where usual is no defined answer.
	Usual []string
	// Alone lists keys of a marks step that exclude every other mark.
	Alone []string
	// Parts are what the score is made of, where it can be scored part by part.
	Parts Parts

	How []string // two or three lines of at most 72 columns
	// Presses says of a time when space is pressed, behind "space": "when you release the gum, again when it is pink".
	Presses string
	// Caution is one line of at most 72 columns; it is empty only where FromOutside says that nobody goes near the horse.
	Caution     string
	FromOutside bool
	Sense       Sense          // by which it is answered
	Listen      Listen         // what goes on meanwhile
	Shows       Shows          // what a simulated horse shows of it
	Range       ranges.Measure // key into the range tables; empty where it has none
	Asked       Asked
	// SlowSeconds is the least running time of a slow instrument, for a timer
	// on the screen; 0 where there is none.
	SlowSeconds int
	// InHands says that it may be read and typed in hands.
	InHands bool
	// Heard marks a count as made of breaths or of beats: "heart" or "breath".
	Heard string
}

// LooksUsual says that the step is answered by looking alone and has an answer that is usual, so that one key for a whole
// area may give it. Whatever is heard, felt or measured has its own key.
func (s Step) LooksUsual() bool {
	return s.Sense == ByEye && len(s.Usual) > 0 && !s.Kind.Measured() && s.Range == ""
}

// Prefer is the unit in which a person reads and types the step, its own where nothing is set; Hands for a height that is
// read in hands.
func (s Step) Prefer(units notation.Units) notation.Unit {
	unit, set := units[s.Unit]
	switch {
	case s.InHands && units[notation.Inch] == notation.Hands:
		return notation.Hands
	case set:
		return unit
	}
	return s.Unit
}

// HasSite says whether the step may be answered at the site.
func (s Step) HasSite(site Site) bool {
	if len(s.Sites) == 0 {
		return site == NoSite
	}
	if site == Overall {
		return s.OneForAll
	}
	for _, own := range s.Sites {
		if own == site {
			return true
		}
	}
	return false
}

// Steps is the whole table of steps, in record order, with a look-up by identity.
type Steps struct {
	list []Step
	byID map[StepID]int
}

// NewSteps makes a table of the given steps.
func NewSteps(list []Step) *Steps {
	t := &Steps{list: list, byID: make(map[StepID]int, len(list))}
	for i, s := range list {
		t.byID[s.ID] = i
	}
	return t
}

// All returns the steps in record order; the slice is not to be changed.
func (t *Steps) All() []Step { return t.list }

// ByID returns the step with the given identity.
func (t *Steps) ByID(id StepID) (Step, bool) {
	i, ok := t.byID[id]
	if !ok {
		return Step{}, false
	}
	return t.list[i], true
}
