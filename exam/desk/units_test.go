package desk_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// What is read to the veterinarian is in the unit of the person who reads it, reason and value alike.
func TestAHandOffInTheUnitsOfThePerson(t *testing.T) {
	d, _, id := open(t)
	_, err := d.WriteAll(fever(id))
	require.NoError(t, err)
	set := exam.Settings{Units: notation.Units{notation.Celsius: notation.Fahrenheit}}
	d.Judge = d.Judge.Reads(set.Units)
	seen, err := d.Read(id)
	require.NoError(t, err)
	text := d.Page(seen, "", "Ann Bell", set, now()).Text(80)
	assert.Contains(t, text, "104.4 F") // 40.2 C x 1.8 + 32 (NIST SP 811, appendix B)
	assert.NotRegexp(t, `\d C\b`, strings.ReplaceAll(text, "41 C (105.8 F)", ""))
	f, _ := seen.Visit.Finding(exam.Key{Step: "temp.rectal"})
	assert.Equal(t, notation.Quantity{Value: 40.2, Unit: notation.Celsius}, *f.Value.Number, "the record keeps what was typed")
}
