package injection_test

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

// list puts up the check list of an injection.
func list(t *testing.T) *bench {
	b := sit(t, layout.Size{W: 80, H: 24}, screentest.Tetanus())
	b.vaccine()
	require.True(t, b.Shows("Right horse"), b.View())
	return b
}

func (b *bench) chips() (own, other string) {
	b.t.Helper()
	all, err := b.store.Horses()
	require.NoError(b.t, err)
	here := b.visit().Horse.ID
	for _, f := range all {
		switch {
		case f.Horse.ID == here:
			own = f.Horse.Chip
		case f.Horse.Chip != "":
			other = f.Horse.Chip
		}
	}
	if other == "" {
		other = "001000000098765"
		_, err := b.store.SaveHorse(exam.Horse{Revision: 1, Name: "Juniper", Kind: exam.AnimalHorse, Sex: exam.Mare, Chip: other}, "Ann Bell", b.now)
		require.NoError(b.t, err)
	}
	return own, other
}

func TestTheChipOfTheHorseAnswersRightHorse(t *testing.T) {
	b := list(t)
	own, _ := b.chips()
	b.Scan(own)
	assert.True(t, b.Reads("Right horse: this is the chip of Bracken."), b.View())
	assert.Contains(t, b.View(), ": chip read")
	assert.True(t, b.Shows("> Right product"), b.View())
	assert.Empty(t, b.Opened())
}

func TestTheChipOfAnotherHorseStopsEverything(t *testing.T) {
	b := list(t)
	own, other := b.chips()
	b.Scan(own)
	writes := b.store.Writes()
	b.Scan(other)
	assert.True(t, b.Reads("Wrong horse: this is the chip of"), b.View())
	assert.True(t, b.Reads("not of Bracken."), b.View())
	assert.False(t, b.Shows("Right product"), "nothing else is on the screen")
	b.Press("c", "p", "enter", "esc")
	assert.True(t, b.Reads("Wrong horse"), "and no other key counts")
	b.Press("y")
	assert.False(t, b.Reads("Wrong horse"), b.View())
	assert.True(t, b.Shows("> Right horse"), "the answer is taken back: "+b.View())
	assert.True(t, b.Reads("is removed"), b.View())
	assert.Equal(t, writes, b.store.Writes())
	b.Scan(own)
	assert.True(t, b.Shows("> Right product"), b.View())
}

// A chip that no horse of the record has is not the chip of this horse, where this horse's is known.
func TestAnUnknownChipStopsEverything(t *testing.T) {
	b := list(t)
	b.Press("c")
	assert.True(t, b.Shows("> Right product"), b.View())
	b.Scan("001000000000777")
	assert.True(t, b.Reads("No horse in the record has chip 001000000000777. Bracken has"), b.View())
	assert.True(t, b.Reads("Give nothing and draw nothing."), b.View())
	b.Press("p", "enter")
	assert.True(t, b.Reads("Give nothing and draw nothing."), "no other key counts")
	b.Press("y")
	assert.True(t, b.Shows("> Right horse"), "the answer is taken back: "+b.View())
	assert.True(t, b.Reads("is removed"), b.View())
}

// A scan while words are typed goes to its point, and the words stay.
func TestAScanWhileWordsAreTyped(t *testing.T) {
	b := list(t)
	own, _ := b.chips()
	b.Press("c", "x")
	b.Type("label torn")
	b.Scan(own)
	assert.True(t, b.Shows("label torn_"), b.View())
	assert.True(t, b.Reads("Right horse: this is the chip of Bracken."), b.View())
	b.Press("enter")
	assert.True(t, b.Reads("label torn"), b.View())
}

// At every other stage of a needle a scan answers nothing.
func TestAScanInTheOrderAndWithTheNeedleIn(t *testing.T) {
	b := sit(t, layout.Size{W: 80, H: 24}, screentest.Tetanus(), exam.CoveredProcedure{Kind: exam.Drawing})
	own, other := b.chips()
	before, writes := b.View(), b.store.Writes()
	b.Scan(own)
	assert.True(t, b.Reads("Right horse: this is the chip of Bracken."), b.View())
	b.Scan(other)
	b.Press("y", "left", "right")
	assert.Equal(t, before, b.View())
	b.Driver = screentest.New(t, b.deps, questions.Of(script.BloodDraw), nav.Address{Screen: nav.Draw, Visit: b.id}, layout.Size{W: 80, H: 24})
	b.Scan(other)
	assert.True(t, b.Reads("Wrong horse"), b.View())
	assert.Equal(t, writes, b.store.Writes())
}
