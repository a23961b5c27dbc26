package ranges

import "slices"

// Evidence says how sure a limit is.
type Evidence string

// The evidence words, the four tiers strongest first; PracticeOwn is not in that order.
const (
	Published      Evidence = "published"
	PracticePage   Evidence = "practice page"
	CommonPractice Evidence = "common practice"
	FromMemory     Evidence = "from memory"
	PracticeOwn    Evidence = "practice's own"
)

// Tiers lists the four tiers, the strongest first.
func Tiers() []Evidence { return []Evidence{Published, PracticePage, CommonPractice, FromMemory} }

// Weaker is the weaker of two evidence words; the other one where one is empty.
func Weaker(a, b Evidence) Evidence {
	if b == "" || a != "" && b.Carries(a) {
		return a
	}
	return b
}

// Carries reports whether a source of this tier allows the evidence word: the same tier, or a weaker one.
func (e Evidence) Carries(word Evidence) bool {
	own, asked := slices.Index(Tiers(), e), slices.Index(Tiers(), word)
	return own >= 0 && asked >= own
}

// RowOrigin says whose row it is.
type RowOrigin string

// The origins of rows.
const (
	OriginBuiltIn  RowOrigin = "built in"
	OriginPractice RowOrigin = "practice's own"
)

// Source is a work or page that a limit was read in. Tier is the strongest evidence word that it can carry: published for
// a paper, textbook, university, professional body or a specialist named with degree and place; practice page for a
// practice, charity, company or vet-written press; PracticeOwn for what a practice's own file names.
type Source struct {
	Code, Text string
	Tier       Evidence
}

// Side names the edge of a Limit that a value crossed; empty when none was.
const (
	SideLow  = "low"
	SideHigh = "high"
)

// Limit is a pair of edges in the row's unit, either of which may be absent (nil). Treat it as read-only: rows share
// their edges.
type Limit struct {
	Low, High *float64
	// Source and Evidence speak of both edges, unless LowSource and LowEvidence are filled: then they speak of High.
	Source      string
	Evidence    Evidence
	LowSource   string
	LowEvidence Evidence
}

// Empty reports whether the limit has no edge.
func (l Limit) Empty() bool { return l.Low == nil && l.High == nil }

// Edge is the number on one side, SideLow or SideHigh; false when that side is absent.
func (l Limit) Edge(side string) (float64, bool) {
	switch {
	case side == SideLow && l.Low != nil:
		return *l.Low, true
	case side == SideHigh && l.High != nil:
		return *l.High, true
	}
	return 0, false
}

// On is the limit as seen from one side: the same edges, with that side's source and evidence in Source and Evidence.
func (l Limit) On(side string) Limit {
	if side == SideLow && l.LowSource != "" {
		l.Source = l.LowSource
	}
	if side == SideLow && l.LowEvidence != "" {
		l.Evidence = l.LowEvidence
	}
	l.LowSource, l.LowEvidence = "", ""
	return l
}

// Row is the range and the limits of one measure, class and unit, in that unit.
type Row struct {
	Measure Measure
	Class   Class
	Unit    Unit
	Usual   Limit // inclusive at both ends; empty only in a built-in row whose class no source gives a usual range
	Recheck Limit // crossed below Low, and at or above High
	Tell    Limit // crossed below Low, and at or above High
	Words   string
	From    Class // the class whose row is lent to this one; empty where the row is its own
	Origin  RowOrigin
	File    string // file the row was read from
	Line    int    // its line there, counted from 1
}

// limits are the row's limits in the order of the columns.
func (r *Row) limits() [3]*Limit { return [3]*Limit{&r.Usual, &r.Recheck, &r.Tell} }
