package review_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	examscreen "loosebox/tui/screen/exam"
	"loosebox/tui/screen/late"
	"loosebox/tui/screen/review"
	"loosebox/tui/screen/strike"
	"loosebox/tui/screentest"
)

// closedVisit is a yard and the newest closed visit in it that has a temperature.
func closedVisit(t testing.TB) (*nav.Deps, exam.Store, exam.Visit) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	recent, err := store.Recent(10)
	require.NoError(t, err)
	for _, v := range recent {
		if f, ok := v.Finding(exam.Key{Step: "temp.rectal"}); ok && f.Done() && v.Closed() {
			return deps, store, v
		}
	}
	require.Fail(t, "no closed visit with a temperature")
	return nil, nil, exam.Visit{}
}

func TestACorrectionAsksWhyAndStaysReadable(t *testing.T) {
	deps, store, v := closedVisit(t)
	size := layout.Size{W: 80, H: 24}
	k := exam.Key{Step: "temp.rectal"}
	old, _ := v.Finding(k)
	d := screentest.New(t, deps, examscreen.New, nav.Address{Visit: v.ID, At: k}, size)
	correct := func() {
		for range 6 {
			d.Press("backspace")
		}
		d.Type("39.9C")
		d.Press("enter")
		for range 3 { // a question about an unlikely or changed number
			if d.Shows("Why is this corrected?") {
				break
			}
			d.Press("enter")
		}
	}
	correct()
	require.True(t, d.Shows("Why is this corrected?"), "%s", d.View())
	d.Press("enter")
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, v.Entries, back.Entries, "nothing is written without a reason")
	d.Press("esc")
	assert.True(t, d.Shows("Nothing was changed."))
	correct()
	d.Type("read the wrong line")
	d.Press("enter")
	assert.True(t, d.Left(), "%s", d.View())
	back, err = store.Visit(v.ID)
	require.NoError(t, err)
	f, _ := back.Finding(k)
	assert.InDelta(t, 39.9, f.Value.Number.Value, 1e-9)
	assert.EqualValues(t, "read the wrong line", f.Why)
	require.Len(t, f.Before, 1)
	assert.Equal(t, old.Value, f.Before[0].Value)

	d = screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, size)
	cursorTo(t, d, "temperature: 39.9 C (corrected; before: ")
	assert.True(t, d.Reads("before: "+old.Value.Number.Text(1)), "%s", d.View())
	assert.True(t, d.Reads("read the wrong line"))
}

func TestALateNoteSaysThatItIsLate(t *testing.T) {
	deps, store, v := closedVisit(t)
	d := screentest.New(t, deps, late.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type what was forgotten"))
	d.Type("owner rang")
	d.Press("enter")
	for range 20 {
		d.Press("backspace")
	}
	d.Type("2199-01-01")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("in the future"), "%s", d.View())
	for range 20 {
		d.Press("backspace")
	}
	d.Press("enter")
	d.Type("told the day after")
	d.Press("ctrl+s")
	require.True(t, d.Left(), "%s", d.View())
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	n := back.Notes[len(back.Notes)-1]
	assert.True(t, n.Added)
	assert.EqualValues(t, "told the day after", n.Why)
	assert.True(t, n.Happened.Equal(v.OpenedAt))
	d = screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	cursorTo(t, d, "owner rang (added later)")
	assert.True(t, d.Reads("added later, entered at"))
}

func TestAVisitIsStruckAndEnteredAgain(t *testing.T) {
	deps, store, v := closedVisit(t)
	other, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Larkspur", Kind: exam.AnimalHorse, Owner: "Hay Barn", Chip: "01AB3C4D5"}, "Ann", deps.Now())
	require.NoError(t, err)
	size := layout.Size{W: 80, H: 24}
	d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, size)
	d.Press("k")
	assert.Equal(t, nav.Address{Screen: nav.Strike, Visit: v.ID}, d.Last())
	d = screentest.New(t, deps, strike.New, nav.Address{Visit: v.ID}, size)
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type why it is voided"))
	d.Type("it was Larkspur")
	d.Press("enter")
	write := func(text string) {
		for range 20 {
			d.Press("backspace")
		}
		d.Type(text)
	}
	for _, own := range []string{v.Horse.Name, strings.ToLower(v.Horse.Name[:4])} {
		write(own)
		assert.True(t, d.Reads("the visit is on this horse already"), "%s", d.View())
	}
	for _, chip := range []string{"01ab3c4d5", "01AB3C4D5"} {
		write(chip)
		assert.True(t, d.Reads("entered again for Larkspur"), "%s", d.View())
	}
	write("hay")
	assert.True(t, d.Reads("entered again for Larkspur"), "%s", d.View())
	assert.NotEmpty(t, deps.Settings.Person)
	d.Press("ctrl+s")
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	require.NotNil(t, back.Struck)
	assert.EqualValues(t, "it was Larkspur", back.Struck.Why)
	past, err := store.Past(other.ID, 0)
	require.NoError(t, err)
	require.Len(t, past, 1)
	assert.Equal(t, v.Findings, past[0].Findings)
	assert.Equal(t, nav.Address{Screen: nav.Review, Visit: past[0].ID}, d.Last())

	d = screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, size)
	assert.True(t, d.Shows("VOIDED: this visit does not count"), "%s", d.View())
	opened := len(d.Opened())
	cursorTo(t, d, "temperature: ")
	d.Press("enter", "n", "k", "f")
	assert.Len(t, d.Opened(), opened, "a struck visit stays as it is")
}

func TestGoldenAmend(t *testing.T) {
	screentest.Goldens(t, "strike", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _, v := closedVisit(t)
		return screentest.New(t, deps, strike.New, nav.Address{Visit: v.ID}, size)
	})
	screentest.Goldens(t, "late", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _, v := closedVisit(t)
		return screentest.New(t, deps, late.New, nav.Address{Visit: v.ID}, size)
	})
	screentest.Goldens(t, "review-struck", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, store, v := closedVisit(t)
		_, _, err := store.Strike(exam.Entry{
			Visit: v.ID, Kind: exam.EntryStruck, By: "Bo Marsh", At: deps.Now(), Amend: &exam.Amendment{Why: "it was the stablemate"},
		}, "")
		require.NoError(t, err)
		return screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, size)
	})
}
