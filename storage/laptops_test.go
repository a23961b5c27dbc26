package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/settle"
	"loosebox/storage"
)

// A colleague's open visit says who has the horse open, where, since when, and when that
// was last heard of; what came in is listed with the time of its exchange.
func TestAColleaguesOpenVisitIsSaid(t *testing.T) {
	truck, _ := newRecord(t)
	h := saveHorse(t, truck, "Bracken")
	at := day().Add(40 * time.Minute)
	v := begin(t, truck, h.ID, at)
	appendAll(t, truck, answers(v.ID, 1, at.Add(22*time.Minute)))
	mine, err := truck.Visit(v.ID)
	require.NoError(t, err)
	assert.Empty(t, mine.OpenElsewhere(day()), "it is open here")
	assert.Empty(t, mine.Laptops)
	none, err := truck.Arrived(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, none, "its own lines arrived from nowhere")

	office, _ := newRecord(t)
	_, err = office.Adopt(context.Background(), feed(segmentsOf(t, truck)))
	require.NoError(t, err)
	came, err := office.Arrived(at.AddDate(1, 0, 0))
	require.NoError(t, err)
	assert.Equal(t, []exam.Arrival{{Visit: v.ID}}, came, "its exchange goes on")
	exchanged := at.Add(time.Hour)
	require.NoError(t, office.NoteExchange(storage.Exchanged{At: exchanged}))
	came, err = office.Arrived(exam.SinceYesterday(exchanged))
	require.NoError(t, err)
	require.Len(t, came, 1)
	assert.True(t, came[0].At.Equal(exchanged))
	came, err = office.Arrived(exchanged.Add(time.Minute))
	require.NoError(t, err)
	assert.Empty(t, came)

	seen := func() []exam.Visit {
		one, err := office.Visit(v.ID)
		require.NoError(t, err)
		open, err := office.Unfinished()
		require.NoError(t, err)
		past, err := office.Past(h.ID, 0)
		require.NoError(t, err)
		return []exam.Visit{one, open[0], past[0]}
	}
	last := mine.Findings[0].At
	for _, one := range seen() {
		assert.Regexp(t, "^"+mine.By+" has this horse open on laptop [0-9a-f]{4} since "+at.Format("2 Jan 15:04")+", last seen "+last.Format("15:04")+`\.$`, one.OpenElsewhere(day()))
		assert.Equal(t, []string{mine.By}, one.Laptops[0].By)
		assert.Equal(t, mine.Entries, one.Laptops[0].Lines)
	}

	_, err = office.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryTaken, At: at.Add(2 * time.Hour), By: "Eva", Reason: string(exam.AmendTakenOver), Taken: &exam.TakenLine{From: "Ann"}})
	require.NoError(t, err)
	for _, one := range seen() {
		assert.Empty(t, one.OpenElsewhere(day()), "this laptop took it over")
		require.Len(t, one.Laptops, 2)
		assert.True(t, one.Laptops[1].Own && one.Laptops[1].Holds && !one.Laptops[0].Holds)
		by, on := one.FromOthers()
		assert.Equal(t, []string{"Ann"}, by, "Eva wrote here: nothing of hers arrived")
		assert.Len(t, on, 1)
	}
	_, err = truck.Adopt(context.Background(), feed(segmentsOf(t, office)))
	require.NoError(t, err)
	back, err := truck.Visit(v.ID)
	require.NoError(t, err)
	assert.Contains(t, back.OpenElsewhere(day()), "Eva has this horse open on laptop ")
	assert.Equal(t, seen()[0].OnLaptops(), back.OnLaptops(), "the page is the same on both")
	assert.NotEmpty(t, back.OnLaptops())

	require.NoError(t, office.NoteExchange(storage.Exchanged{At: exchanged.AddDate(0, 0, 9)}))
	came, err = office.Arrived(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, came, "after a week it is no news")
	report, err := office.Check(context.Background())
	require.NoError(t, err)
	assert.Empty(t, report.Broken)
}

// Two laptops without a network examine one horse: each begins its own visit beside the
// colleague's that an exchange brought, both stand, and both laptops read the same of it.
func TestTwoLaptopsExamineOneHorse(t *testing.T) {
	truck, _ := newRecord(t)
	office, _ := newRecord(t)
	h := saveHorse(t, truck, "Bracken")
	at := day().Add(40 * time.Minute)
	meet := func() {
		for _, way := range [][2]*storage.Record{{truck, office}, {office, truck}} {
			_, err := way[1].Adopt(context.Background(), feed(segmentsOf(t, way[0])))
			require.NoError(t, err)
		}
	}
	anns := begin(t, truck, h.ID, at)
	appendAll(t, truck, answers(anns.ID, 2, at))
	meet()
	past, err := office.Past(h.ID, 0)
	require.NoError(t, err)
	_, goesOn := exam.GoesOn(past)
	assert.False(t, goesOn, "the colleague's is no visit of this laptop")
	evas := begin(t, office, h.ID, at.Add(20*time.Minute))
	appendAll(t, office, answers(evas.ID, 2, at.Add(20*time.Minute)))
	meet()
	for _, one := range []struct {
		r           *storage.Record
		own, others exam.VisitID
	}{{truck, anns.ID, evas.ID}, {office, evas.ID, anns.ID}} {
		past, err := one.r.Past(h.ID, 0)
		require.NoError(t, err)
		require.Len(t, past, 2)
		v, goesOn := exam.GoesOn(past)
		assert.True(t, goesOn)
		assert.Equal(t, one.own, v.ID)
		assert.True(t, past[0].OpenWith(past[1]))
		open, err := one.r.Unfinished()
		require.NoError(t, err)
		assert.Len(t, settle.AtOnce(open, day()), 1)
		outlines, err := one.r.Outline(h.ID, time.Time{})
		require.NoError(t, err)
		for _, v := range outlines {
			assert.Equal(t, v.ID == one.others, v.Elsewhere, "an outline says whose it is too")
		}
	}
	for r, v := range map[*storage.Record]exam.VisitID{truck: anns.ID, office: evas.ID} {
		appendAll(t, r, []exam.Entry{closing(v, at.Add(time.Hour))})
	}
	meet()
	for _, r := range []*storage.Record{truck, office} {
		open, err := r.Unfinished()
		require.NoError(t, err)
		assert.Empty(t, open)
		a, err := r.Visit(anns.ID)
		require.NoError(t, err)
		b, err := r.Visit(evas.ID)
		require.NoError(t, err)
		assert.True(t, a.OpenWith(b))
		assert.NotEqual(t, a.HeldOn(), b.HeldOn())
		assert.Len(t, a.Findings, 2)
		assert.Len(t, b.Findings, 2)
		assert.Empty(t, a.Unsettled(), "two visits, not one that differs")
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		assert.Empty(t, report.Broken)
		items := settle.AtOnce(toLookAt(t, r), day())
		require.Len(t, items, 1)
		assert.Equal(t, []any{exam.UnsettledCompare, []exam.VisitID{evas.ID, anns.ID}}, []any{items[0].Kind, items[0].Visits})
	}

	// A person says on one laptop that they looked at both: it is said on every laptop.
	both := toLookAt(t, office)
	for _, e := range settle.Compared(both[0], both[1:], "Eva", "nothing given twice", at.Add(2*time.Hour)) {
		e.Kind, e.Amend = exam.EntryAdded, &exam.Amendment{Why: exam.AmendReason(e.Reason)} // as the desk does for a closed visit
		_, err := office.Append(e)
		require.NoError(t, err)
	}
	meet()
	for _, r := range []*storage.Record{truck, office} {
		assert.Empty(t, toLookAt(t, r))
	}
}

func toLookAt(t *testing.T, r *storage.Record) []exam.Visit {
	t.Helper()
	list, err := r.Unsettled()
	require.NoError(t, err)
	return list
}
