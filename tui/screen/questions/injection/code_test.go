package injection_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/screentest"
)

// The number of GS1's examples; the date is in March 2026.
const (
	whole   = "]d201095060001343521727022810LT-4471\x1d21XYZ9"
	lost    = "01095060001343521727022810A1B221XYZ9"
	expired = "]d201095060001343521726022810A1"
	item    = "09506000134352"
)

func TestACodeFillsInLotExpiryItemAndSerial(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.Scan(whole)
	assert.True(t, b.Reads("Filled in: item 09506000134352, lot LT-4471, use by 28 Feb 2027, serial XYZ9. Compare it with the label."), b.View())
	assert.True(t, b.Shows("item number"), b.View())
	b.line("invented toxoid") // the cursor stands where something is to be typed
	b.line("")
	b.line("Maker H")
	b.line("")
	b.line("500kg")
	b.line("1")
	b.Press("ctrl+s")
	b.checks()
	o := b.injection(1).Order
	assert.Equal(t, "LT-4471", o.Lot)
	assert.Equal(t, "2027-02-28", o.Expiry.Last)
	assert.Equal(t, item, o.Item)
	assert.Equal(t, "XYZ9", o.Serial)
	assert.Equal(t, "Maker H", o.Maker)
}

// Where the separator was lost nothing is chosen for a person, and enter chooses nothing.
func TestTwoReadingsAreChosenBetween(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.Scan(lost)
	assert.True(t, b.Reads("1 item 09506000134352, lot A1B221XYZ9, use by 28 Feb 2027"), b.View())
	assert.True(t, b.Reads("2 item 09506000134352, lot A1B2, use by 28 Feb 2027, serial XYZ9"), b.View())
	b.Press("enter")
	assert.True(t, b.Reads("Press one of"), b.View())
	b.Press("2", "enter")
	assert.True(t, b.Reads("Filled in: item 09506000134352, lot A1B2"), b.View())

	b.Scan(lost)
	b.Press("3", "enter")
	assert.True(t, b.Reads("Nothing was filled in. Type it from the label."), b.View())
	b.Scan(lost)
	b.Press("esc")
	assert.True(t, b.Shows("lot"), "back at the form")
}

func TestWhatIsRefusedFillsInNothing(t *testing.T) {
	for code, want := range map[string]string{
		expired:                           "the package expired: use by 28 Feb 2026",
		"]d201095060001343501727022810A1": "check digit",
		"]d2010950600013435249":           "begins with no identifier of GS1",
		"]d201095060001343521727133110A1": "there is no month 13",
	} {
		b := sit(t, wide(), screentest.Tetanus())
		b.Scan(code)
		assert.True(t, b.Reads(want), b.View())
		assert.True(t, b.Reads("Nothing was filled in."), b.View())
		assert.False(t, b.Shows("item number"), b.View())
	}
	b := sit(t, wide(), screentest.Tetanus())
	b.Scan("]d201095060001343521745022810A1")
	assert.True(t, b.Reads("Is the last day of use right: 28 February 2045?"), b.View())
	b.Press("2", "enter")
	assert.False(t, b.Shows("item number"), b.View())
}

// Digits alone can be a lot number: on its line a person says which, elsewhere they are
// typed.
func TestDigitsAloneMayBeALotNumber(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.Scan("96385074")
	assert.True(t, b.Reads("1 item 00000096385074"), b.View())
	b.Press("2", "enter")
	assert.True(t, b.Reads("Filled in: lot 96385074."), b.View())
	b.Press("down", "down")
	b.Scan("96385074")
	assert.False(t, b.Shows("more than one way"), b.View())
}

// A scan while a needle is in, or on the check list, answers nothing.
func TestACodeElsewhereAnswersNothing(t *testing.T) {
	b := ordered(t, wide())
	b.Press("enter", "i")
	before := b.store.Writes()
	b.Scan(whole)
	assert.Equal(t, before, b.store.Writes())
	assert.True(t, b.Reads("Scan it at an injection order or a past"), b.View())
	_, in := b.injection(1).NeedleIn()
	assert.True(t, in)
}

// before writes down a dose with an item number in an earlier visit.
func (b *bench) before(product string) {
	b.t.Helper()
	past, err := b.store.Recent(0)
	require.NoError(b.t, err)
	v := past[len(past)-1]
	_, err = b.store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryAdded, Amend: &exam.Amendment{Why: "from papers"}, By: "Ben Cole", At: b.now, Injection: &exam.InjectionLine{
		Number: len(v.Injections) + 1, Phase: exam.InjectionNoted, On: "2025-03-01", Basis: "passport", Order: &exam.Order{
			Product: product, Maker: "Maker Q", Active: "toxoid", Item: item, Lot: "OLD", Against: []string{"tetanus"}, Expiry: notation.Expiry{Last: "2025-12-31"},
		},
	}})
	require.NoError(b.t, err)
}

func TestTheWordsOfTheLastTimeAreOffered(t *testing.T) {
	for _, yes := range []bool{true, false} {
		b := sit(t, wide(), screentest.Tetanus())
		b.before(screentest.Tetanus().Product)
		b.Scan(whole)
		assert.True(t, b.Reads("These words were saved with this item number before. Does the label say the same?"), b.View())
		assert.True(t, b.Reads("toxoid; Maker Q; against tetanus"), b.View())
		assert.True(t, b.Reads("by Ben Cole"), b.View())
		b.Press("enter")
		assert.True(t, b.Reads("Press one of"), "a person confirms it")
		if yes {
			b.Press("1", "enter")
		} else {
			b.Press("2", "enter")
		}
		assert.True(t, b.Reads("Filled in: item"), b.View())
		assert.Equal(t, yes, b.Shows("Maker Q"), b.View())
		assert.True(t, b.Shows("LT-4471"), "the lot is the code's, not that of the last time")
	}
}

// The package of another product than was decided stops.
func TestThePackageOfAnotherProduct(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.before("Vaccine W")
	b.Scan(whole)
	assert.True(t, b.Reads("This item number was saved before as Vaccine W. Decided is Vaccine T."), b.View())
	b.Press("1", "enter")
	assert.True(t, b.Reads("Nothing was filled in. Take the product that was decided."), b.View())
	assert.False(t, b.Shows("LT-4471"), b.View())
}
