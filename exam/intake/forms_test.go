package intake_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
)

const short = `horse: {kind: horse}
visit: {by: Sue Hart}
columns:
  Name: horse name
  Seen: date
  Temp: {step: temp.rectal, unit: C}
`

func days(t *testing.T, visits []intake.Visit) []string {
	t.Helper()
	var out []string
	for _, v := range visits {
		out = append(out, v.At().Format("2006-01-02 15:04"))
	}
	return out
}

// The forms in which people write dates. The order of day and month is taken from
// the file only where a line settles it.
func TestDatesAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct {
		cells, want []string
		notice      string
	}{
		{[]string{"03/04/2019", "25/04/2019"}, []string{"2019-04-03 12:00", "2019-04-25 12:00"}, "day, month, year, because line 3 has 25/04/2019"},
		{[]string{"03/04/2019 14:30", "04/25/2019"}, []string{"2019-03-04 14:30", "2019-04-25 12:00"}, "month, day, year, because line 3 has 04/25/2019"},
		{[]string{"3.4.19", "25.4.19 8:05"}, []string{"2019-04-03 12:00", "2019-04-25 08:05"}, "day, month, year"},
		{[]string{"4 May 2019", "May 5, 2019", "6-May-2019", "7 Jan 2020 09:15", "2019-05-08"}, []string{"2019-05-04 12:00", "2019-05-05 12:00", "2019-05-06 12:00", "2020-01-07 09:15", "2019-05-08 12:00"}, ""},
		{[]string{"05/05/2019"}, []string{"2019-05-05 12:00"}, ""},
	} {
		visits, err := apply(t, short, "Name,Seen,Temp\n"+rowsOf(c.cells))
		require.NoError(t, err, c.cells)
		assert.Equal(t, c.want, days(t, visits), c.cells)
		if c.notice != "" {
			assert.Contains(t, strings.Join(visits[0].Notices, " "), c.notice)
		}
	}
}

func rowsOf(dates []string) string {
	var b strings.Builder
	for i, d := range dates {
		b.WriteString("Bracken,\"" + d + "\",38." + string(rune('0'+i)) + "\n")
	}
	return b.String()
}

// 03/04 is a question for a person, never a guess.
func TestAnAmbiguousDateIsAsked(t *testing.T) {
	_, err := apply(t, short, "Name,Seen,Temp\n"+rowsOf([]string{"2019-05-01", "03/04/2019", "05/06/2019"}))
	require.ErrorContains(t, err, "yard.csv:3: Seen: is 03/04/2019 day 3 of month 4, or month 3, day 4?")
	require.ErrorContains(t, err, "format: DD/MM/YYYY or format: MM/DD/YYYY")
	_, err = apply(t, short, "Name,Seen,Temp\n"+rowsOf([]string{"25/04/2019", "04/25/2019", "03/04/2019"}))
	require.ErrorContains(t, err, "the day is first in line 2 (25/04/2019) and the month in line 3 (04/25/2019), so 03/04/2019 is not clear")
	visits, err := apply(t, short, "Name,Seen,Temp\n"+rowsOf([]string{"25/04/2019", "04/26/2019", "2019-04-27", "28 Apr 2019", "05/05/2019"}))
	require.NoError(t, err, "several forms, each of which says itself")
	assert.Equal(t, []string{"2019-04-25 12:00", "2019-04-26 12:00", "2019-04-27 12:00", "2019-04-28 12:00", "2019-05-05 12:00"}, days(t, visits))
	for _, never := range []string{"31/02/2019", "13/13/2019", "1/2-2019", "4 Mai 2019"} {
		_, err = apply(t, short, "Name,Seen,Temp\n"+rowsOf([]string{never}))
		require.Error(t, err, never)
	}
}

const long = `horse: {kind: horse}
visit: {by: Sue Hart}
columns:
  Name: horse name
  Seen: date
  Test: {is: step, values: {T: temp.rectal, HR: heart.rate, Gut: gut.sounds}}
  Where: site
  Result: value
  Unit: unit
  Remark: note
`

// One finding a row: rows of one horse and date are one visit, units stand in the row.
func TestOneFindingARow(t *testing.T) {
	visits, err := apply(t, long, "Name,Seen,Test,Where,Result,Unit,Remark\n"+
		"Bracken,2019-05-04,T,,101.2,F,held by Bo\n"+
		"Pip,2019-05-04,T,,38.1,C,\n"+
		"Bracken,2019-05-04,HR,,36,,quiet\n"+
		"Bracken,2019-05-04,Gut,left upper,none,,\n"+
		"Bracken,2019-05-11,HR,,not done: unsafe,,\n")
	require.NoError(t, err)
	require.Len(t, visits, 3)
	v := fold(t, visits[0])
	require.Len(t, v.Findings, 3, "what has no row was not asked")
	f, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	require.True(t, ok)
	assert.Equal(t, notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}, *f.Value.Number)
	_, ok = v.Finding(exam.Key{Step: "gut.sounds", Site: exam.LeftUpper})
	assert.True(t, ok)
	assert.Equal(t, "Remark: held by Bo; quiet", v.Notes[0].Text)
	last := fold(t, visits[2])
	assert.Equal(t, exam.ReasonUnsafe, last.Findings[0].NotDone)
	assert.Equal(t, time.Date(2019, 5, 11, 12, 0, 0, 0, time.FixedZone("", 3600)).Unix(), last.OpenedAt.Unix())
}

func TestOneFindingARowIsRefusedByLine(t *testing.T) {
	head := "Name,Seen,Test,Where,Result,Unit,Remark\n"
	for rows, want := range map[string]string{
		"Bracken,2019-05-04,T,,38,C,\nBracken,2019-05-04,T,,39,C,\n":           "yard.csv:3: Test: \"temp.rectal\" is there twice in one visit; line 2 has it too",
		"Bracken,2019-05-04,X,,38,C,\n":                                        "yard.csv:2: Test: \"X\" is not among the values",
		"Bracken,2019-05-04,,,38,C,\n":                                         "yard.csv:2: Test: nothing says which step",
		"Bracken,2019-05-04,Gut,,none,,\nBracken,2019-05-04,Gut,tail,none,,\n": "yard.csv:3: Test: gut.sounds needs a site",
		"Bracken,2019-05-04,HR,,36,,\nBracken,2019-05-04,T,,hot,C,\n":          "yard.csv:3: temp.rectal:",
		"Bracken,2019-05-04,T,,38,kg,\n":                                       "yard.csv:2: temp.rectal:",
	} {
		_, err := apply(t, long, head+rows)
		require.ErrorContains(t, err, want, rows)
	}
	_, err := mapOf(strings.Replace(long, "  Result: value\n", "", 1))
	require.ErrorContains(t, err, "a column that is the step and one that is the value")
	_, err = mapOf(long + "  Temp: temp.rectal\n")
	require.ErrorContains(t, err, "not both")
}
