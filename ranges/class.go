package ranges

// Class names a group of animals whose ranges belong together, in words that a
// person reads.
type Class string

// The classes.
const (
	AdultLight      Class = "adult light horse"
	Draft           Class = "draft horse"
	Pony            Class = "pony"
	Miniature       Class = "miniature horse"
	DonkeyAdult     Class = "donkey, adult"
	DonkeyYoung     Class = "donkey, under 2 years"
	DonkeyNewborn   Class = "donkey, newborn"
	Mule            Class = "mule"
	MuleFoal        Class = "mule foal"
	FoalFirstHour   Class = "foal, first hour"
	FoalFirstDay    Class = "foal, 1 to 24 hours"
	FoalFirstWeek   Class = "foal, 1 to 7 days"
	FoalFirstMonth  Class = "foal, 1 to 4 weeks"
	FoalToSixMonths Class = "foal, 1 to 6 months"
	Weanling        Class = "weanling, 6 to 12 months"
	FoalAgeUnknown  Class = "foal, age not known"
	Yearling        Class = "yearling"
	TwoThree        Class = "two to three years"
)

// Measure is a step's key into the tables.
type Measure string

// Evidence says how well a limit is supported.
type Evidence string

// The evidence words.
const (
	Published      Evidence = "published"       // read in a named source
	CommonPractice Evidence = "common practice" // a habit of the trade
	FromMemory     Evidence = "from memory"     // to be confirmed
	PracticeOwn    Evidence = "practice's own"  // set by the practice's own file
)

// Level is how far a finding stands from usual; the order is meant.
type Level int

// The four levels.
const (
	Usual Level = iota
	Note
	Recheck
	TellVet
)

// Levels lists the four in order.
func Levels() []Level { return []Level{Usual, Note, Recheck, TellVet} }

// String is the level's word.
func (l Level) String() string {
	switch l {
	case Usual:
		return "usual"
	case Note:
		return "note"
	case Recheck:
		return "recheck"
	case TellVet:
		return "tell the vet"
	}
	return "unknown level"
}

// MarshalText writes the level's word, so that JSON holds words and not numbers.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }
