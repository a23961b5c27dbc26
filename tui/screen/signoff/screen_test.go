package signoff_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/review"
	"loosebox/tui/screen/signoff"
	"loosebox/tui/screentest"
)

// closed is a yard and its newest closed visit.
func closed(t testing.TB) (*nav.Deps, exam.Store, exam.Visit) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	recent, err := store.Recent(10)
	require.NoError(t, err)
	for _, v := range recent {
		if v.Closed() && len(v.Findings) > 0 {
			return deps, store, v
		}
	}
	require.Fail(t, "no closed visit")
	return nil, nil, exam.Visit{}
}

// Enter alone, held or not, signs nothing: the name is never offered.
func TestNobodySignsWithEnterAlone(t *testing.T) {
	deps, store, v := closed(t)
	d := screentest.New(t, deps, signoff.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	for range 12 {
		d.Press("enter")
	}
	d.Press("ctrl+s")
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.Empty(t, back.Readings)
	assert.NotContains(t, d.View(), deps.Settings.Person)
}

// The reading stands in the closed visit, in the review and on the page, with no reason asked.
func TestTheVeterinarianSignsOff(t *testing.T) {
	deps, store, v := closed(t)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	d.Press("v")
	assert.Equal(t, nav.Address{Screen: nav.SignOff, Visit: v.ID}, d.Last())
	d = screentest.New(t, deps, signoff.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	d.Type("Dr Vale")
	d.Press("enter", "enter")
	d.Type("Agreed. Weigh again.")
	d.Press("ctrl+s")
	require.True(t, d.Left(), "%s", d.View())
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	r, since, ok := back.SignedOff()
	require.True(t, ok)
	assert.Equal(t, []string{"Dr Vale", "Agreed. Weigh again."}, []string{r.By, r.Words})
	assert.Zero(t, since)
	d = screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, strings.Contains(d.View(), "Read by Dr Vale, veterinarian"), "%s", d.View())
}

func TestAStruckVisitIsNotSignedOff(t *testing.T) {
	deps, store, v := closed(t)
	_, _, err := store.Strike(exam.Entry{Visit: v.ID, Kind: exam.EntryStruck, By: "Bo", At: deps.Now(), Amend: &exam.Amendment{Why: "the stablemate"}}, "")
	require.NoError(t, err)
	d := screentest.New(t, deps, signoff.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	d.Type("Dr Vale")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("NOT saved"), "%s", d.View())
	back, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.Empty(t, back.Readings)
}

func TestGolden(t *testing.T) {
	screentest.Goldens(t, "signoff", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _, v := closed(t)
		return screentest.New(t, deps, signoff.New, nav.Address{Visit: v.ID}, size)
	})
}
