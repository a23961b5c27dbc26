package intake_test

import (
	"os"
	"slices"
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

const (
	colicCSV = "../../testdata/uci-horse-colic-300.csv"
	colicMap = "../../testdata/uci-horse-colic-300.map.yaml"
)

func readMap(t testing.TB, file string) intake.Map {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	m, err := intake.ReadMap(f, "map.yaml", steps.Table())
	require.NoError(t, err)
	return m
}

// colicVisits reads the 300 examinations and folds each as the record would.
func colicVisits(t testing.TB) ([]exam.Visit, []intake.Visit) {
	t.Helper()
	m := readMap(t, colicMap)
	f, err := os.Open(colicCSV)
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	rows, err := m.Apply(f, "uci-horse-colic-300.csv")
	require.NoError(t, err)
	visits := make([]exam.Visit, len(rows))
	for i, r := range rows {
		visits[i] = fold(t, r)
	}
	return visits, rows
}

func fold(t testing.TB, r intake.Visit) exam.Visit {
	t.Helper()
	var v exam.Visit
	for i, e := range r.Entries {
		e.Seq, e.Visit, e.Prev = i+1, "visit", v.Last
		err := exam.Seal(&e)
		require.NoError(t, err)
		require.NoError(t, v.Apply(e))
	}
	return v
}

func figures(visits []exam.Visit, step exam.StepID, unit notation.Unit) []float64 {
	var out []float64
	for _, v := range visits {
		if f, ok := v.Finding(exam.Key{Step: step}); ok && f.Done() {
			if x, ok := f.Value.In(unit); ok {
				out = append(out, x)
			}
		}
	}
	return out
}

// The figures are those that R's own summary prints of the data frame colic of
// the package VIM (r-cran-vim 6.2.2), from which the file was taken; R rounds
// means to four digits.
func TestColicFiguresEqualThoseOfR(t *testing.T) {
	visits, _ := colicVisits(t)
	require.Len(t, visits, 300)
	for _, c := range []struct {
		step                   exam.StepID
		unit                   notation.Unit
		n                      int
		least, mean, mid, most float64
		places                 float64
	}{
		{"temp.rectal", notation.Celsius, 240, 35.40, 38.17, 38.20, 40.80, 0.005},
		{"heart.rate", notation.PerMinute, 276, 30, 71.91, 64, 184, 0.005},
		{"breath.rate", notation.PerMinute, 242, 8, 30.42, 24.5, 96, 0.005},
	} {
		x := figures(visits, c.step, c.unit)
		require.Len(t, x, c.n, c.step)
		sum := 0.0
		for _, v := range x {
			sum += v
		}
		assert.InDelta(t, c.least, slices.Min(x), 1e-9, c.step)
		assert.InDelta(t, c.most, slices.Max(x), 1e-9, c.step)
		assert.InDelta(t, c.mid, exam.Median(x), 1e-9, c.step)
		assert.InDelta(t, c.mean, sum/float64(len(x)), c.places, c.step)
	}
}

func TestColicWordsAndBounds(t *testing.T) {
	visits, rows := colicVisits(t)
	bounds, outcome, class, heard := map[string]int{}, map[string]int{}, map[ranges.Class]int{}, 0
	for i, v := range visits {
		class[v.Class().Name]++
		outcome[outcomeOf(v)]++
		f, ok := v.Finding(exam.Key{Step: "gum.refill"})
		require.True(t, ok)
		switch {
		case f.Done():
			step, _ := steps.Table().ByID("gum.refill")
			bounds[f.Value.Show(step)]++
			_, figure := f.Value.In(notation.Seconds)
			assert.False(t, figure, "a refill known as a bound is no figure")
		default:
			bounds[string(f.NotDone)]++
		}
		if g, _ := v.Finding(exam.Key{Step: "gut.sounds", Site: exam.Overall}); g.Done() {
			heard++
		}
		assert.True(t, v.Closed())
		assert.Contains(t, rows[i].Source(), "uci-horse-colic-300.csv")
	}
	assert.Equal(t, map[string]int{
		"under 3 s": 188, "3 s or more": 78, "written as code 3, which the data set does not define": 2, string(exam.ReasonNotRecorded): 32,
	}, bounds)
	assert.Equal(t, map[ranges.Class]int{ranges.AdultLight: 276, ranges.FoalAgeUnknown: 24}, class)
	assert.Equal(t, map[string]int{"lived": 178, "died": 77, "euthanized": 44, "": 1}, outcome)
	assert.Equal(t, 256, heard)
}

func outcomeOf(v exam.Visit) string {
	for _, n := range v.Notes {
		if text, ok := strings.CutPrefix(n.Text, "outcome: "); ok {
			return text
		}
	}
	return ""
}

// Every empty field of the file is a step not done, and no other step is.
func TestColicEmptyFieldsAreNotDone(t *testing.T) {
	visits, _ := colicVisits(t)
	data, err := os.ReadFile(colicCSV)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	columns := map[int]exam.Key{
		3: {Step: "temp.rectal"}, 4: {Step: "heart.rate"}, 5: {Step: "breath.rate"}, 6: {Step: "limb.warmth", Site: exam.Overall},
		7: {Step: "pulse.strength"}, 8: {Step: "gum.colour"}, 9: {Step: "gum.refill"},
		11: {Step: "gut.sounds", Site: exam.Overall}, 12: {Step: "belly.distension"},
	}
	for i, v := range visits {
		require.Len(t, v.Findings, len(columns)+2, "every mapped step has a line")
		cells := strings.Split(lines[i+1], ",")
		for at, key := range columns {
			f, ok := v.Finding(key)
			require.True(t, ok, key)
			if cells[at] == "" {
				assert.Equal(t, exam.ReasonNotRecorded, f.NotDone, "case %s, %s", cells[0], key.Step)
			} else if cells[at] != "code_3_undefined" {
				assert.True(t, f.Done(), "case %s, %s", cells[0], key.Step)
				assert.Equal(t, cells[at], f.Value.Typed)
			}
		}
		d, _ := v.Finding(exam.Key{Step: "demeanour"})
		p, _ := v.Finding(exam.Key{Step: "pain.signs"})
		assert.Equal(t, cells[10] == "alert_no_pain" || cells[10] == "depressed", d.Done(), cells[0])
		assert.Equal(t, cells[10] != "" && cells[10] != "depressed", p.Done(), cells[0])
	}
}
