package rehearse

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"time"

	"loosebox/exam"
)

// Case is a simulated horse's hidden truth as its file gives it. What it does not say is drawn as usual for the class.
type Case struct {
	Name    string // in commands: lower case, words joined by a hyphen
	Title   string
	About   string // one line, shown before; gives nothing away
	Reason  string // why the horse is seen, as the keeper tells it
	Routine string // the routine it is made for
	Horse   exam.Horse
	Age     Age
	States  []exam.State
	Temper  Temper
	Given   map[exam.Key]CaseAnswer
	Seen    map[exam.Key]string // the teacher's own words for what the hand, eye or ear gets
	// PauseEvery is after how many places a beat is dropped; 0 draws it. MurmurIn says when in the beat a murmur is heard.
	PauseEvery int
	MurmurIn   MurmurTime
	// Milestones of a newborn that are not as usual, from the birth, by the names of the score package.
	Milestones map[string]time.Duration
	// Excused are the places that cannot be examined on this horse, each with the reason that holds (of exam.Reasons).
	Excused  map[exam.Key]exam.Reason
	Find     []exam.Key // what must be found
	Tell     []exam.Key // what must be told to the veterinarian
	Teaching []TeachingPoint
	// Variants are several truths of the case, one of which is drawn by seed; none where it has one truth.
	Variants []Variant
	Text     string // of the file, so that a rehearsal can keep it
	Digest   string // of the file
}

// TeachingPoint is one teaching point; Source is a code of the range tables.
type TeachingPoint struct {
	Text   string `json:"text"`
	Source string `json:"source"`
}

// CaseAnswer is an answer that a case gives: one value, or a span to draw from, in the step's unit.
type CaseAnswer struct {
	Value     exam.Value
	Spread    bool
	Low, High float64
}

// Temper is how the horse bears being handled. How often it moves is assumed.
type Temper string

// The tempers.
const (
	Calm     Temper = "calm"
	Stoic    Temper = "stoic"
	Restless Temper = "restless"
	Nervous  Temper = "nervous"
)

// Tempers lists every temper.
func Tempers() []Temper { return []Temper{Calm, Stoic, Restless, Nervous} }

// movesS are the least and the most seconds from one movement to the next.
func (t Temper) movesS() (low, high float64) {
	switch t {
	case Stoic:
		return 240, 480
	case Restless:
		return 45, 120
	case Nervous:
		return 60, 150
	case Calm:
	}
	return 120, 300
}

// odds is the chance that a moment of danger comes up where it can.
func (t Temper) odds() float64 {
	if t == Restless || t == Nervous {
		return 0.9
	}
	return 0.6
}

// MurmurTime says when between the heart sounds a murmur is heard. All three lie in systole: REEF, table 1.
type MurmurTime string

// The times.
const (
	MurmurEarly MurmurTime = "early"
	MurmurLate  MurmurTime = "late"
	MurmurWhole MurmurTime = "throughout"
)

// MurmurTimes lists every time.
func MurmurTimes() []MurmurTime { return []MurmurTime{MurmurEarly, MurmurLate, MurmurWhole} }

// Age is an age or a span of ages to draw from, in one unit.
type Age struct {
	Low, High int
	Unit      string // hours, days, months, years
}

// readAge reads "9 years", "20 hours", "4 to 18 years".
func readAge(text string) (Age, error) {
	m := regexp.MustCompile(`^(\d{1,3})(?: to (\d{1,3}))? (hours?|days?|months?|years?)$`).FindStringSubmatch(text)
	if m == nil {
		return Age{}, fmt.Errorf("an age is written like 9 years, 20 hours or 4 to 18 years")
	}
	a := Age{Unit: m[3]}
	if a.Unit[len(a.Unit)-1] != 's' {
		a.Unit += "s"
	}
	a.Low, _ = strconv.Atoi(m[1])
	a.High = a.Low
	if m[2] != "" {
		a.High, _ = strconv.Atoi(m[2])
	}
	if a.High < a.Low || (a.Unit == "years" && a.High > 50) {
		return Age{}, fmt.Errorf("an age runs from the younger to the older, and to 50 years at most")
	}
	return a, nil
}

// birth is the day or minute of birth of an animal of this age.
func (a Age) birth(r *rand.Rand, at time.Time) exam.Birth {
	n := a.Low + r.IntN(a.High-a.Low+1)
	b := exam.Birth{Precision: exam.BornDay, Basis: "papers"}
	day := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
	switch a.Unit {
	case "hours":
		b.At, b.Precision, b.Basis = at.Add(-time.Duration(n)*time.Hour).Truncate(time.Minute), exam.BornMinute, "seen"
	case "days":
		b.At = day.AddDate(0, 0, -n)
	case "months":
		b.At = day.AddDate(0, -n, -r.IntN(28))
	default:
		b.At = day.AddDate(-n, -r.IntN(6), -r.IntN(28))
	}
	return b
}
