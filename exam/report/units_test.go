package report_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/steps"
)

// A page that people read is in the units of the person who works there; the record and its files stay as typed.
func TestAPageInTheUnitsOfThePerson(t *testing.T) {
	number := func(v float64, unit notation.Unit) *exam.Value {
		return &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: unit}}
	}
	kg := number(500, notation.Kilograms)
	kg.Kind = exam.KindWeight
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(36.4)},
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39.4), Corrects: 2},
		exam.Entry{Kind: exam.EntryFinding, Step: "weight.body", Value: kg},
		exam.Entry{Kind: exam.EntryFinding, Step: "height.withers", Value: number(157.48, notation.Centimetre)},
	)
	p.Judge = theJudge(t)
	p.Units = notation.Units{
		notation.Celsius: notation.Fahrenheit, notation.Kilograms: notation.Pounds, notation.Centimetre: notation.Inch, notation.Inch: notation.Hands,
	}
	owner := report.SetText(report.OwnerBlocks(p, p.Judge), 80)
	for _, text := range []string{report.Text(p, 100), owner} {
		assert.Contains(t, text, "102.9 F") // 39.4 C (NIST SP 811, appendix B)
		assert.Contains(t, text, "97.5 F")  // 36.4 C, before the correction
		assert.Contains(t, text, "1102 lb") // 500 kg
		assert.Contains(t, text, "15.2 hh") // 157.48 cm = 62 in, four to a hand
		for _, unit := range []string{" C", " kg", " cm"} {
			for _, line := range strings.Split(text, "\n") {
				assert.NotRegexp(t, `\d`+unit+`\b`, line)
			}
		}
	}
	raw, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	assert.Contains(t, string(raw), `"value":39.4,"unit":"C"`)
	assert.NotContains(t, string(raw), "102.9")
	var csv strings.Builder
	require.NoError(t, report.WriteCSV(&csv, p))
	assert.Contains(t, csv.String(), "39.4,C")
}

// A sheet for a horse asks for the person's unit and says what is usual in it.
func TestASheetInTheUnitsOfThePerson(t *testing.T) {
	units := notation.Units{notation.Celsius: notation.Fahrenheit, notation.Centimetre: notation.Inch, notation.Inch: notation.Hands}
	horse := page(t).Visit.Horse
	text := report.SheetText(report.NewSheet(steps.Routines()[0], steps.Table(), units, &horse, exam.ClassOf(horse, page(t).Visit.OpenedAt), theJudge(t)), 80)
	assert.Regexp(t, `Rectal temperature \(usual [\d.]+-[\d.]+ F\)`, text)
	assert.Contains(t, text, "________ F\n")
	assert.NotContains(t, text, "C / F")
}

// The sheet of an animal asks for nothing that it cannot have; of one whose sex is not known it asks for all.
func TestTheSheetOfASex(t *testing.T) {
	sheet := func(sex exam.Sex) string {
		horse := page(t).Visit.Horse
		horse.Sex = sex
		text := report.SheetText(report.NewSheet(steps.Routines()[0], steps.Table(), nil, &horse, exam.ClassOf(horse, page(t).Visit.OpenedAt), theJudge(t)), 200)
		return strings.ToLower(text)
	}
	for sex, want := range map[exam.Sex][3]bool{ // afterbirth, penis, scrotum
		exam.Mare: {true, false, false}, exam.Filly: {true, false, false}, exam.Gelding: {false, true, false}, exam.Stallion: {false, true, true}, exam.SexUnknown: {true, true, true},
	} {
		text := sheet(sex)
		for i, words := range []string{"afterbirth not out", "penis hangs", "scrotum hot"} {
			assert.Equal(t, want[i], strings.Contains(text, words), "%s: %s", sex, words)
		}
		assert.Contains(t, text, "sores or growths")
	}
}
