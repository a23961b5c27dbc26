package notation_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/notation"
)

// A short form of a name may be the same person; two whole names that differ are not, and neither is who was said to be
// somebody else.
func TestAShortFormMayBeTheSamePerson(t *testing.T) {
	for _, name := range []string{
		"Nell Harrow", " nell  HARROW.", "N Harrow", "N. Harrow", "Nell H", "Nell", "Harrow", "NH", "N.H.", "n", "Harrow N", "Harrow, N.", "Harrow, Nell",
		"Nell Mary Harrow", "N. M. Harrow", "Nell Harrow-Smith", "Nell Harrow, groom",
	} {
		assert.True(t, notation.MayBe(name, "Nell Harrow"), name)
	}
	for _, name := range []string{"NellHarrow", "HarrowNell", "Néll Harrów", "me", "Myself", "same"} {
		assert.True(t, notation.MayBe(name, "Nell Harrow"), "other spelling: "+name)
		assert.False(t, notation.MayBe(name+", groom", "Nell Harrow"), "who it is was said: "+name)
	}
	for _, name := range []string{"Nel Harrow", "Nelll Harrow", "Nell Harow", "Nell Harrwo", "Nell Harrov", "Harow, Nell", "Harrow Nel", "NelHarrow", "N Harow", "Harow"} {
		assert.True(t, notation.MayBe(name, "Nell Harrow"), "one slip: "+name)
		assert.True(t, notation.MayBe("Nell Harrow", name), "one slip in the settings: "+name)
		assert.False(t, notation.MayBe(name+", groom", "Nell Harrow"), "who it is was said: "+name)
	}
	for _, name := range []string{"Nel Harow", "Nell Marrov", "Mell Harlow", "Noll Barrow", "Nan Harrow"} {
		assert.False(t, notation.MayBe(name, "Nell Harrow"), "two slips: "+name)
	}
	assert.False(t, notation.MayBe("Jan", "Jon"), "too short to tell")
	for _, name := range []string{"Jurgen Soderby", "Juergen Soederby", "J. Soderby", "Jürgen", "Ju\u0308rgen So\u0308derby"} {
		assert.True(t, notation.MayBe(name, "Jürgen Söderby"), name)
	}
	for _, name := range []string{"N Harrow, groom", "NH, groom", "Harrow, N., groom", "Nora Harrow", "Nell Marsh", "Dr. Harrow", "Nan", "NM", "P Harrow", "Ann Bell", "", "12"} {
		assert.False(t, notation.MayBe(name, "Nell Harrow"), name)
	}
	for _, person := range []string{"NH", "N Harrow", "Nell", "Nell Harrow, technician"} {
		assert.True(t, notation.MayBe("Nell Harrow", person), person)
		assert.False(t, notation.MayBe("Ann Bell", person), person)
	}
	assert.True(t, notation.MayBe("Żaneta Łuk", "żł"), "letters, not bytes")
	assert.False(t, notation.MayBe("Ann Bell", ""))
	assert.False(t, notation.SameName("", ""), "nobody is not somebody")
	assert.True(t, notation.SameName("nell harrow", "Nell Harrow, groom"))
	assert.False(t, notation.SameName("N Harrow", "Nell Harrow"))
}
