package handoff_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/handoff"
	"loosebox/exam/notation"
)

// What a medicine may hide is said beside the signs; that nobody asked is said too. A visit that was taken from
// elsewhere and does not say is silent.
func TestMedicineIsSaidInItsOwnLine(t *testing.T) {
	for line, c := range map[string]exam.Context{
		"Medicine in the last 24 hours: not asked.":                          {},
		"Medicine in the last 24 hours: not known.":                          {Medicines: []exam.Medicine{exam.MedicineNotKnown}},
		"No medicine in the last 24 hours.":                                  {Medicines: []exam.Medicine{exam.NoMedicine}},
		"Medicine in the last 24 hours: for pain or fever (paste at 07:00).": {Medicines: []exam.Medicine{exam.ForPain}, Given: "paste at 07:00"},
	} {
		v := visit(noon(), number("heart.rate", 52, notation.PerMinute))
		v.Context = c
		p := handoff.Make(input(t, v))
		var said []string
		for _, s := range p.Sections {
			said = append(said, s.Lines...)
		}
		assert.Contains(t, said, line)
		assert.Equal(t, 1, strings.Count(strings.Join(said, "\n"), "edicine"))
		assert.Contains(t, p.Subject, line)
	}
	v := visit(noon())
	v.Source = "old.csv"
	assert.NotContains(t, strings.Join(handoff.Make(input(t, v)).Subject, "\n"), "edicine")
}
