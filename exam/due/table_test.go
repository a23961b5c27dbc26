package due_test

import (
	"encoding/csv"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/due"
	"loosebox/ranges"
)

func table(t require.TestingT) *due.Table {
	built, err := due.BuiltIn()
	require.NoError(t, err)
	return built
}

// chart is the guideline table as it was read (AAEP charts and pages; the sources
// by key in tables/sources.csv), kept apart from the table of the program.
func chart(t *testing.T) []map[string]string {
	f, err := os.Open("testdata/chart.csv")
	require.NoError(t, err)
	defer f.Close() //nolint:errcheck // read only
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = rec[i]
		}
		out = append(out, row)
	}
	return out
}

func numbers(text string) []string {
	text = regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(text, "") // versions in brackets stand in the note
	return regexp.MustCompile(`\d+`).FindAllString(text, -1)
}

func spanNumbers(list ...due.When) []string {
	var out []string
	for _, w := range list {
		if w.Base != due.Every && w.Base != due.Now {
			out = append(out, numbers(w.String())...)
		}
	}
	return out
}

func TestEveryRowOfTheChartIsHeldAsItWasRead(t *testing.T) {
	rows := table(t).Rows()
	want := chart(t)
	var read, held []string
	for _, c := range want {
		read = append(read, c["disease"]+" "+c["group"])
	}
	for _, r := range rows {
		held = append(held, r.Disease+" "+r.Group)
	}
	require.Equal(t, read, held, "testdata/chart.csv holds every row of tables/schedule.csv once more, in the same order")
	for i, c := range want {
		r, name := rows[i], read[i]
		assert.Equal(t, c["class"], r.Class, name)
		assert.Equal(t, c["evidence"], r.Keys, name)
		wantEvidence := ranges.Published
		for _, key := range []string{"V5", "V7", "V15"} { // a practice, a magazine with a maker, a shop's copy of a label
			if strings.Contains("+"+c["evidence"]+"+", "+"+key+"+") {
				wantEvidence = ranges.PracticePage
			}
		}
		if strings.Contains("+"+c["evidence"]+"+", "+M+") {
			wantEvidence = ranges.FromMemory
		}
		assert.Equal(t, wantEvidence, r.Evidence, name)
		assert.NotEmpty(t, r.Source, name)
		doses := numbers(c["doses"])
		assert.Equal(t, doses[0], string(rune('0'+r.Doses)), name)
		assert.Equal(t, doses[len(doses)-1], string(rune('0'+r.DosesMost)), name)

		first := c["first_when"]
		if strings.HasPrefix(first, "months ") { // 5-7-9 of gestation: the three doses
			assert.Equal(t, numbers(first), spanNumbers(r.First, r.Second, r.Third), name)
			assert.Equal(t, due.Pregnancy, r.Again.Base, name)
			continue
		}
		assert.Equal(t, numbers(first), spanNumbers(r.First), "%s first", name)
		assert.Equal(t, numbers(c["second_gap_wk"]), spanNumbers(r.Second), "%s second", name)
		if r.Third.Base != due.Never || c["third_when"] != "" {
			third := numbers(strings.ReplaceAll(c["third_when"], "2nd", ""))
			assert.Equal(t, third, spanNumbers(r.Third), "%s third", name)
		}
		assert.Equal(t, again(c["revaccinate"]), r.Again.String(), "%s again", name)
	}
}

// again is the plain reading of the chart's word for the repeats.
func again(text string) string {
	switch {
	case strings.HasPrefix(text, "annual"), strings.HasPrefix(text, "before next vector season"):
		return "every 12 months"
	case text == "4-6 wk pre-partum":
		return "4-6 weeks before foaling"
	case text == "each pregnancy":
		return "again in each pregnancy"
	}
	return "every " + strings.TrimSuffix(strings.Split(text, ";")[0], " mo") + " months"
}

// Core: tetanus, EEE/WEE, West Nile, rabies (equinediseasecc.org/vaccination).
func TestCoreDiseases(t *testing.T) {
	core := map[string]bool{}
	for _, r := range table(t).Rows() {
		if r.Class == due.Core {
			core[r.Disease] = true
		}
	}
	assert.Equal(t, map[string]bool{"tetanus": true, "EEE_WEE": true, "WNV": true, "rabies": true}, core)
}

func TestAPracticesOwnRows(t *testing.T) {
	own, err := table(t).With(strings.NewReader("disease,class,group,doses,first,second,third,again,note\n"+
		"tetanus,core,adult_vaccinated,1,,,,every 24mo,our plan\n"+
		"influenza,core,adult_unvaccinated_inactivated,3,now,after 4-6wk,after 5mo,every 6mo,\n"+
		"louping_ill,risk,adult,2,now,after 2wk,,every 12mo,\n"), "schedule.csv")
	require.NoError(t, err)
	assert.Len(t, own.Rows(), len(table(t).Rows())+1)
	assert.Contains(t, own.Version(), "3 rows of the practice's own")
	assert.Equal(t, "louping ill", own.Name("louping_ill"))
	for _, r := range own.Rows() {
		if r.Disease == "tetanus" && r.Group == "adult_vaccinated" {
			assert.True(t, r.Practice())
			assert.Equal(t, "every 24 months", r.Again.String())
		}
	}
	assert.NotContains(t, table(t).Version(), "practice")
}

func TestABadFileIsRefusedWithItsLines(t *testing.T) {
	head := "disease,class,group,doses,first,second,third,again,note\n"
	for text, says := range map[string]string{
		"":                                  "no line names the columns",
		"disease,class\n":                   "the first line must name the columns",
		head + "tetanus,core,adult,2,now\n": "schedule.csv:2: 5 columns instead of 9",
		head + "tetanus,must,adult,1,,,,every 12mo,\n":            "class is core, risk or off",
		head + "tetanus,core,ponies,1,,,,every 12mo,\n":           "no group of horses",
		head + "tetanus,core,adult,4,,,,every 12mo,\n":            "the doses are 1, 2, 3 or 2-3",
		head + "tetanus,core,adult,2,now,,,every 12mo,\n":         "dose 2 of the series has no time",
		head + "tetanus,core,adult,1,now,after 4wk,,every 1mo,\n": "there is a dose 2, but the series has 1",
		head + "tetanus,core,adult,1,soon,,,every 12mo,\n":        "no span of time",
		head + "tetanus,core,adult,1,age 6-4mo,,,every 12mo,\n":   "makes no sense",
		head + "tetanus,core,adult,1,after 4wk,,,every 12mo,\n":   "dose 1 cannot be",
		head + "tetanus,core,adult,1,now,,,now,\n":                "again is every",
		head + "te tanus,core,adult,1,now,,,,\n":                  "no name of a disease",
		head + "tetanus,core,adult,1,now,,,,\x1b[2J\n":            "cannot be printed",
		head + "a1,core,adult,1,now,,,,\na1,core,adult,1,,,,,\n":  "schedule.csv:3: a1 for adult stands on line 2 already",
		"\xff\xfed\x00i\x00":                                      "UTF-16",
	} {
		_, err := table(t).With(strings.NewReader(text), "schedule.csv")
		var bad *due.FileError
		require.ErrorAs(t, err, &bad, text)
		assert.Contains(t, err.Error(), says)
		assert.Contains(t, err.Error(), "is refused; the schedule in use stays.")
		assert.NotContains(t, err.Error(), "\x1b")
	}
}

func FuzzSchedule(f *testing.F) {
	f.Add("disease,class,group,doses,first,second,third,again,note\ntetanus,core,adult,1,now,,,every 12mo,x\n")
	f.Add("\"")
	built := table(f)
	f.Fuzz(func(t *testing.T, text string) {
		out, err := built.With(strings.NewReader(text), "schedule.csv")
		if err == nil {
			require.GreaterOrEqual(t, len(out.Rows()), len(built.Rows()))
			return
		}
		var bad *due.FileError
		require.ErrorAs(t, err, &bad)
	})
}

func TestNamesAreForPeople(t *testing.T) {
	assert.Equal(t, "tetanus, Eastern and Western encephalitis, my own", due.Names([]string{"tetanus", "EEE_WEE", "my_own"}))
	assert.Empty(t, due.Names(nil))
}
