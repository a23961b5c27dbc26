package dose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/tui/layout"
	"loosebox/tui/screentest"
)

// A dose of the papers takes the code of its package; what had expired since is written
// down all the same, and the next package of the kind needs no typing.
func TestACodeFillsInAPastDose(t *testing.T) {
	d, deps, h := open(t, "Thistle", wide())
	d.Type("Vaccine T")
	d.Press("enter", "space", "enter")
	d.Scan("]d201095060001343521725022810A1B2\x1d21XYZ9")
	assert.True(t, d.Reads("Filled in: item 09506000134352, lot A1B2, use by 28 Feb 2025, serial XYZ9."), d.View())
	d.Type("2024-06-01") // the cursor stands on the day
	d.Press("enter")
	d.Type("passport")
	d.Press("ctrl+s")
	require.True(t, d.Shows("Saved: Vaccine T, 1 Jun 2024."), d.View())
	o := visits(t, deps, h)[0].Injections[0].Order
	assert.Equal(t, "09506000134352", o.Item)
	assert.Equal(t, "XYZ9", o.Serial)
	assert.Equal(t, "A1B2", o.Lot)
	assert.Equal(t, "2025-02-28", o.Expiry.Last)

	d.Scan("]d201095060001343521728022810C3")
	assert.True(t, d.Reads("These words were saved with this item number before."), d.View())
	assert.True(t, d.Reads("Vaccine T; against tetanus"), d.View())
	d.Press("enter")
	assert.True(t, d.Shows("Choose by number first"), d.View())
	d.Press("1", "enter")
	d.Type("2025-06-01")
	d.Press("ctrl+s")
	require.True(t, d.Shows("Saved: Vaccine T, 1 Jun 2025."), d.View())
	i := visits(t, deps, h)[0].Injections[1]
	assert.Equal(t, []string{"tetanus"}, i.Order.Against)
	assert.Equal(t, "C3", i.Order.Lot)
	assert.Empty(t, i.Order.Serial, "that of the other package")
}

func TestTwoReadingsOfAPastDose(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d, _, _ := open(t, "Thistle", size)
		d.Type("Vaccine T")
		d.Scan("01095060001343521727022810A1B221XYZ9")
		require.True(t, d.Reads("2 item 09506000134352, lot A1B2, use by 28 Feb 2027, serial XYZ9"), d.View())
		d.Press("esc")
		assert.True(t, d.Shows("Nothing was filled in."), d.View())
		assert.True(t, d.Shows("Vaccine T"), "what was typed stays")
		assert.False(t, d.Left())
	}
}

func TestGoldenCode(t *testing.T) {
	screentest.Goldens(t, "dose-code", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Thistle", size)
		d.Scan("01095060001343521727022810A1B221XYZ9")
		d.Press("2")
		return d
	})
}
