package due

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Status says how a dose or a recheck stands on a day.
type Status string

// The statuses, the most pressing first.
const (
	Overdue  Status = "overdue"
	Due      Status = "due"
	Next     Status = "next"
	NotKnown Status = "not known" // no day can be computed
)

// LeadDays is how long before its day something is called due; our own.
const LeadDays = 30

// Overrides stands under every list.
const Overrides = "A guideline, not a plan: the veterinarian's plan and the label of the product override it."

// DiseaseDue is what is due against one disease.
type DiseaseDue struct {
	Disease string
	Name    string
	Status  Status
	// From and By bound the days in which it is due; zero where NotKnown.
	From, By time.Time
	// Given of Of doses of the first series count; Of is 0 where the series is
	// whole and only repeats follow.
	Given, Of  int
	Incomplete bool
	Last       *GivenDose
	Why        []string // sentences
	Row        ScheduleRow
}

// List is everything that is due for one horse on a day.
type List struct {
	Horse     exam.Horse
	At        time.Time
	Part      Part         // of the schedule that holds for the horse
	Items     []DiseaseDue // the most pressing first
	Rechecks  []Recheck
	Questions []string // for the veterinarian
	Notes     []string // what is not known, and what it changes
}

// Worst is the most pressing status of the list.
func (l List) Worst() Status {
	worst := NotKnown
	for _, i := range l.Items {
		if rank(i.Status) < rank(worst) {
			worst = i.Status
		}
	}
	for _, r := range l.Rechecks {
		if rank(r.Status) < rank(worst) {
			worst = r.Status
		}
	}
	return worst
}

func rank(s Status) int {
	return slices.Index([]Status{Overdue, Due, Next, NotKnown}, s)
}

// For lists what is due for a horse. Visits are all of its visits, in any order.
func (t *Table) For(h exam.Horse, visits []exam.Visit, now time.Time) List {
	s := look(h, now)
	l := List{Horse: h, At: now, Part: s.part()}
	for _, disease := range t.diseases {
		if item, ok := t.item(s, disease, Doses(visits, disease)); ok {
			l.Items = append(l.Items, item)
		}
	}
	slices.SortStableFunc(l.Items, func(a, b DiseaseDue) int {
		if a.Status != b.Status {
			return rank(a.Status) - rank(b.Status)
		}
		return a.By.Compare(b.By)
	})
	l.Rechecks = Rechecks(visits, now)
	l.Questions = questions(visits, now)
	l.Notes = s.notes
	return l
}

// item is what is due against a disease; false where the horse's part of the
// schedule has nothing, or where it is followed only once a dose is known.
func (t *Table) item(s *subject, disease string, doses []GivenDose) (DiseaseDue, bool) {
	row, stand, ok := t.choose(s, disease, doses)
	if !ok && len(doses) > 0 {
		return DiseaseDue{
			Disease: disease, Name: t.Name(disease), Status: NotKnown, Last: &doses[len(doses)-1],
			Why: []string{"a dose is recorded, but the schedule has no row for this horse: ask the veterinarian"},
		}, true
	}
	if !ok || row.Class == Off || row.Class == Risk && len(doses) == 0 {
		return DiseaseDue{}, false
	}
	i := DiseaseDue{Disease: disease, Name: t.Name(disease), Row: row, Last: stand.last, Why: stand.says}
	i.Given = min(len(stand.counted), row.Doses)
	if len(doses) > 0 && i.Last == nil {
		i.Last = &doses[len(doses)-1]
	}
	if stand.done() {
		s.repeat(&i)
	} else {
		s.series(&i, doses)
	}
	i.said(doses)
	i.judge(s.today)
	return i, true
}

// series says when the next dose of the first series is due.
func (s *subject) series(i *DiseaseDue, doses []GivenDose) {
	again := i.Row.Again.Base == Pregnancy
	i.Of, i.Incomplete = i.Row.Doses, i.Given > 0 || len(doses) > 0 && !again
	n := i.Given + 1
	w := i.Row.Step(n)
	if w.Base == Never {
		w = When{Base: Now} // a repeat row without a dose in the record
	}
	var before *GivenDose
	if i.Given > 0 {
		before = i.Last
	}
	span := s.stepWindow(i.Row, n, before)
	if w.Base == Now {
		span = s.window(w, nil)
	}
	i.From, i.By = span.from, span.by
	switch {
	case len(doses) == 0:
		i.Why = append(i.Why, fmt.Sprintf("No dose recorded; check the passport. First dose due %s", w))
	case again:
		i.Why = append(i.Why, fmt.Sprintf("%d of %d given in this pregnancy; dose %d %s", i.Given, i.Of, n, w))
	default:
		i.Why = append(i.Why, fmt.Sprintf("series incomplete: %d of %s given; dose %d %s", i.Given, ofDoses(i.Row), n, w))
	}
	if !span.known {
		i.From, i.By = time.Time{}, time.Time{}
	}
}

func ofDoses(r ScheduleRow) string {
	if r.DosesMost > r.Doses {
		return fmt.Sprintf("%d to %d (the label says which)", r.Doses, r.DosesMost)
	}
	return fmt.Sprint(r.Doses)
}

// repeat says when the dose after a whole series is due: by the interval from the
// last one, or in its window before foaling, whichever ends earlier.
func (s *subject) repeat(i *DiseaseDue) {
	again := i.Row.Again
	span := s.window(again, i.Last)
	if again.Base == Every {
		i.Why = append(i.Why, fmt.Sprintf("last dose %s, %s", i.Last.Day(), again))
	} else if text := again.String(); text != "" {
		i.Why = append(i.Why, text)
	}
	first := i.Row.First
	if first.Base == Foaling && s.knowFoaling {
		before := s.window(first, nil)
		switch {
		case !i.Last.On.Before(before.from):
			i.Why = append(i.Why, "the dose before this foaling is given")
		case !span.known || before.by.Before(span.by):
			i.Why = append(i.Why, first.String())
			span = before
		default:
			i.Why = append(i.Why, fmt.Sprintf("the window before foaling is %s: ask the veterinarian whether to wait",
				notation.ShownSpan(before.from, before.by)))
		}
	}
	if span.known {
		i.From, i.By = span.from, span.by
	}
}

// said lets a day that the veterinarian or the label named for the last dose
// override the schedule.
func (i *DiseaseDue) said(doses []GivenDose) {
	if len(doses) == 0 {
		return
	}
	last := doses[len(doses)-1]
	t, err := time.Parse(notation.DayForm, last.NextDue)
	if err != nil {
		return
	}
	i.Why = append(i.Why, fmt.Sprintf("the dose of %s says next due %s; this overrides the schedule", last.Day(), notation.Shown(last.NextDue)))
	i.From, i.By = t, t
}

// judge sets the status by the days.
func (i *DiseaseDue) judge(today time.Time) {
	if i.By.IsZero() {
		i.Status = NotKnown
		return
	}
	opens := i.From
	if i.Of == 0 && !i.From.Before(i.By) { // within a series nothing is due before its time
		opens = i.By.AddDate(0, 0, -LeadDays)
	}
	switch {
	case today.After(i.By):
		i.Status = Overdue
		i.Why = append(i.Why, "overdue by "+days(i.By, today))
		if i.Of == 0 && today.After(addMonths(i.By, 12)) {
			i.Why = append(i.Why, "over a year late: ask the veterinarian whether the series begins again")
		}
	case !today.Before(opens):
		i.Status = Due
	default:
		i.Status = Next
	}
	if i.Last != nil && !i.Last.Exact() {
		i.Why = append(i.Why, "the exact day of the last dose is not known: the earliest possible day is used")
	}
}
