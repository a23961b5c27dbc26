package plain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// tenML is a decided dose of 10 mL into a muscle.
func tenML() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product X", Route: exam.RouteIM, Dose: "10 mL"}
}

// twenty fills in an order of 20 mL of it.
func twenty(more ...string) []string {
	return append([]string{"LT-1", "02/27", "", "", "", "", "500kg", "20 mL", "20", "", "", "", "", ""}, more...)
}

func TestPlainAnOrderIsALimit(t *testing.T) {
	x := sit(t, tenML())
	for _, lines := range [][]string{nil, {"", "9", "yes"}, {"1"}, {"1", "Make it 20."}, {"1", "back"}} {
		out, err := x.typed((*plain.Session).Inject, twenty(lines...)...)
		require.ErrorIs(t, err, plain.ErrLeft, out)
		assert.Contains(t, out, "Refused. Dr. R. Sommer decided 10 mL, not 20 mL.")
		assert.NotContains(t, out, "Right horse")
		assert.Len(t, x.visit().Decisions, 1, "%q", lines)
	}
	_, err := x.typed((*plain.Session).Inject, twenty("3")...)
	require.ErrorIs(t, err, exam.ErrDiffers)
	out, err := x.typed((*plain.Session).Inject, twenty("1", "Make it 20.", "", "", "", "",
		"chip", "p", "d", "nobody", "r", "t", "e", "v", "k", "neither", "b", "1", "", "in", "clear", "g", "")...)
	require.NoError(t, err, out)
	assert.Contains(t, out, "The changed order is saved.")
	v := x.visit()
	require.Len(t, v.Decisions, 2)
	assert.Equal(t, "Make it 20.", v.Decisions[1].Words)
	assert.InDelta(t, 20, v.Injections[0].GivenML, 0)
	assert.Empty(t, authorization.Differences(v))
	_, err = x.typed((*plain.Session).Inject, twenty()...)
	require.ErrorIs(t, err, exam.ErrRefused, "one order is one dose")
}

func TestPlainSomethingElseWentIn(t *testing.T) {
	for name, lines := range map[string][]string{
		"at the last question": vaccine("1", "", "in", "clear", "o", "Product Y", "IM", "2"),
		"from the stop":        vaccine("1", "", "in", "clear", "x", "o", "Product Y", "IM", "2"),
	} {
		x := sit(t, screentest.Tetanus())
		out, err := x.typed((*plain.Session).Inject, lines...)
		require.NoError(t, err, "%s: %s", name, out)
		assert.Equal(t, "Product Y", x.visit().Injections[0].Product(), name)
		assert.Contains(t, out, "TELL THE VET: Product Y was given, not the ordered Vaccine T.", name)
		assert.Len(t, x.visit().Watching(), 1, name)
	}
	x := sit(t, screentest.Tetanus())
	_, err := x.typed((*plain.Session).Inject, vaccine("1", "", "in")...)
	require.ErrorIs(t, err, plain.ErrLeft)
	out, err := x.typed((*plain.Session).Inject, "", "e", "Product Y", "IM", "not known")
	require.NoError(t, err, out)
	i := x.visit().Injections[0]
	assert.Equal(t, "Product Y", i.Product())
	assert.True(t, i.NotKnown)
	assert.True(t, i.Afterwards)
}

func TestPlainByTheVeterinarian(t *testing.T) {
	x := sit(t)
	out, err := x.typed((*plain.Session).ByVet, "1", "", "Dr. R. Sommer", "", "Product X", "", "IV", "0", "5", "", "", "")
	require.NoError(t, err, out)
	i := x.visit().Injections[0]
	assert.Equal(t, exam.OwnHands, i.Order.Without)
	assert.Equal(t, "Dr. R. Sommer", i.GivenBy())
	assert.Contains(t, out, "It was given by the veterinarian, Dr. R. Sommer, without an earlier decision.")
	assert.NotContains(t, out, "TELL THE VET")

	aloud := []string{"2", "Dr. R. Sommer", "here", "down and fitting", "Product X", "", "IV", "5 mL", "", "5", "", "", ""}
	x = sit(t)
	out, err = x.typed((*plain.Session).ByVet, aloud...)
	require.NoError(t, err, out)
	require.Len(t, authorization.Differences(x.visit()), 1)
	assert.InDelta(t, 5, x.visit().Injections[0].Order.VolumeML, 0)

	x = sit(t)
	aloud[1] = "Ann Bell"
	out, err = x.typed((*plain.Session).ByVet, aloud...)
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "the person who gives it cannot be the one")
	assert.Empty(t, x.visit().Injections)
}

func TestPlainAWeightFarFromTheLast(t *testing.T) {
	x := sit(t)
	screentest.Number(t, x.store, x.visit(), "weight.body", exam.NoSite, 500, notation.Kilograms)
	c := tenML()
	c.Dose = "2.2 mg/kg"
	screentest.Decide(t, x.store, x.id, c)
	lines := []string{"LT-1", "02/27", "", "100 mg/mL", "", "", "1000kg", "35 mL", "", "", "", "", "", "", "chip", "p", "d"}
	out, err := x.typed((*plain.Session).Inject, append(lines, "y Ann Bell", "quit")...)
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "The veterinarian knows this weight")
	assert.Contains(t, out, "the veterinarian must not be Ann Bell, who gives it")
	assert.Empty(t, x.visit().Injections)
	out, err = x.typed((*plain.Session).Inject, append(lines, "y Dr. R. Sommer", "o", "r", "t", "e", "v", "k", "f", "b")...)
	require.ErrorIs(t, err, plain.ErrLeft)
	require.Len(t, x.visit().Injections, 1, out)
	assert.Contains(t, x.visit().Injections[0].Checks, exam.Checked{Key: order.MovedWeight, OK: true, Words: "Dr. R. Sommer"})
}
