package intake_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func readExams(text string, ignore ...string) ([]intake.ExamRow, error) {
	return intake.ReadExams(strings.NewReader(text), "exams.csv", steps.Table(), ignore)
}

// problemsOf says where the problems of a refused file lie.
func problemsOf(t *testing.T, err error) []intake.Problem {
	t.Helper()
	var bad *intake.FileError
	require.ErrorAs(t, err, &bad)
	require.NotEmpty(t, bad.Problems)
	for _, line := range strings.Split(err.Error(), "\n") {
		assert.Equal(t, notation.CleanLine(line, 2000), line, "an error is safe to draw")
	}
	return bad.Problems
}

func TestExamsOfOneRow(t *testing.T) {
	same := []string{
		"id,kind,age,breed,sex,at_rest,heart.rate,temp.rectal,gut.sounds:left upper,gum.refill,pain.signs\n" +
			"a1,pony,9y,Dales,mare,yes,44,38.4,none,2.4,\"flank, paws\"\n",
		"id;kind;age;breed;sex;at_rest;heart.rate;temp.rectal;gut.sounds:left upper;gum.refill;pain.signs\r\n" +
			"a1;Pony;9 years;Dales;MARE;Yes;44 /min;38,4 C;NONE;2,4 s;looks at its flank;\r\n",
		"\xef\xbb\xbfid\tkind\tage\tbreed\tsex\tat_rest\theart.rate\ttemp.rectal\tgut.sounds: left upper\tgum.refill\tpain.signs\n\n" +
			"a1\tpony\t108mo\tDales\tmare\ttrue\t44\t38.4\tnone\t2.4\tpaws;flank\n\t\t\t\t\t\t\t\t\t\t\n",
		`[{"id":"a1","kind":"pony","age":"9y","breed":"Dales","sex":"mare","at_rest":true,"heart.rate":44,
		"temp.rectal":38.4,"gut.sounds:left upper":"none","gum.refill":2.4,"pain.signs":"flank,paws"}]`,
	}
	for i, text := range same {
		if i == 1 { // a trailing separator is one field too many
			_, err := readExams(text)
			require.Error(t, err)
			text = strings.ReplaceAll(text, "flank;\r", "flank\r")
		}
		rows, err := readExams(text)
		require.NoError(t, err, text)
		require.Len(t, rows, 1)
		v := rows[0].Visit
		assert.Equal(t, "a1", rows[0].ID)
		assert.Equal(t, ranges.Pony, v.Class().Name)
		assert.Equal(t, exam.Mare, v.Horse.Sex)
		assert.Equal(t, []exam.State{exam.StateRest}, v.Context.States)
		require.Len(t, v.Findings, 5)
		for key, want := range map[exam.Key]float64{{Step: "heart.rate"}: 44, {Step: "temp.rectal"}: 38.4, {Step: "gum.refill"}: 2.4} {
			f, ok := v.Finding(key)
			require.True(t, ok)
			step, _ := steps.Table().ByID(key.Step)
			x, ok := f.Value.In(step.Unit)
			require.True(t, ok)
			assert.InDelta(t, want, x, 1e-9)
		}
		g, _ := v.Finding(exam.Key{Step: "gut.sounds", Site: exam.LeftUpper})
		assert.Equal(t, []string{"none"}, g.Value.Words)
	}
}

func TestExamsNumbersKeepTheirUnitAndBound(t *testing.T) {
	rows, err := readExams("id,temp.rectal,heart.rate,gum.refill\n1,101.2F,< 60,>= 3\n2,38,at least 60 /min,under 3 s\n3,,50 or more,3 s or less\n4,not done: unsafe,not done,1.5 2.0 4.0\n")
	require.NoError(t, err)
	find := func(row int, id exam.StepID) exam.Finding {
		f, ok := rows[row].Visit.Finding(exam.Key{Step: id})
		require.True(t, ok)
		return f
	}
	assert.Equal(t, notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}, *find(0, "temp.rectal").Value.Number)
	assert.Equal(t, "101.2F", find(0, "temp.rectal").Value.Typed)
	assert.Equal(t, exam.Under, find(0, "heart.rate").Value.Bound)
	assert.Equal(t, exam.AtLeast, find(0, "gum.refill").Value.Bound)
	assert.Equal(t, exam.AtLeast, find(1, "heart.rate").Value.Bound)
	assert.Equal(t, exam.Under, find(1, "gum.refill").Value.Bound)
	assert.Equal(t, exam.ReasonNotRecorded, find(2, "temp.rectal").NotDone)
	assert.Equal(t, exam.AtLeast, find(2, "heart.rate").Value.Bound)
	assert.Equal(t, exam.UpTo, find(2, "gum.refill").Value.Bound)
	assert.Equal(t, exam.ReasonUnsafe, find(3, "temp.rectal").NotDone)
	assert.Equal(t, exam.ReasonNotRecorded, find(3, "heart.rate").NotDone)
	assert.Equal(t, []float64{1.5, 2, 4}, find(3, "gum.refill").Value.TrialsS)
	assert.InDelta(t, 2.0, find(3, "gum.refill").Value.Number.Value, 0)
}

func TestExamsAges(t *testing.T) {
	for age, want := range map[string]ranges.Class{
		"": ranges.AdultLight, "adult": ranges.AdultLight, "foal": ranges.FoalAgeUnknown, "under 6 months": ranges.FoalAgeUnknown,
		"30min": ranges.FoalFirstHour, "5h": ranges.FoalFirstHours, "7h": ranges.FoalFirstDay, "2d": ranges.FoalFirstWeek, "3 weeks": ranges.FoalFirstMonth,
		"5mo": ranges.FoalToSixMonths, "6mo": ranges.Weanling, "1y": ranges.Yearling, "1.5y": ranges.Yearling,
		"2y": ranges.TwoThree, "3.9 y": ranges.TwoThree, "4y": ranges.AdultLight, "31 years": ranges.AdultLight,
	} {
		rows, err := readExams("id,age,heart.rate\n1," + age + ",40\n")
		require.NoError(t, err, age)
		assert.Equal(t, want, rows[0].Visit.Class().Name, age)
	}
	for _, age := range []string{"9", "90y", "-1y", "y", "9 moons", "1e9y", "9999999999999999999h", "old"} {
		_, err := readExams("id,age,heart.rate\n1," + age + ",40\n")
		p := problemsOf(t, err)
		assert.Equal(t, 2, p[0].Line, age)
		assert.Equal(t, "age", p[0].Column)
	}
}

func TestExamsIgnoreAndNotices(t *testing.T) {
	rows, err := readExams("id,farm,heart.rate\n1,x,184\n", "Farm")
	require.NoError(t, err)
	require.Len(t, rows[0].Notices, 1)
	assert.Contains(t, rows[0].Notices[0], "exams.csv:2: heart.rate: 184 /min")
	_, err = readExams("id,heart.rate\n1,40\n", "farm")
	assert.Equal(t, "farm", problemsOf(t, err)[0].Column)
}

func TestExamsLongCellsAreCutAndSaid(t *testing.T) {
	for _, text := range []string{
		"id,note\n1," + strings.Repeat("x", 5000) + "\n",
		"[{\"id\":\"1\",\n\"note\":\"" + strings.Repeat("x", 5000) + "\"}]",
	} {
		rows, err := readExams(text)
		require.NoError(t, err)
		require.Len(t, rows[0].Notices, 1)
		assert.Contains(t, rows[0].Notices[0], ":2: note: longer than 4000")
		assert.Len(t, rows[0].Visit.Findings[0].Value.Text, notation.MaxNote)
	}
}

func TestExamsHostileTextIsCleaned(t *testing.T) {
	_, err := readExams("id,breed,heart.rate\n\"\x1b[31mA\u202e1\x9b2J\nB\",M\xfcller,40\n")
	assert.Contains(t, problemsOf(t, err)[0].What, "the letters can be read in", "half UTF-8, half not: asked, never a question mark")
	rows, err := readExams("id,breed,heart.rate\n\"\x1b[31mA\n1\nB\",M\xfcller,40\n")
	require.NoError(t, err)
	assert.Equal(t, notation.CleanLine(rows[0].ID, 0), rows[0].ID)
	assert.NotContains(t, rows[0].ID, "\x1b")
	assert.Equal(t, "Müller", rows[0].Visit.Horse.Breed)
	require.NotEmpty(t, rows[0].Notices)
	assert.Contains(t, rows[0].Notices[0], "the letters are read as windows-1252: line 4 has Müller")
}

// A stallion that is said to be in foal would be judged by the faster heart of a mare in foal: 62 a minute would be a recheck.
func TestSexAgeAndInFoalMustGoTogether(t *testing.T) {
	for row, column := range map[string]string{
		"stallion,8y,10mo,62": "in_foal",
		"gelding,8y,yes,62":   "in_foal",
		"mare,6mo,yes,62":     "in_foal",
		"filly,9y,,62":        "sex",
	} {
		_, err := readExams("sex,age,in_foal,heart.rate\n" + row + "\n")
		problems := problemsOf(t, err)
		require.Len(t, problems, 1, row)
		assert.Equal(t, column, problems[0].Column, row)
	}
	rows, err := readExams("sex,age,in_foal,heart.rate\nmare,8y,10mo,62\n,8y,10mo,62\nstallion,8y,no,62\n")
	require.NoError(t, err)
	assert.Len(t, rows, 3)
}
