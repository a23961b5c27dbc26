package dose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/dose"
	"loosebox/tui/screentest"
)

func open(t testing.TB, name string, size layout.Size) (*screentest.Driver, *nav.Deps, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)[name]
	return screentest.New(t, deps, dose.New, nav.Address{Horse: h.ID}, size), deps, h
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func visits(t testing.TB, deps *nav.Deps, h exam.Horse) []exam.Visit {
	t.Helper()
	past, err := deps.Store.Past(h.ID, 0)
	require.NoError(t, err)
	return past
}

// note fills the lines: product, tetanus marked, day, basis, the series where whole.
func note(d *screentest.Driver, product, on, basis, space string, whole bool) {
	d.Type(product)
	d.Press("enter", space, "enter")
	d.Type(on)
	d.Press("enter")
	d.Type(basis)
	d.Press("enter", "enter")
	if whole {
		d.Press(space)
	}
	d.Press("ctrl+s")
}

// A horse without an open visit gets one visit for its papers, closed, and every
// further dose goes into it; what is due counts them.
func TestDosesFromPapersAreKeptTogetherAndCount(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, deps, h := open(t, "Thistle", wide())
		note(d, "Vaccine T", "2025-03-01", "passport", space, true)
		assert.True(t, d.Shows("Saved: Vaccine T, 1 Mar 2025."))
		note(d, "Vaccine T", "2024", "", space, false)
		require.True(t, d.Shows("Saved: Vaccine T, 2024."), d.View())

		past := visits(t, deps, h)
		require.Len(t, past, 1)
		v := past[0]
		assert.True(t, v.Closed())
		assert.True(t, v.OnlyPapers())
		require.Len(t, v.Injections, 2)
		assert.Equal(t, "passport", v.Injections[1].Basis, "the papers stay the same")
		assert.Equal(t, "Ann Bell", v.Injections[0].By)

		table, err := due.BuiltIn()
		require.NoError(t, err)
		for _, i := range table.For(h, past, screentest.Now()).Items {
			if i.Disease == "tetanus" {
				require.NotNil(t, i.Last)
				assert.Equal(t, "2025-03-01", i.Last.On.Format(notation.DayForm))
				assert.False(t, i.Incomplete, "the papers show the whole series")
			}
		}
		assert.Empty(t, exam.LookedAt(past), "no visit to compare with")
	}
}

func TestADoseGoesIntoTheOpenVisit(t *testing.T) {
	d, deps, h := open(t, "Bracken", wide())
	note(d, "Vaccine T", "2025-03-01", "passport", "space", false)
	past := visits(t, deps, h)
	require.Len(t, past, 5, "no visit of its own")
	assert.False(t, past[0].Closed())
	assert.Len(t, past[0].Injections, 1)
	assert.False(t, past[0].OnlyPapers())
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	d, deps, h := open(t, "Thistle", wide())
	d.Press("ctrl+s")
	assert.True(t, d.Reads("type the product, or what it is against"))
	d.Type("X")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("write a day as 4 Mar 2026"))
	d.Type("2027")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("2027 lies after today"))
	d.Press("ctrl+u")
	d.Type("2025")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("choose where it comes from: passport,"))
	assert.Empty(t, visits(t, deps, h))
}

func TestADoseIsPutRightOrWasNeverGiven(t *testing.T) {
	d, deps, h := open(t, "Thistle", wide())
	note(d, "Vaccine T", "2025-03-01", "passport", "space", false)
	v := visits(t, deps, h)[0]
	right := screentest.New(t, deps, dose.New, nav.Address{Horse: h.ID, Visit: v.ID, Number: 1}, wide())
	right.Press("down", "down", "ctrl+u")
	right.Type("2025-04-01")
	right.Press("ctrl+s")
	assert.True(t, right.Shows("type why it is corrected"))
	right.Type("misread")
	right.Press("ctrl+s")
	require.True(t, right.Left(), right.View())
	i := visits(t, deps, h)[0].Injections[0]
	assert.Equal(t, "2025-04-01", i.On)
	assert.Equal(t, []string{"tetanus"}, i.Order.Against)
	assert.Len(t, due.Doses(visits(t, deps, h), "tetanus"), 1)

	wrong := screentest.New(t, deps, dose.New, nav.Address{Horse: h.ID, Visit: v.ID, Number: 1}, wide())
	for range 6 {
		wrong.Press("down")
	}
	require.True(t, wrong.Shows("entered by mistake"))
	wrong.Press("space", "down", "down")
	wrong.Type("another horse's passport")
	wrong.Press("ctrl+s")
	require.True(t, wrong.Left(), wrong.View())
	past := visits(t, deps, h)
	assert.Empty(t, due.Doses(past, "tetanus"), "it counts for nothing")
	assert.Equal(t, exam.InjectionStopped, past[0].Injections[0].State)
	assert.True(t, past[0].OnlyPapers())
	entries, err := deps.Store.Entries(v.ID)
	require.NoError(t, err)
	assert.EqualValues(t, "another horse's passport", entries[len(entries)-1].Amend.Why)
	assert.Equal(t, "2025-03-01", entries[1].Injection.On, "what was noted stays readable")
}

func TestARefusedWriteKeepsWhatWasTyped(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	d := screentest.New(t, deps, dose.New, nav.Address{Horse: h.ID}, wide())
	store.FailWith(assert.AnError)
	note(d, "Vaccine T", "2025-03-01", "passport", "space", false)
	assert.True(t, d.Shows("Vaccine T"))
	store.FailWith(nil)
	d.Press("ctrl+s")
	assert.True(t, d.Shows("Saved"))
}

func TestGoldenDose(t *testing.T) {
	screentest.Goldens(t, "dose", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Thistle", size)
		note(d, "Vaccine T", "2025-03-01", "passport", "space", true)
		d.Type("Vaccine R")
		d.Press("enter")
		return d
	})
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Kind: exam.AnimalHorse}, "Ann", screentest.Now())
			require.NoError(t, err)
			d := screentest.New(t, deps, dose.New, nav.Address{Horse: h.ID}, size)
			d.Paste(text)
			d.Press("enter", "enter")
			d.Paste(text)
			d.Press("enter")
			d.Paste(text)
			d.Press("ctrl+s")
			d.Squeeze()
		}
	}
}
