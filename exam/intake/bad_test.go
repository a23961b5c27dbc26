package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/intake"
)

func TestExamsThatAreRefused(t *testing.T) {
	long := "id,heart.rate\n" + strings.Repeat("1,40\n", intake.MaxRows+1)
	for name, c := range map[string]struct {
		text   string
		line   int
		column string
		what   string
	}{
		"empty":            {"", 0, "", "empty"},
		"header alone":     {"id,heart.rate\n", 0, "", "no exam"},
		"unknown column":   {"id,hart.rate\n1,40\n", 1, "hart.rate", "did you mean heart.rate"},
		"site missing":     {"id,lung.sounds\n1,soft\n", 1, "lung.sounds", "needs a site"},
		"site wrong":       {"id,gut.sounds:left uper\n1,none\n", 1, "gut.sounds:left uper", "did you mean left upper"},
		"site too many":    {"id,heart.rate:left\n1,40\n", 1, "heart.rate:left", "without sites"},
		"column twice":     {"id,heart.rate,Heart.Rate\n1,40,40\n", 1, "Heart.Rate", "twice"},
		"place twice":      {"id,gut.sounds,gut.sounds:overall\n1,none,none\n", 1, "gut.sounds:overall", "same as"},
		"column nameless":  {"id,,heart.rate\n1,x,40\n", 1, "", "column 2 has no name"},
		"fahrenheit":       {"id,temp.rectal\n1,38\n2,101.2\n", 3, "temp.rectal", "did you mean 101.2 F"},
		"38.4 F":           {"id,temp.rectal\n1,38.4F\n", 2, "temp.rectal", "did you mean 38.4 C"},
		"wrong unit":       {"id,heart.rate\n1,40 kg\n", 2, "heart.rate", "not measured in kg"},
		"unknown unit":     {"id,heart.rate\n1,40 furlongs\n", 2, "heart.rate", "no unit"},
		"negative":         {"id,heart.rate\n1,-40\n", 2, "heart.rate", "not possible"},
		"impossible":       {"id,gum.refill\n1,400\n", 2, "gum.refill", "not possible"},
		"two bounds":       {"id,gum.refill\n1,under 3 or more\n", 2, "gum.refill", "two bounds"},
		"no number":        {"id,heart.rate\n1,NaN\n", 2, "heart.rate", "unit"},
		"word":             {"id,gum.colour\n1,pinkish\n", 2, "gum.colour", "no choice"},
		"code":             {"id,gum.colour\n1,2\n", 2, "gum.colour", "no choice"},
		"short":            {"id,gum.colour\n1,p\n", 2, "gum.colour", "no choice"},
		"two that exclude": {"id,pain.signs\n1,\"none, paws\"\n", 2, "pain.signs", "beside another"},
		"kind":             {"id,kind,heart.rate\n1,zebra,40\n", 2, "kind", "no kind of animal"},
		"sex":              {"id,sex,heart.rate\n1,cow,40\n", 2, "sex", "no sex"},
		"rest":             {"id,at_rest,heart.rate\n1,perhaps,40\n", 2, "at_rest", "neither yes nor no"},
		"fields few":       {"id,heart.rate,breath.rate\n1,40\n", 2, "", "2 fields"},
		"fields many":      {"id,heart.rate\n1,40,12\n", 2, "", "3 fields"},
		"quote open":       {"id,heart.rate\n1,\"40\n", 2, "", "quotes"},
		"quote inside":     {"id,heart.rate\n1,4\"0\n", 2, "", "quotes"},
		"zero byte":        {"id,heart.rate\n1,4\x000\n", 2, "", "zero byte"},
		"utf-16 cut":       {"\xff\xfei\x00d\x00", 0, "", "holds no exam"},
		"too many rows":    {long, intake.MaxRows + 2, "", "more than"},
		"too many columns": {strings.Repeat("a,", 500) + "\n", 1, "", "columns"},
		"json cut":         {"[{\"id\":\"1\",", 1, "", "not JSON"},
		"json object":      {"{\"id\":\"1\"}", 1, "", "not the JSON"},
		"json nested":      {"[\n{\"id\":\"1\",\"heart.rate\":[40]}]", 2, "heart.rate", "a value is"},
		"json twice":       {"[\n{\"id\":\"1\",\"id\":\"2\"}]", 2, "id", "twice"},
		"json after":       {"[{\"id\":\"1\"}] x", 1, "", "after the end"},
		"json empty":       {"[]", 0, "", "empty"},
		"json value":       {"[{\"id\":\"1\",\n\"heart.rate\":40},\n{\"id\":\"2\",\"heart.rate\":\"fast\"}]", 3, "heart.rate", ""},
	} {
		t.Run(name, func(t *testing.T) {
			rows, err := readExams(c.text)
			assert.Empty(t, rows)
			p := problemsOf(t, err)[0]
			assert.Equal(t, c.line, p.Line, p.What)
			assert.Equal(t, c.column, p.Column, p.What)
			assert.Contains(t, p.What, c.what)
		})
	}
}

func TestTooLargeAFileIsRefusedBeforeItIsRead(t *testing.T) {
	_, err := readExams("id,heart.rate\n" + strings.Repeat("1,40\n", intake.MaxBytes/5+1))
	assert.Contains(t, problemsOf(t, err)[0].What, "larger than 10 MB")
}

// Every problem of the file is said, in the order of its lines, up to twenty.
func TestProblemsAreSaidTogether(t *testing.T) {
	text := "id,heart.rate,temp.rectal\n"
	for i := range 15 {
		text += fmt.Sprintf("%d,-1,384\n", i)
	}
	_, err := readExams(text)
	problems := problemsOf(t, err)
	require.Len(t, problems, 20)
	assert.Contains(t, err.Error(), "and 10 more")
	for i := 1; i < len(problems); i++ {
		assert.LessOrEqual(t, problems[i-1].Line, problems[i].Line)
	}
}

func FuzzReadExams(f *testing.F) {
	f.Add("id,age,heart.rate,gut.sounds:left upper,gum.refill\n1,9y,44,none,< 3 s\n")
	f.Add("id;temp.rectal\r\n\"a;b\";38,4\r\n")
	f.Add("[{\"id\":1,\"heart.rate\":44,\"pain.signs\":\"mild\",\"at_rest\":false}]")
	f.Add("\xef\xbb\xbfid,weight.body,pain.grimace,note\n1,500kg,3,\x1b]0;x\x07\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readExams(text)
		if err != nil {
			if len(problemsOf(t, err)) > 20 {
				t.Fatal("more than twenty problems")
			}
			return
		}
		for _, r := range rows {
			assertClean(t, r.ID)
			for _, n := range r.Notices {
				assertClean(t, n)
			}
			for _, found := range r.Visit.Findings {
				assertClean(t, found.Value.Typed)
				assertClean(t, found.Value.Text)
				assertClean(t, string(found.NotDone))
			}
		}
	})
}

func assertClean(t *testing.T, text string) {
	t.Helper()
	if strings.ContainsFunc(text, func(r rune) bool { return r < 0x20 || (r >= 0x7f && r < 0xa0) || r == 0x202e }) {
		t.Fatalf("%q can move the cursor or turn text about", text)
	}
}
