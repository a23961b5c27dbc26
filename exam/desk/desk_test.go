package desk_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func now() time.Time { return time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC) }

// open is a desk with one horse, whose visit is open.
func open(t *testing.T) (desk.Desk, *examtest.Store, exam.VisitID) {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	store, all := examtest.NewStore(), steps.Table()
	d := desk.Desk{Store: store, Steps: all, Routines: steps.Routines(), Judge: judge.New(table, all)}
	born := exam.Birth{At: time.Date(2018, 4, 1, 0, 0, 0, 0, time.UTC)}
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Thistle", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born}, "Ann Bell", now())
	require.NoError(t, err)
	opened, err := d.Begin(exam.Opening{Horse: h, Routine: steps.Default}, exam.Context{}, "Ann Bell", now())
	require.NoError(t, err)
	return d, store, opened.Visit.ID
}

func vaccine() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, Dose: "1 dose"}
}

// order is an injection that the decision covers, ready to go in.
func order(id exam.VisitID) exam.Entry {
	return exam.Entry{Visit: id, Kind: exam.EntryInjection, At: now(), By: "Ann Bell", Injection: &exam.InjectionLine{
		Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{
			Product: "Vaccine A", Lot: "A1", Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM, Expiry: notation.Expiry{Last: "2027-02-28"},
		},
	}}
}

// fever is a finding that is for the veterinarian.
func fever(id exam.VisitID) exam.Entry {
	return exam.Entry{Visit: id, Kind: exam.EntryFinding, At: now(), By: "Ann Bell", Step: "temp.rectal", Value: &exam.Value{
		Kind: exam.KindNumber, Number: &notation.Quantity{Value: 40.2, Unit: notation.Celsius},
	}}
}

func decision() *exam.Decision {
	return &exam.Decision{Words: "give it", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{vaccine()}}
}

func entry(id exam.VisitID) exam.Entry {
	return exam.Entry{Visit: id, Kind: exam.EntryDecision, At: now(), By: "Ann Bell", Decision: decision()}
}

// The gate is asked on the visit as the store has it, with the judge's remarks.
func TestWriteAsksTheGate(t *testing.T) {
	deps, _, id := open(t)
	bad := entry(id)
	bad.Decision.Covers = nil
	var refusal *notation.Refusal
	_, err := deps.Write(bad)
	require.ErrorAs(t, err, &refusal)
	_, err = deps.Write(order(id))
	require.ErrorIs(t, err, exam.ErrRefused)
	_, err = deps.Write(entry(id))
	require.NoError(t, err)
	_, err = deps.Write(fever(id))
	require.NoError(t, err)
	_, err = deps.Write(order(id))
	require.ErrorIs(t, err, exam.ErrRefused, "a store knows no ranges; this does")
	assert.Contains(t, err.Error(), "40.2 C")
	_, err = deps.Write(entry(id))
	require.NoError(t, err)
	_, err = deps.Write(order(id))
	require.NoError(t, err)
}

// between writes something just before an entry, as another window or laptop would after this one has read the visit.
type between struct {
	exam.Store
	first func()
}

func (b between) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	b.first()
	return b.Store.Append(e, checks...)
}

// What came in after the visit was read is seen by the check, which is asked where the entry is written.
func TestTheCheckIsPartOfTheWrite(t *testing.T) {
	d, store, id := open(t)
	_, err := d.Write(entry(id))
	require.NoError(t, err)
	late := d
	late.Store = between{store, func() {
		_, err := store.Append(fever(id))
		require.NoError(t, err)
	}}
	_, err = late.Write(order(id))
	require.ErrorIs(t, err, exam.ErrRefused)
	require.ErrorContains(t, err, "40.2 C")

	closing := exam.Entry{Visit: id, Kind: exam.EntryClosed, At: now(), By: "Ann Bell"}
	var refusal *notation.Refusal
	_, err = late.Write(closing)
	require.ErrorAs(t, err, &refusal, "a fever that nobody was told of")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.False(t, v.Closed())
	assert.Empty(t, v.Injections)
}

// Closing writes what is left as not done; where it is refused nothing is written.
func TestClose(t *testing.T) {
	d, store, id := open(t)
	j, err := d.Read(id)
	require.NoError(t, err)
	require.NotEmpty(t, j.Left)
	_, err = d.Write(fever(id))
	require.NoError(t, err)
	end := desk.Ending{Left: j.Left[1:], Reason: "not safe", Words: "kicked out", First: []exam.Entry{{Kind: exam.EntryNote, Note: "first"}}}
	before, err := store.Entries(id)
	require.NoError(t, err)
	_, err = d.Close(id, end, "Ann Bell", now)
	require.Error(t, err)
	after, err := store.Entries(id)
	require.NoError(t, err)
	require.Equal(t, before, after, "nothing is saved")

	end.Without = "the line was dead"
	stored, err := d.Close(id, end, "Ann Bell", now)
	require.NoError(t, err)
	require.Len(t, stored, len(end.Left)+2)
	assert.Equal(t, "first", stored[0].Note)
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed())
	f, ok := v.Finding(end.Left[0])
	require.True(t, ok)
	assert.Equal(t, exam.Reason("not safe"), f.NotDone)
}

// In a closed visit a line is added later, with its reason; a correction keeps the
// kind of what it corrects.
func TestWriteInAClosedVisit(t *testing.T) {
	deps, store, id := open(t)
	first, err := deps.Write(entry(id))
	require.NoError(t, err)
	_, err = deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: now(), By: "Ann Bell"})
	require.NoError(t, err)
	_, err = deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: now(), By: "Ann Bell"})
	require.ErrorIs(t, err, exam.ErrClosed)

	_, err = deps.Write(entry(id))
	require.Error(t, err, "a reason is needed")
	late := entry(id)
	late.Reason = "she rang at night"
	added, err := deps.Write(late)
	require.NoError(t, err)
	assert.Equal(t, exam.EntryAdded, added.Kind)
	assert.EqualValues(t, "she rang at night", added.Amend.Why)

	for _, seq := range []int{first.Seq, added.Seq} {
		right := entry(id)
		right.Corrects, right.Reason = seq, "a slip"
		corrected, err := deps.Write(right)
		require.NoError(t, err)
		entries, err := store.Entries(id)
		require.NoError(t, err)
		assert.Equal(t, entries[seq-1].Kind, corrected.Kind)
	}
	v, err := store.Visit(id)
	require.NoError(t, err)
	require.Len(t, v.Decisions, 4)
	assert.True(t, v.Decisions[0].Corrected && v.Decisions[1].Corrected)
}

// A run that ended between opening and closing the visit of the papers leaves an
// open visit, and the next dose goes on in it: nothing is lost.
func TestPapersAfterAnInterruption(t *testing.T) {
	deps, store, _ := open(t)
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Wren", Kind: exam.AnimalPony, Sex: exam.Gelding}, "Ann", now())
	require.NoError(t, err)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: now(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: exam.RoutinePapers}})
	require.NoError(t, err)
	line := exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025", Basis: "passport", Order: &exam.Order{Product: "X", Against: []string{"tetanus"}}}
	id, stored, err := deps.Note(h.ID, line, "Ann", now().Add(time.Hour))
	require.NoError(t, err)
	assert.Equal(t, v.ID, id)
	assert.Equal(t, 1, stored.Injection.Number)
	v, err = store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed(), "and it is closed then")
	_, err = deps.PutRight(id, 2, line, "Ann", "why", now())
	var refusal *notation.Refusal
	require.ErrorAs(t, err, &refusal)
}

// onTruck is a store in which some visits are open on another laptop.
type onTruck struct {
	exam.Store
	visits map[exam.VisitID]bool
}

func (o onTruck) there(v exam.Visit) exam.Visit {
	if o.visits[v.ID] {
		v.Elsewhere = !v.Closed()
		v.Laptops = []exam.OnLaptop{{Laptop: "truck", Named: true, Holds: true, By: []string{v.By}, From: v.OpenedAt, To: v.OpenedAt}}
	}
	return v
}

func (o onTruck) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := o.Store.Visit(id)
	return o.there(v), err
}

func (o onTruck) Past(h exam.HorseID, limit int) ([]exam.Visit, error) {
	list, err := o.Store.Past(h, limit)
	for i := range list {
		list[i] = o.there(list[i])
		if list[i].Closed() {
			list[i].Laptops = nil // a list says it of open visits only
		}
	}
	return list, err
}

// A colleague's open visit on another laptop keeps nobody from an own exam or a past dose, and
// whoever reads one of the two visits is told of the other, also once both are closed.
func TestAnOwnExamBesideAColleagues(t *testing.T) {
	d, store, anns := open(t)
	d.Store = onTruck{store, map[exam.VisitID]bool{anns: true}}
	v, err := store.Visit(anns)
	require.NoError(t, err)
	own, err := d.Again(v.Horse.ID, desk.NextCheck{}, "Eva Holm", now().Add(time.Minute))
	require.NoError(t, err)
	_, err = d.Again(v.Horse.ID, desk.NextCheck{}, "Eva Holm", now().Add(2*time.Minute))
	require.ErrorContains(t, err, "is not finished", "one on each laptop")
	at, _, err := d.Note(v.Horse.ID, exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025-03-02", Basis: "passport", Order: &exam.Order{Product: "Vaccine A"}}, "Eva Holm", now())
	require.NoError(t, err)
	assert.Equal(t, own.Visit.ID, at, "a past dose goes into the own visit")
	_, err = store.Append(fever(own.Visit.ID))
	require.NoError(t, err)

	told := func(id exam.VisitID) []string {
		j, err := d.Read(id)
		require.NoError(t, err)
		var out []string
		for _, o := range j.AtOnce {
			out = append(out, o.HeldBy(o.OpenedAt))
		}
		return out
	}
	assert.Equal(t, []string{"Ann Bell on truck, 2 Mar 11:05, not finished"}, told(own.Visit.ID))
	assert.Equal(t, []string{"Eva Holm on this laptop, 2 Mar 11:06, not finished"}, told(anns))
	for _, id := range []exam.VisitID{anns, own.Visit.ID} {
		_, err := store.Append(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: now().Add(time.Hour), By: "Ann Bell"})
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"Ann Bell on truck, 2 Mar 11:05 to 12:05"}, told(own.Visit.ID))
	assert.Equal(t, []string{"Eva Holm on this laptop, 2 Mar 11:06 to 12:05"}, told(anns))
	d.Store = store
	assert.Empty(t, told(anns), "of one laptop")
}
