package exam_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	screen "loosebox/tui/screen/exam"
	"loosebox/tui/screentest"
)

// inOneGo lists the steps that one key answered, in the order of the record.
func inOneGo(t *testing.T, store exam.Store, id exam.VisitID) []exam.StepID {
	t.Helper()
	v, err := store.Visit(id)
	require.NoError(t, err)
	var out []exam.StepID
	for _, f := range v.Findings {
		if f.Value.InOneGo {
			assert.True(t, f.Value.Usual)
			out = append(out, f.Step)
		}
	}
	return out
}

// TestTheRestOfAnAreaLooksUsual: one key answers what is seen in this area and not answered yet, an entry each, shown line by
// line; what is counted, scored or felt is still asked.
func TestTheRestOfAnAreaLooksUsual(t *testing.T) {
	d, store, id := begin(t, "Thistle", "full-exam", wide())
	d.Press("1", "enter") // the approach, which has no usual answer
	before, err := store.Visit(id)
	require.NoError(t, err)
	d.Press("2", "enter") // demeanour: quiet
	d.Press("z")
	assert.Equal(t, []exam.StepID{"posture", "breath.effort", "pain.signs", "gait.look", "urine"}, inOneGo(t, store, id), "and not the demeanour, which was answered")
	after, err := store.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before.Entries+1+5, after.Entries, "each answer is an entry of its own")
	assert.True(t, d.Shows("Saved in one go: 5 answers"), d.View())
	assert.True(t, d.Shows("posture: stands square"), d.View())
	assert.True(t, d.Shows("│ Breathing rate"), "what is counted is asked next: %s", d.View())
	assert.Equal(t, []string{"quiet"}, finding(t, store, id, exam.Key{Step: "demeanour"}).Value.Words)
}

// TestTheKeyForTheRestCountsOnce: pressed again, held or pasted it answers nothing more, here or in the next area.
func TestTheKeyForTheRestCountsOnce(t *testing.T) {
	d, store, id := begin(t, "Thistle", "before-vaccination", wide())
	d.Press("1", "enter", "z", "z", "z", "z")
	have := inOneGo(t, store, id)
	assert.Equal(t, []exam.StepID{"demeanour", "breath.effort"}, have)
	assert.True(t, d.Shows("Saved in one go: 2 answers"), d.View())
	d.Paste("z")
	d.Paste("zzzz")
	assert.Equal(t, have, inOneGo(t, store, id))
}

// TestTheRestHasItsLimits: near an unsafe horse, in a step opened alone and at a leg the key does nothing.
func TestTheRestHasItsLimits(t *testing.T) {
	t.Run("an unsafe horse", func(t *testing.T) {
		d, store, id := begin(t, "Thistle", "full-exam", wide())
		d.Press("5", "enter", "z")
		assert.Empty(t, inOneGo(t, store, id))
		assert.True(t, d.Shows("the horse is not safe"), d.View())
	})
	t.Run("one step opened from the review", func(t *testing.T) {
		deps, store := screentest.Deps(t)
		v, err := store.Begin(exam.Entry{
			Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
			Opening: &exam.Opening{Horse: screentest.Yard(t, store)["Thistle"], Routine: "full-exam"},
		})
		require.NoError(t, err)
		d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID, At: exam.Key{Step: "posture"}}, wide())
		d.Press("z")
		assert.Empty(t, inOneGo(t, store, v.ID))
	})
	t.Run("at a leg, where nothing is answered by eye alone", func(t *testing.T) {
		d, store, id := begin(t, "Thistle", "full-exam", wide())
		d.GoTo(t, "Limb warmth")
		d.Press("z")
		assert.Empty(t, inOneGo(t, store, id))
	})
}

// TestAFullDiskEndsTheRest: exactly the answers that were stored are shown as saved.
func TestAFullDiskEndsTheRest(t *testing.T) {
	deps, store := screentest.Deps(t)
	v, err := store.Begin(exam.Entry{
		Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
		Opening: &exam.Opening{Horse: screentest.Yard(t, store)["Thistle"], Routine: "full-exam"},
	})
	require.NoError(t, err)
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, layout.Size{W: 60, H: 20})
	d.Press("1", "enter")
	store.FailWith(errors.New("the disk is full"))
	d.Press("z")
	assert.False(t, d.Shows("Saved in one go"), d.View())
	store.FailWith(nil)
	assert.Empty(t, inOneGo(t, store, v.ID))
	d.Press("h", "z")
	assert.Len(t, inOneGo(t, store, v.ID), 6, "another key, and it counts again")
	assert.True(t, d.Shows("Saved in one go: 6 answers"), d.View())
}
