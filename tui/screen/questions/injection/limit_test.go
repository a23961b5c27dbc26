package injection_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/screentest"
)

// tenML is a decided dose of 10 mL into a muscle.
func tenML() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product X", Route: exam.RouteIM, Dose: "10 mL"}
}

// refused fills the order in with twice the decided volume, up to the refusal.
func refused(t *testing.T, size layout.Size) *bench {
	t.Helper()
	b := sit(t, size, tenML())
	b.line("LT-1")
	b.line("02/27")
	b.Press("down", "down", "down") // ingredient, strength, maker
	b.line("")                      // dose as decided
	b.line("500kg")
	b.line("20") // syringe of 20 mL
	b.line("20") // volume
	b.Press("ctrl+s")
	return b
}

// changing is the form of the changed order behind the refusal.
func changing(t *testing.T, size layout.Size) *bench {
	t.Helper()
	b := refused(t, size)
	b.Press("v")
	return b
}

// byVet is the form of what the veterinarian gave.
func byVet(t *testing.T, size layout.Size) *bench {
	t.Helper()
	b := sit(t, size)
	b.open(script.ByVet, size)
	return b
}

func TestGoldensOfTheLimit(t *testing.T) {
	for name, make := range map[string]func(*testing.T, layout.Size) *bench{
		"refused": refused,
		"changed": func(t *testing.T, size layout.Size) *bench {
			b := changing(t, size)
			b.line("Make it 20 mL.")
			return b
		},
		"by-vet": byVet,
		"by-vet-emergency": func(t *testing.T, size layout.Size) *bench {
			b := byVet(t, size)
			b.Press("2", "enter")
			return b
		},
		"else": func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "c", "o")
			return b
		},
		"moved-weight": func(t *testing.T, size layout.Size) *bench {
			b := moved(t, size, "1000kg")
			b.Press("m", "p", "d")
			return b
		},
	} {
		screentest.Goldens(t, "injection-"+name, func(t *testing.T, size layout.Size) *screentest.Driver { return make(t, size).Driver })
	}
}

func TestAnOrderUnlikeTheDecisionIsRefused(t *testing.T) {
	b := refused(t, wide())
	require.True(t, b.Shows("REFUSED"), b.View())
	assert.True(t, b.Reads("Dr. R. Sommer decided 10 mL, not 20 mL."), b.View())
	before := b.store.Writes()
	b.Press("enter", "enter")
	assert.True(t, b.Reads("Press one of: v, b."), b.View())
	b.Press("ctrl+s", "space", "1", "y", "x")
	assert.True(t, b.Shows("REFUSED"), b.View())
	assert.Equal(t, before, b.store.Writes(), "no other key leads on")
	b.Press("b")
	assert.True(t, b.Shows("volume in mL"), b.View())
	b.Press("ctrl+s")
	assert.True(t, b.Shows("REFUSED"), "the form again, and no way around")
}

func TestTheChangedOrderLetsItBeGiven(t *testing.T) {
	b := changing(t, wide())
	b.Press("ctrl+s")
	assert.True(t, b.Reads("type the veterinarian's own words"), b.View())
	b.line("He says 20, she is big.")
	assert.True(t, b.Shows("veterinarian: Dr. R. Sommer"), b.View())
	b.Press("ctrl+s")
	require.True(t, b.Shows("Right horse"), b.View())
	decisions := b.visit().Decisions
	require.Len(t, decisions, 2)
	d := decisions[1]
	assert.Equal(t, "He says 20, she is big.", d.Words)
	assert.Equal(t, "Dr. R. Sommer", d.Vet)
	assert.Equal(t, "20 mL", d.Covers[0].Dose)
	assert.False(t, decisions[0].Corrected, "what was decided first stays")
	b.checks()
	b.Press("enter", "i", "c", "g")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.InDelta(t, 20, i.GivenML, 0)
	assert.Equal(t, d.Seq, i.Order.Decision)
	assert.Empty(t, authorization.Differences(b.visit()))
	b.open(0, wide())
	assert.True(t, b.Shows("LOCKED"), b.View())
	assert.True(t, b.Reads("ordered one dose of Product X"), b.View())
}

// esc goes back one part at a time, and nothing is written by it; what the form
// holds is thrown away only when it is pressed twice.
func TestEscOnTheScreensOfTheLimit(t *testing.T) {
	b := changing(t, wide())
	b.Type("half a sent")
	before := b.store.Writes()
	b.Press("esc")
	assert.True(t, b.Shows("REFUSED"), b.View())
	b.Press("esc")
	assert.True(t, b.Shows("volume in mL: 20"), b.View())
	b.Press("esc")
	assert.False(t, b.Left(), b.View())
	b.Press("esc")
	assert.True(t, b.Left())
	assert.Equal(t, before, b.store.Writes())

	b = byVet(t, wide())
	b.Press("down")
	b.Type("Dr. R. Sommer")
	b.Press("esc")
	assert.False(t, b.Left())
	assert.True(t, b.Reads("Nothing is saved yet. esc again leaves"), b.View())
	b.Press("esc")
	assert.True(t, b.Left())
	assert.Empty(t, b.visit().Injections)

	b = ordered(t, wide())
	b.Press("enter", "i", "c", "o")
	b.Type("Product Y")
	b.Press("esc")
	assert.True(t, b.Shows("[g] given: 1 mL, as ordered"), b.View())
	_, in := b.injection(1).NeedleIn()
	assert.True(t, in, "nothing is made up")
}

// A syringe is chosen by the size that was typed, and by nothing near it.
func TestASyringeIsTheSizeThatWasTyped(t *testing.T) {
	at := func() *bench {
		b := sit(t, wide(), tenML())
		b.line("LT-1")
		b.line("02/27")
		b.Press("down", "down", "down", "down")
		b.line("500kg")
		return b
	}
	b := at()
	b.line("12")
	assert.Contains(t, b.Row("syringe"), "12 mL", b.View())
	b.Press("ctrl+s")
	b.checks()
	assert.InDelta(t, 12, b.injection(1).Order.SyringeML, 0)
	assert.InDelta(t, 10, b.injection(1).Order.VolumeML, 0)

	b = at()
	b.Type("13")
	b.Press("ctrl+s")
	assert.False(t, b.Shows("Right horse"), b.View())
	assert.True(t, b.Reads("there is no size of 13: 1 mL"), "the list is shown: %s", b.View())
	b.Press("enter", "ctrl+s")
	b.checks()
	assert.InDelta(t, 10, b.injection(1).Order.SyringeML, 0, "the proposed one still, not the 1 mL of its first digit")
	assert.InDelta(t, 10, b.injection(1).Order.VolumeML, 0, "the volume does not follow a size that there is not")
}

func TestWhatTheVeterinarianGaveIsSaved(t *testing.T) {
	b := byVet(t, wide())
	b.Press("ctrl+s")
	assert.True(t, b.Reads("say which veterinarian it was, by name"), b.View())
	b.line("Dr. R. Sommer")
	b.line("Product X")
	b.Press("down", "down") // lot not known, into a vein
	b.line("not known")
	b.Press("ctrl+s")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.Equal(t, exam.OwnHands, i.Order.Without)
	assert.Equal(t, "Dr. R. Sommer", i.GivenBy())
	assert.True(t, i.NotKnown)
	assert.Empty(t, authorization.Differences(b.visit()), "the veterinarian knows what they gave")
	assert.True(t, b.Reads("given by the veterinarian, Dr. R. Sommer, without an earlier decision"), b.View())
}

func TestAnOrderAloudInAnEmergency(t *testing.T) {
	b := byVet(t, wide())
	b.Press("2", "enter")
	b.line("ann bell")
	b.Press("enter") // here
	b.line("down and fitting")
	b.line("Product X")
	b.Press("down", "down")
	b.line("5 mL")
	b.Press("down")
	b.line("5")
	b.Press("ctrl+s")
	assert.True(t, b.Reads("the person who gives it cannot be the one"), b.View())
	require.Empty(t, b.visit().Injections)
	for n := 0; n < 20 && !strings.HasPrefix(b.Row(" veterinarian:"), ">"); n++ {
		b.Press("up")
	}
	for range "ann bell" {
		b.Press("backspace")
	}
	b.line("Dr. R. Sommer")
	b.Press("ctrl+s")
	i := b.injection(1)
	assert.Equal(t, exam.Emergency, i.Order.Without)
	assert.InDelta(t, 5, i.Order.VolumeML, 0)
	said := authorization.Differences(b.visit())
	require.Len(t, said, 1)
	assert.Contains(t, said[0].Why, "No decision confirms it yet")
}

// A technician who writes the own name as the veterinarian's is asked nothing, but
// it does not pass for the veterinarian's word.
func TestOnesOwnNameIsNoVeterinariansWord(t *testing.T) {
	b := byVet(t, wide())
	b.Press("down")
	b.Type("Ann Bell")
	assert.True(t, b.Reads("Check: your own name: tell the vet; a decision must confirm it"), b.View())
	b.Press("enter")
	b.line("Product X")
	b.Press("down", "down")
	b.line("5")
	b.Press("ctrl+s")
	assert.Equal(t, exam.InjectionGiven, b.injection(1).State, "It is saved as given; tell the vet")
	said := authorization.Differences(b.visit())
	require.Len(t, said, 1)
	assert.Contains(t, said[0].Why, "and recorded under the same name")
	screentest.Decide(t, b.store, b.id, tenML())
	assert.Empty(t, authorization.Differences(b.visit()))
}

// moved is the check list of an order by weight, when the last weight in the record
// is 500 kg.
func moved(t *testing.T, size layout.Size, weight string) *bench {
	t.Helper()
	b := sit(t, size)
	screentest.Number(t, b.store, b.visit(), "weight.body", exam.NoSite, 500, notation.Kilograms)
	c := screentest.Calming()
	c.Dose = "2.2 mg/kg"
	screentest.Decide(t, b.store, b.id, c)
	b.open(0, size)
	b.line("C-9")
	b.line("02/27")
	b.Press("down")
	b.line("100 mg/mL")
	b.Press("down")
	b.line("")
	for range "500 kg" {
		b.Press("backspace")
	}
	b.line(weight)
	b.line("30")
	b.Press("ctrl+s")
	require.True(t, b.Shows("Right horse"), b.View())
	return b
}

// A weight far from the last in the record would make any volume fit: it takes the
// veterinarian's name.
func TestAWeightFarFromTheLastTakesTheVeterinariansWord(t *testing.T) {
	for weight, asked := range map[string]bool{"500kg": false, "590kg": false, "610kg": true, "1000kg": true, "390kg": true, "1100lb": false} {
		b := moved(t, wide(), weight)
		b.Press("m", "p", "d")
		assert.Equal(t, asked, b.Shows("> The veterinarian knows this weight"), "%s: %s", weight, b.View())
	}
	b := moved(t, wide(), "1000kg")
	b.Press("m", "p", "d", "y")
	b.line("ann bell")
	assert.True(t, b.Reads("the veterinarian must not be ann bell, who gives it"), b.View())
	for range "ann bell" {
		b.Press("backspace")
	}
	b.line("Dr. R. Sommer")
	b.Press(inOrder()[3:]...)
	b.Press("enter")
	i := b.injection(1)
	assert.Contains(t, i.Checks, exam.Checked{Key: order.MovedWeight, OK: true, Words: "Dr. R. Sommer"})
	assert.InDelta(t, 22, i.Order.VolumeML, 1e-9) // 2.2 x 1000 / 100
}

// Something else is said at any moment with a needle in, and after an interruption.
func TestSomethingElseWentIn(t *testing.T) {
	for name, c := range map[string]struct {
		keys       []string
		afterwards bool
	}{
		"at the last question":  {[]string{"c", "o"}, false},
		"from the stop form":    {[]string{"x", "o"}, true},
		"after an interruption": {[]string{"e"}, true},
	} {
		b := ordered(t, wide())
		b.Press("enter", "i")
		if c.keys[0] == "e" {
			b.open(0, wide())
		}
		b.Press(c.keys...)
		for range "Vaccine T" {
			b.Press("backspace")
		}
		b.line("Product Y")
		b.Press("down")
		b.line("2")
		b.Press("ctrl+s")
		i := b.injection(1)
		assert.Equal(t, exam.InjectionGiven, i.State, "%s: %s", name, b.View())
		assert.Equal(t, "Product Y", i.Product(), name)
		assert.Equal(t, c.afterwards, i.Afterwards, name)
		require.Len(t, authorization.Differences(b.visit()), 1, name)
		assert.True(t, b.Shows("TELL THE VET"), "%s: %s", name, b.View())
		assert.True(t, b.Reads("Product Y was given, not the ordered Vaccine T."), b.View())
		require.Len(t, b.visit().Watching(), 1, "%s: it is watched all the same", name)
	}
}

func TestTheScreensOfTheLimitSqueezed(t *testing.T) {
	refused(t, wide()).Squeeze()
	changing(t, wide()).Squeeze()
	byVet(t, wide()).Squeeze()
	b := ordered(t, wide())
	b.Press("enter", "i", "c", "o")
	b.Squeeze()
}
