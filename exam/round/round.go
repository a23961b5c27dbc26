package round

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

// DaysBack is for how long what was picked and not seen is carried on, and a turn
// that somebody decided holds; our own.
const DaysBack = 14

// Status says how a horse of the round stands.
type Status string

// The statuses.
const (
	Waiting Status = "waiting"
	Begun   Status = "begun"       // its exam is open
	Done    Status = "done"        // its exam of the day is closed, or it was seen without one
	Handed  Status = "handed over" // to another person or to another day
	LeftOut Status = "left out"    // somebody took it off this day's round
)

// Call is one horse of a round.
type Call struct {
	Horse   exam.Horse
	Group   Group
	Why     string // of its place in the order, a sentence
	Reasons []Reason
	Hour    time.Time // of its first recheck that has one and is not met; zero for none
	Told    *ForVet   // of its last visit; nil where it holds nothing for the veterinarian
	State   Status
	At      time.Time    // when that state began; zero for waiting
	Note    string       // what was said of that state, and by whom
	Visit   exam.VisitID // the visit of that state, or the open one; empty for none
	// Elsewhere says that the open visit is on another laptop, and Note who has it there.
	Elsewhere bool
}

// Round is the horses of one day in the order to see them.
type Round struct {
	Day   string
	At    time.Time // the moment at which ages and dates were reckoned
	Calls []Call
}

// Yard is one horse with all its visits, in any order.
type Yard struct {
	Horse  exam.Horse
	Visits []exam.Visit
}

// From is the first day whose lines a round needs.
func From(day string) string {
	at, err := time.Parse(notation.DayForm, day)
	if err != nil {
		return day
	}
	return at.AddDate(0, 0, -DaysBack).Format(notation.DayForm)
}

// Moment is when a day's round is reckoned at: now for today, noon for another day.
func Moment(day string, now time.Time) time.Time {
	at, err := time.ParseInLocation(notation.DayForm, day, now.Location())
	if err != nil || day == dayOf(now) {
		return now
	}
	return at.Add(12 * time.Hour)
}

func dayOf(t time.Time) string { return t.Format(notation.DayForm) }

// Plan makes the round of a day. At is the moment of Moment; lines are those of
// From(day) to the day, in the order of the store; the schedule says which doses
// are due, the judge which horses the veterinarian is told of.
func Plan(day string, at time.Time, yard []Yard, lines []exam.RoundLine, schedule *due.Table, j *judge.Judge) Round {
	m := newMaker(day, at, lines, schedule, j)
	r := Round{Day: day, At: at, Calls: []Call{}}
	for _, y := range yard {
		if c, ok := m.call(y); ok {
			r.Calls = append(r.Calls, c)
		}
	}
	slices.SortFunc(r.Calls, before)
	return r
}

// maker makes the calls of a day, one horse at a time.
type maker struct {
	day      string
	at       time.Time
	said     map[exam.HorseID][]exam.RoundLine
	schedule *due.Table
	judge    *judge.Judge
}

func newMaker(day string, at time.Time, lines []exam.RoundLine, schedule *due.Table, j *judge.Judge) *maker {
	m := &maker{day, at, map[exam.HorseID][]exam.RoundLine{}, schedule, j}
	for _, l := range lines {
		m.said[l.Horse] = append(m.said[l.Horse], l)
	}
	return m
}

// call is the horse's line of the round; false where nothing puts it there.
func (m *maker) call(y Yard) (Call, bool) {
	y.Visits = exam.ByClock(m.at, y.Visits)
	p := &plan{day: m.day, at: m.at, Yard: y, said: readDecision(m.day, m.said[y.Horse.ID], y.Visits), schedule: m.schedule, judge: m.judge}
	return p.call()
}

// before is the order of a round: by group, then horses that the veterinarian is told of by danger signs, then what has
// an hour, then place by place, so that nobody walks to and fro, then by name. What is done keeps its place.
func before(a, b Call) int {
	return cmp.Or(
		cmp.Compare(a.Group, b.Group),
		byTold(a.Told, b.Told),
		byHour(a.Hour, b.Hour),
		byText(a.Horse.Place, b.Horse.Place),
		byText(a.Horse.Name, b.Horse.Name),
		cmp.Compare(a.Horse.ID, b.Horse.ID),
	)
}

// byHour puts a horse with an hour before those without.
func byHour(a, b time.Time) int {
	if a.IsZero() != b.IsZero() {
		if a.IsZero() {
			return 1
		}
		return -1
	}
	return a.Compare(b)
}

// byText puts what is not written down last.
func byText(a, b string) int {
	if (a == "") != (b == "") {
		return len(b) - len(a)
	}
	return strings.Compare(strings.ToLower(a), strings.ToLower(b))
}

// Counts are how many horses of a round are in each state. Total leaves out those
// that are left out or carried over to another day.
type Counts struct {
	Total   int `json:"total"`
	Done    int `json:"done"`
	Begun   int `json:"begun"`
	Waiting int `json:"waiting"`
	Handed  int `json:"handed_over"`
	LeftOut int `json:"left_out"`
}

// Count counts the horses of a round by state.
func (r Round) Count() Counts {
	var n Counts
	for _, c := range r.Calls {
		switch c.State {
		case Done:
			n.Done++
		case Begun:
			n.Begun++
		case Waiting:
			n.Waiting++
		case Handed:
			n.Handed++
		case LeftOut:
			n.LeftOut++
		}
	}
	n.Total = n.Done + n.Begun + n.Waiting
	return n
}

// Left lists the horses still to be seen, in order: begun or waiting.
func (r Round) Left() []Call {
	var out []Call
	for _, c := range r.Calls {
		if c.State == Waiting || c.State == Begun {
			out = append(out, c)
		}
	}
	return out
}
