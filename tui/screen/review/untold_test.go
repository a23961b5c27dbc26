package review_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/ranges/words"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/review"
	"loosebox/tui/screentest"
)

// Closing with something for the veterinarian and no hand-off is asked about: the
// first way leads to the hand-off, the others are kept.
func TestClosingWithoutAHandOffIsAskedAbout(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Fever(t, store, id)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: id}, layout.Size{W: 80, H: 24})
	d.Press("f")
	assert.True(t, d.Shows("For the veterinarian, and not handed off:"))
	assert.True(t, d.Shows("40.2 C"))
	d.Press("enter")
	assert.Equal(t, nav.HandOff, d.Last().Screen, "the first way is to hand off")
	d.Press("esc", "f", "2", "enter")
	assert.True(t, d.Shows("steps have no answer"))
	d.Press("enter", "space", "y")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.False(t, v.Closed(), "nobody has said why the steps were not done")
	d.Press("3", "enter")
	v, err = store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed())
	assert.Equal(t, exam.KnownAlready, v.WithoutHandOff)
	assert.True(t, d.Shows("Closed without a hand-off: the veterinarian knows it already."))
}

// An observation that is still to do, and something for the veterinarian: each is
// asked about, the one after the other.
func TestClosingAsksAboutTheObservationAndTheHandOff(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Decide(t, store, id, screentest.Tetanus())
	screentest.Given(t, store, id)
	screentest.Fever(t, store, id)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: id}, layout.Size{W: 80, H: 24})
	d.Press("f")
	assert.True(t, d.Reads("the observation is neither started nor declined"), d.View())
	d.Press("f")
	assert.True(t, d.Shows("For the veterinarian, and not handed off:"), d.View())
	assert.False(t, d.Shows("steps have no answer"), d.View())
	d.Press("f", "3", "enter")
	assert.True(t, d.Shows("steps have no answer"), d.View())
	d.Press("3", "enter")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed())
	assert.Equal(t, exam.NotReached, v.WithoutHandOff)
}

func TestEveryWayOnIsInSightInTheSmallestWindow(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Fever(t, store, id)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: id}, layout.Size{W: 60, H: 20})
	d.Press("f")
	for _, way := range append(exam.NoHandOffs(), "hand off now") {
		assert.True(t, d.Shows(way.String()), "%s: %s", way, d.View())
	}
}

func TestAfterAHandOffNothingIsAsked(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Fever(t, store, id)
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Vale", How: exam.Here}})
	d := screentest.New(t, deps, review.New, nav.Address{Visit: id}, layout.Size{W: 80, H: 24})
	d.Press("f")
	assert.True(t, d.Shows("steps have no answer"))
}

// In another language the reason is read as that language has it, and stored as the same key.
func TestAReasonWithoutAHandOffIsStoredAsAKey(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Fever(t, store, id)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: id}, layout.Size{W: 80, H: 24})
	d.Press("f")
	shown := exam.KnownAlready.String()
	assert.NotEqual(t, string(exam.KnownAlready), shown)
	assert.True(t, d.Shows(shown), d.View())
	d.Press("2", "enter", "3", "enter")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, exam.KnownAlready, v.WithoutHandOff)
	assert.True(t, d.Shows("Closed without a hand-off: "+shown), d.View())
}
