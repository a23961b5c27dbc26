package record_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
)

// sit is the screen of what rules of records ask for, after a dose.
func sit(t *testing.T, size layout.Size) (*screentest.Driver, func() exam.Visit) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Decide(t, store, id, screentest.Tetanus())
	screentest.Given(t, store, id)
	visit := func() exam.Visit {
		v, err := store.Visit(id)
		require.NoError(t, err)
		return v
	}
	return screentest.New(t, deps, questions.Of(script.Record), nav.Address{Screen: nav.Record, Visit: id}, size), visit
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func TestWhoWasThere(t *testing.T) {
	d, visit := sit(t, wide())
	d.Press("2", "enter")
	d.Type("P. Duarte")
	d.Press("enter", "enter")
	d.Type("technician")
	d.Press("enter")
	assert.False(t, d.Shows("Which role"), "nobody supervised yet")
	d.Type("Dr. R. Sommer")
	d.Press("enter")
	d.Type("veterinarian")
	d.Press("ctrl+s")
	notes := visit().Notes
	require.Len(t, notes, 1)
	assert.Equal(t, "For the record: handler: P. Duarte; examined by: "+visit().By+", technician; supervised by: Dr. R. Sommer, veterinarian", notes[0].Text)
	assert.True(t, d.Reads("handler: P. Duarte"), "what is written down stands there: %s", d.View())
	d.Press("esc")
	assert.True(t, d.Left())
}

func TestEscAsksBeforeWhatWasTypedIsLost(t *testing.T) {
	d, visit := sit(t, wide())
	d.Press("1", "enter")
	d.Press("down")
	d.Type("sedation")
	d.Press("esc")
	assert.True(t, d.Reads("what was typed is lost"), d.View())
	d.Press("esc")
	assert.True(t, d.Shows("consent, given or refused"), "esc goes back to the list: %s", d.View())
	assert.Empty(t, visit().Notes)
}

func TestGoldenRecord(t *testing.T) {
	screentest.Goldens(t, "record", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := sit(t, size)
		d.Press("3", "enter")
		d.Type("bottle 12")
		d.Press("enter")
		d.Type("1.5")
		d.Press("enter", "enter")
		d.Squeeze()
		return d
	})
}

// The foot says of enter what it does: in the list it takes an answer, which opens a form; only the form saves.
func TestTheFootOfAListSavesNothing(t *testing.T) {
	d, visit := sit(t, wide())
	assert.Contains(t, d.View(), "enter choose")
	assert.NotContains(t, d.View(), "enter save")
	d.Press("enter")
	assert.True(t, d.Reads("Consent of the owner"), d.View())
	assert.Contains(t, d.View(), "ctrl+s save")
	assert.Empty(t, visit().Notes)
}
