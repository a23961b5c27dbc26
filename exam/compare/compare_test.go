package compare_test

import (
	"encoding/json"
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func newest() time.Time { return time.Date(2026, 4, 12, 9, 0, 0, 0, time.UTC) }

var theSteps = sync.OnceValue(steps.Table)

var builtIn = sync.OnceValues(func() (*judge.Judge, error) {
	table, err := ranges.BuiltIn()
	return judge.New(table, theSteps()), err
})

// theJudge judges by the built-in tables; it is made once, because it remembers nothing.
func theJudge(t testing.TB) *judge.Judge {
	t.Helper()
	j, err := builtIn()
	require.NoError(t, err)
	return j
}

func bracken() exam.Horse {
	return exam.Horse{
		ID: "h1", Name: "Bracken", Kind: exam.AnimalHorse,
		Birth: exam.Birth{At: newest().AddDate(-9, 0, 0), Precision: exam.BornDay},
	}
}

// visit is closed and lies so many months before the newest.
func visit(monthsAgo int, findings ...exam.Finding) exam.Visit {
	at := newest().AddDate(0, -monthsAgo, 0)
	for i := range findings {
		findings[i].Seq = i + 2
	}
	return exam.Visit{
		ID: exam.VisitID(fmt.Sprintf("v%d", monthsAgo)), Horse: bracken(), Routine: "full-exam", By: "Ann", OpenedAt: at, ClosedAt: &at, Findings: findings,
	}
}

func number(step exam.StepID, v float64, u notation.Unit) exam.Finding {
	s, _ := theSteps().ByID(step)
	return exam.Finding{Step: step, Value: exam.Value{Kind: s.Kind, Number: &notation.Quantity{Value: v, Unit: u}}}
}

func counted(v, half float64) exam.Finding {
	f := number("heart.rate", v, notation.PerMinute)
	f.Value.Count = &exam.Count{Method: exam.CountTapped, HalfWidth: half}
	return f
}

func byEar(v, window float64) exam.Finding {
	f := number("heart.rate", v, notation.PerMinute)
	f.Value.Count = &exam.Count{Method: exam.CountByEar, WindowS: window}
	return f
}

func said(step exam.StepID, site exam.Site, key string) exam.Finding {
	s, _ := theSteps().ByID(step)
	v, err := s.ChoiceValue(key)
	if err != nil {
		panic(err)
	}
	return exam.Finding{Step: step, Site: site, Value: v}
}

func row(t testing.TB, table compare.Table, step exam.StepID, site exam.Site) compare.StepRow {
	t.Helper()
	for _, r := range table.Rows {
		if r.Step == step && r.Site == site {
			return r
		}
	}
	t.Fatalf("no row for %s %s", step, site)
	return compare.StepRow{}
}

func visits(t testing.TB, vs ...exam.Visit) compare.Table {
	t.Helper()
	return compare.Visits(vs, nil, theJudge(t), theSteps())
}

func TestRowsStandInRecordOrderWithAnAnswerEach(t *testing.T) {
	table := visits(t,
		visit(0, said("gut.sounds", exam.RightLower, "heard"), said("gut.sounds", exam.LeftUpper, "none"), number("heart.rate", 52, notation.PerMinute),
			exam.Finding{Step: "urine", NotDone: exam.ReasonNoTime}),
		visit(1, number("temp.rectal", 38, notation.Celsius), exam.Finding{Step: "heart.rate", NotDone: exam.ReasonRefused}),
		visit(2, exam.Finding{Step: "zz.later", Value: exam.Value{Text: "from a newer version"}}),
	)
	var order []string
	for _, r := range table.Rows {
		order = append(order, string(r.Step)+":"+string(r.Site))
		assert.Len(t, r.Cells, 3)
	}
	assert.Equal(t, []string{"temp.rectal:", "heart.rate:", "gut.sounds:left upper", "gut.sounds:right lower", "zz.later:"}, order)
	heart := row(t, table, "heart.rate", "")
	assert.Equal(t, ranges.LevelRecheck, heart.Cells[0].Level)
	assert.Equal(t, "52", heart.Cells[0].Text)
	assert.Equal(t, exam.ReasonRefused, heart.Cells[1].NotDone)
	assert.True(t, heart.Cells[2].Empty)
	assert.InDelta(t, 44, *heart.High, 0)
	assert.Nil(t, heart.Change.By, "nothing to compare with")
	assert.Equal(t, ranges.LevelTell, table.Columns[0].Level, "a silent quadrant with a heart above 48")
	assert.Equal(t, "none", row(t, table, "gut.sounds", exam.LeftUpper).Cells[0].Text)
	assert.Empty(t, visits(t).Rows)
}

// A row has one unit, that of its newest number; what was typed in another is converted exactly and kept in sight.
func TestARowHasOneUnit(t *testing.T) {
	table := visits(t, visit(0, number("temp.rectal", 101.3, notation.Fahrenheit)), visit(1, number("temp.rectal", 37.5, notation.Celsius)))
	r := row(t, table, "temp.rectal", "")
	assert.Equal(t, notation.Fahrenheit, r.Unit)
	assert.Equal(t, "99.5", r.Cells[1].Text) // 37.5 C is 99.5 F exactly (NIST SP 811)
	assert.Equal(t, "37.5 C", r.Cells[1].AsTyped)
	assert.Empty(t, r.Cells[0].AsTyped)
	assert.InDelta(t, 1.8, *r.Change.By, 1e-9)
	assert.InDelta(t, 101, *r.High, 0)
	assert.Equal(t, "up 1.8 F since 12 Mar 2026; changed (normal variation up to 1.2 F)", r.Change.Means)
}

// What a change is worth where there is one earlier visit: counts against their half-widths joined in quadrature, by-ear
// counts against 1.96 times 24.5/W (counting facts 1.2), trials against their standard errors, weights against the tape
// where they were found alike and else against the error of each method. Only temperatures have a published variation
// within the horse: 1.96 x (2 x 0.25² + 2 x (0.1/1.96)²)^½ = 0.71 C.
func TestChangeMeans(t *testing.T) {
	trials := func(v float64, s ...float64) exam.Finding {
		f := number("gum.refill", v, notation.Seconds)
		f.Value.TrialsS = s
		return f
	}
	weighed := func(v float64, method exam.WeighMethod, low, high float64) exam.Finding {
		f := number("weight.body", v, notation.Kilograms)
		f.Value.Weight = &exam.Weight{Method: method, LowKg: low, HighKg: high}
		return f
	}
	within := func(limit string) string { return "; within accuracy (" + limit + ")" }
	more := func(limit string) string {
		return "; more than accuracy (" + limit + "); this horse's normal variation is not known yet"
	}
	const temperature, unsure = "; within normal variation (up to 0.7 C)", "; normal variation not known"
	for _, c := range []struct {
		now, then exam.Finding
		change    float64
		means     string
		verdict   compare.Worth
	}{
		{counted(52, 0.5), counted(44, 0.5), 8, "up 8 /min" + more("up to 0.7 /min"), compare.NotKnown},
		{counted(40.5, 0.5), counted(40, 0.5), 0.5, "up 0.5 /min" + within("up to 0.7 /min"), compare.WithinNoise},
		{counted(40.7, 0.5), counted(40, 0.5), 0.7, "up 0.7 /min" + within("up to 0.7 /min"), compare.WithinNoise},
		{counted(44.8, 0.5), counted(44, 0.5), 0.8, "up 0.8 /min" + more("up to 0.7 /min"), compare.NotKnown},
		{counted(44.8, 0.5), counted(44, 0), 0.8, "up 0.8 /min" + unsure, compare.NotKnown},
		{byEar(44, 15), byEar(48, 15), -4, "down 4 /min" + within("up to 4.5 /min"), compare.WithinNoise},
		{byEar(44, 60), byEar(48, 60), -4, "down 4 /min" + more("up to 1.1 /min"), compare.NotKnown},
		{number("temp.rectal", 38.1, notation.Celsius), number("temp.rectal", 38, notation.Celsius), 0.1, "up 0.1 C" + temperature, compare.WithinNoise},
		{number("temp.rectal", 38, notation.Celsius), number("temp.rectal", 38.7, notation.Celsius), -0.7, "down 0.7 C" + temperature, compare.WithinNoise},
		{number("temp.rectal", 38, notation.Celsius), number("temp.rectal", 38.8, notation.Celsius), -0.8, "down 0.8 C; changed (normal variation up to 0.7 C)", compare.Changed},
		{number("temp.rectal", 100.4, notation.Fahrenheit), number("temp.rectal", 101.8, notation.Fahrenheit), -1.4, "down 1.4 F; changed (normal variation up to 1.2 F)", compare.Changed},
		{number("temp.rectal", 38, notation.Celsius), number("temp.rectal", 38, notation.Celsius), 0, "unchanged", compare.WithinNoise},
		{trials(2, 1.8, 2, 2.3), trials(1.7, 1.6, 1.7, 1.8), 0.3, "up 0.3 s" + within("up to 0.3 s"), compare.WithinNoise},
		{trials(2, 1.9, 2, 2.1), trials(1.6, 1.5, 1.6, 1.7), 0.4, "up 0.4 s" + more("up to 0.1 s"), compare.NotKnown},
		{weighed(520, "weight tape", 460, 580), weighed(500, "weight tape", 440, 560), 20, "up 20 kg" + within("up to 28 kg"), compare.WithinNoise},
		{weighed(520, "scale", 515, 525), weighed(400, "by eye", 350, 450), 120, "up 120 kg" + more("up to 50 kg") + "; weighed another way then (by eye)", compare.NotKnown},
	} {
		table := visits(t, visit(0, c.now), visit(1, c.then))
		require.Len(t, table.Rows, 1)
		require.NotNil(t, table.Rows[0].Change.By)
		assert.InDelta(t, c.change, *table.Rows[0].Change.By, 1e-9)
		way, rest := c.means, ""
		for i, r := range c.means {
			if r == ';' {
				way, rest = c.means[:i], c.means[i:]
				break
			}
		}
		assert.Equal(t, way+" since 12 Mar 2026"+rest, table.Rows[0].Change.Means)
		assert.Equal(t, c.verdict, table.Rows[0].Change.Verdict, c.means)
	}
}

func TestChangeOfWordsAndScores(t *testing.T) {
	table := visits(t,
		visit(0, said("gum.moisture", "", "tacky"), said("condition.score", "", "4"), said("posture", "", "square")),
		visit(1, exam.Finding{Step: "gum.moisture", NotDone: exam.ReasonRefused}),
		visit(2, said("gum.moisture", "", "moist"), said("condition.score", "", "6"), said("posture", "", "square")),
	)
	gum := row(t, table, "gum.moisture", "")
	assert.Nil(t, gum.Change.By)
	assert.Equal(t, "was moist, finger slides on 12 Feb 2026", gum.Change.Means)
	score := row(t, table, "condition.score", "")
	assert.InDelta(t, -2, *score.Change.By, 0)
	assert.Equal(t, "was 6 moderately fleshy on 12 Feb 2026", score.Change.Means)
	assert.Equal(t, "4 moderately thin", score.Cells[0].Text)
	assert.Empty(t, row(t, table, "posture", "").Change.Means)
}

func TestAStirredVisitIsNamedInTheChange(t *testing.T) {
	now, then := visit(0, counted(60, 0.4)), visit(1, counted(40, 0.4))
	then.Context.States = []exam.State{exam.StateRest}
	now.Context.States = []exam.State{exam.StateWorked}
	assert.Equal(t, "up 20 /min since 12 Mar 2026; more than accuracy (up to 0.5 /min); this horse's normal variation is not known yet; not at rest this time", visits(t, now, then).Rows[0].Change.Means)
	then.Context.States = []exam.State{exam.StateHot}
	assert.Contains(t, visits(t, now, then).Rows[0].Change.Means, "neither taken at rest")
	now.Context.States = nil
	assert.Contains(t, visits(t, now, then).Rows[0].Change.Means, "not at rest then")
}

// Own ranges and the change look past the columns, at the visits handed over as earlier.
func TestEarlierVisitsCountWithoutAColumn(t *testing.T) {
	earlier := []exam.Visit{visit(1, counted(30, 0.4)), visit(2, counted(31, 0.4)), visit(3, counted(30, 0.4)), visit(4, counted(29, 0.4))}
	corrected := counted(43, 0.4)
	corrected.Before = []exam.Finding{{Seq: 2}}
	table := compare.Visits([]exam.Visit{visit(0, corrected)}, earlier, theJudge(t), theSteps())
	r := table.Rows[0]
	require.NotNil(t, r.Own)
	assert.InDelta(t, 30, r.Own.Median, 1e-9)
	assert.InDelta(t, 13, *r.Change.By, 1e-9)
	assert.Equal(t, ranges.LevelNote, r.Cells[0].Level, "usual for the class, far above its own range")
	assert.True(t, r.Cells[0].Corrected)
	assert.Len(t, r.Cells, 1)
}

func TestTrendRunsOldestFirst(t *testing.T) {
	j := theJudge(t)
	step, _ := theSteps().ByID("temp.rectal")
	vs := []exam.Visit{
		visit(0, number("temp.rectal", 102.6, notation.Fahrenheit)), visit(1, exam.Finding{Step: "temp.rectal", NotDone: exam.ReasonRefused}),
		visit(2, number("temp.rectal", 38, notation.Celsius)), visit(3, number("temp.rectal", math.NaN(), notation.Celsius)),
		visit(100, number("temp.rectal", 38.5, notation.Celsius)),
	}
	points := compare.Trend(j, step, "", notation.Celsius, vs)
	require.Len(t, points, 3)
	assert.Equal(t, []exam.VisitID{"v100", "v2", "v0"}, []exam.VisitID{points[0].Visit, points[1].Visit, points[2].Visit})
	assert.InDelta(t, (102.6-32)/1.8, points[2].Value, 1e-9)
	assert.Equal(t, ranges.LevelTell, points[2].Level)
	assert.InDelta(t, 36.5, *points[2].Low, 0)
	assert.Equal(t, ranges.Weanling, points[0].Class, "the class at that visit")
	assert.InDelta(t, 38.8, *points[0].High, 0, "and its range")

	foot, _ := theSteps().ByID("limb.digitalpulse")
	pulses := compare.Trend(j, foot, exam.LeftFore, notation.Points, []exam.Visit{visit(0, said("limb.digitalpulse", exam.LeftFore, "bounding")), visit(1, said("limb.digitalpulse", exam.LeftFore, "faint"))})
	require.Len(t, pulses, 2)
	assert.InDelta(t, 4, pulses[1].Value, 0)
	assert.Equal(t, ranges.LevelTell, pulses[1].Level)
	assert.Empty(t, compare.Trend(j, step, "", notation.Celsius, nil))
}

// The keys of the compare command's JSON, as its contract lists them.
func TestDocumentHasTheKeysOfTheContract(t *testing.T) {
	table := visits(t,
		visit(0, counted(52, 0.5), said("gum.moisture", "", "tacky")),
		visit(1, counted(40, 0.5), exam.Finding{Step: "gum.moisture", NotDone: exam.ReasonUnsafe}),
		visit(2),
	)
	body, err := json.Marshal(table.Document())
	require.NoError(t, err)
	var back struct {
		Schema string
		Horse  map[string]string
		Visits []map[string]any
		Rows   []map[string]any
	}
	require.NoError(t, json.Unmarshal(body, &back))
	assert.Equal(t, "loosebox/compare/1", back.Schema)
	assert.Equal(t, "Bracken", back.Horse["name"])
	require.Len(t, back.Visits, 3)
	for _, key := range []string{"id", "at", "routine", "by"} {
		assert.Contains(t, back.Visits[0], key)
	}
	require.Len(t, back.Rows, 2)
	for _, key := range []string{"step", "site", "unit", "values", "levels", "low", "high", "own_low", "own_high", "change", "change_means"} {
		assert.Contains(t, back.Rows[0], key)
	}
	assert.Equal(t, []any{52.0, 40.0, nil}, back.Rows[0]["values"])
	assert.Equal(t, []any{"recheck", "usual", nil}, back.Rows[0]["levels"])
	assert.Equal(t, []any{"tacky, finger drags", nil, nil}, back.Rows[1]["values"])
	assert.Equal(t, []any{nil, string(exam.ReasonUnsafe), nil}, back.Rows[1]["not_done"])
}

// Nothing is called usual of which it is not known what is usual: the skin tent of a mule, a weight, a comment.
func TestADocumentCallsNothingUsualThatIsNotKnown(t *testing.T) {
	now := visit(0, number("skin.tent", 4, notation.Seconds), number("weight.body", 210, notation.Kilograms), said("gum.moisture", "", "moist"),
		exam.Finding{Step: "note", Value: exam.Value{Kind: exam.KindNote, Text: "quiet"}})
	now.Horse.Kind = exam.AnimalMule
	got := map[exam.StepID][]*exam.Level{}
	for _, r := range visits(t, now).Document().Rows {
		got[r.Step] = r.Levels
	}
	usual := ranges.LevelUsual
	assert.Equal(t, map[exam.StepID][]*exam.Level{"skin.tent": {nil}, "weight.body": {nil}, "gum.moisture": {&usual}, "note": {nil}}, got)
}

// The change is antisymmetric: swapping what two visits found turns its sign, and never invents a number.
func TestChangeTurnsWithTheVisits(t *testing.T) {
	j := theJudge(t)
	rapid.Check(t, func(r *rapid.T) {
		wide := rapid.Float64Range(-1e300, 1e300)
		a, b := wide.Draw(r, "a"), wide.Draw(r, "b")
		one := compare.Visits([]exam.Visit{visit(0, counted(a, 0.5)), visit(1, counted(b, 0.5))}, nil, j, theSteps())
		two := compare.Visits([]exam.Visit{visit(0, counted(b, 0.5)), visit(1, counted(a, 0.5))}, nil, j, theSteps())
		require.NotNil(t, one.Rows[0].Change.By)
		require.NotNil(t, two.Rows[0].Change.By)
		assert.Equal(t, *one.Rows[0].Change.By, -*two.Rows[0].Change.By)
		_, err := json.Marshal(one.Document())
		assert.NoError(t, err)
	})
	far := visits(t, visit(0, counted(math.MaxFloat64, 0.5)), visit(1, counted(-math.MaxFloat64, 0.5)))
	assert.Nil(t, far.Rows[0].Change.By)
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		table := visits(t, visit(0, counted(v, 0.5)), visit(1, counted(44, v)))
		assert.Nil(t, table.Rows[0].Change.By)
		assert.Nil(t, table.Rows[0].Cells[0].Number)
		_, err := json.Marshal(table.Document())
		require.NoError(t, err)
	}
}

// A horse's comparison of 20 visits of every step, wanted well under 2 ms.
func BenchmarkVisits(b *testing.B) {
	j, table := theJudge(b), theSteps()
	vs := make([]exam.Visit, 20)
	for i := range vs {
		var findings []exam.Finding
		for k, s := range table.All() {
			sites := s.Sites
			if len(sites) == 0 {
				sites = []exam.Site{exam.NoSite}
			}
			for _, site := range sites {
				f := exam.Finding{Step: s.ID, Site: site, Value: exam.Value{Kind: s.Kind}}
				if len(s.Choices) > 0 {
					f.Value, _ = s.ChoiceValue(s.Choices[(i+k)%len(s.Choices)].Key)
				} else if s.Kind != exam.KindNote {
					f.Value.Number = &notation.Quantity{Value: (s.Likely.Low + s.Likely.High) / 2, Unit: s.Unit}
				}
				findings = append(findings, f)
			}
		}
		vs[i] = visit(i, findings...)
	}
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		_ = compare.Visits(vs, nil, j, table)
	}
}

// Once a unit is set, every row of that measure is in it, whatever was typed; what is
// usual is in the same unit, and other measures stay as they are.
func TestRowsInTheUnitsOfThePerson(t *testing.T) {
	vs := []exam.Visit{
		visit(0, number("temp.rectal", 38, notation.Celsius), number("weight.body", 500, notation.Kilograms)),
		visit(1, number("temp.rectal", 101, notation.Fahrenheit)),
	}
	units := map[notation.Unit]notation.Unit{notation.Celsius: notation.Fahrenheit}
	table := compare.VisitsIn(units, vs, nil, theJudge(t), theSteps())
	temp := row(t, table, "temp.rectal", exam.NoSite)
	assert.Equal(t, notation.Fahrenheit, temp.Unit)
	assert.InDelta(t, 100.4, *temp.Cells[0].Number, 1e-9) // 38 C = 100.4 F (NIST SP 811, appendix B)
	assert.InDelta(t, 101, *temp.Cells[1].Number, 1e-9)
	require.NotNil(t, temp.High)
	assert.Greater(t, *temp.High, 90.0)
	assert.Equal(t, notation.Kilograms, row(t, table, "weight.body", exam.NoSite).Unit)
}
