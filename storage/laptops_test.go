package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
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
	assert.Empty(t, mine.OpenElsewhere(), "it is open here")
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
		assert.Regexp(t, "^"+mine.By+" has this horse open on laptop [0-9a-f]{4} since "+at.Format("15:04")+", last seen "+last.Format("15:04")+`\.$`, one.OpenElsewhere())
		assert.Equal(t, []string{mine.By}, one.Laptops[0].By)
		assert.Equal(t, mine.Entries, one.Laptops[0].Lines)
	}

	_, err = office.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryTaken, At: at.Add(2 * time.Hour), By: "Eva", Reason: exam.WhyTaken, Taken: &exam.TakenLine{From: "Ann"}})
	require.NoError(t, err)
	for _, one := range seen() {
		assert.Empty(t, one.OpenElsewhere(), "this laptop took it over")
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
	assert.Contains(t, back.OpenElsewhere(), "Eva has this horse open on laptop ")
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
