package explain_test

import (
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func noon() time.Time { return time.Date(2026, 5, 20, 12, 0, 0, 0, time.UTC) }

var theSteps = sync.OnceValue(steps.Table)

func asked(t testing.TB, step exam.StepID, v *exam.Value, earlier ...exam.Visit) explain.Subject {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	s, ok := theSteps().ByID(step)
	require.True(t, ok, step)
	a := explain.Subject{Judge: judge.New(table, theSteps()), Step: s, Visit: visit(0), Earlier: earlier}
	if v != nil {
		a.Finding = &exam.Finding{Step: step, Value: *v, At: noon()}
		a.Visit.Findings = []exam.Finding{*a.Finding}
	}
	return a
}

func visit(days int, findings ...exam.Finding) exam.Visit {
	at := noon().AddDate(0, 0, -days)
	h := exam.Horse{ID: "h", Name: "Bracken", Kind: exam.AnimalHorse, Birth: exam.Birth{At: noon().AddDate(-9, 0, 0), Precision: exam.BornDay}}
	return exam.Visit{ID: exam.VisitID(at.Format("v2006-01-02")), Horse: h, OpenedAt: at, ClosedAt: &at, Findings: findings}
}

func rate(v float64) exam.Value {
	return exam.Value{
		Kind: exam.KindCount, Number: &notation.Quantity{Value: v, Unit: notation.PerMinute},
		Count: &exam.Count{Method: exam.CountTapped, HalfWidth: 0.5, TapsS: []float64{0, 1, 2, 3, 4, 5}, LeadIn: 2},
	}
}

func text(parts []explain.Section) string {
	var lines []string
	for _, p := range parts {
		lines = append(append(lines, "# "+p.Head), p.Lines...)
	}
	return strings.Join(lines, "\n")
}

// A rate with a past says how it was worked out, its range and source, the own range, and what its change is worth.
func TestARateIsExplainedWhole(t *testing.T) {
	var earlier []exam.Visit
	for i, v := range []float64{36, 40, 38, 42} {
		earlier = append(earlier, visit(30*(i+1), exam.Finding{Step: "heart.rate", Value: rate(v)}))
	}
	v := rate(52)
	got := text(explain.Parts(asked(t, "heart.rate", &v, earlier...)))
	for _, part := range []string{
		"# How it was found\nrate = 60 x beats / (last tap - first tap); of 6 taps the first 2 are warm-up", "accuracy 0.5 /min = t x s / n, 95 %",
		"# What is said of it\nrecheck: ", "# Range\nrange for adult light horse: usual 28-44 /min", "(published)",
		"# This horse's range\n", "twice 1.4826 x the median distance", "# Change\nup 16 /min since 20 Apr 2026; changed (normal variation up to 11.2 /min)", "reference change value",
	} {
		assert.Contains(t, got, part)
	}
	before := text(explain.Parts(asked(t, "heart.rate", nil, earlier...)))
	assert.NotContains(t, before, "# How it was found")
	assert.Contains(t, before, "# Change\nagainst 36 /min on 20 Apr 2026")
}

// Every step of the record has something to say before and after an answer, with a source wherever a number or a level
// comes from one.
func TestEveryStepIsExplained(t *testing.T) {
	for _, step := range theSteps().All() {
		assert.NotEmpty(t, explain.Parts(asked(t, step.ID, nil)), step.ID)
		var v exam.Value
		switch step.Kind {
		case exam.KindPick, exam.KindMarks, exam.KindScale:
			for _, c := range step.Choices {
				v = exam.Value{Kind: step.Kind, Words: []string{c.Key}}
				got := text(explain.Parts(asked(t, step.ID, &v)))
				assert.Contains(t, got, "# How it was found", "%s %s", step.ID, c.Key)
				if c.Level > 0 {
					assert.Regexp(t, `source: |evidence: `, got, "%s %s", step.ID, c.Key)
				}
			}
			continue
		case exam.KindEvent:
			v = step.SeenAt(noon())
		case exam.KindNote:
			v = exam.Value{Kind: step.Kind, Text: "a few words"}
		case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
			v = exam.Value{Kind: step.Kind, Number: &notation.Quantity{Value: (step.Possible.Low + step.Possible.High) / 2, Unit: step.Unit}}
		}
		assert.NotEmpty(t, explain.Parts(asked(t, step.ID, &v)), step.ID)
	}
}

func TestHowValuesAreMade(t *testing.T) {
	ear := exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 44, Unit: notation.PerMinute}, Count: &exam.Count{Method: exam.CountByEar, WindowS: 30, Counted: 22}}
	assert.Contains(t, strings.Join(explain.Count(ear), "\n"), "60 x 22 counted / 30 s")
	assert.Contains(t, strings.Join(explain.Count(ear), "\n"), "1.96 x 24.5 / 30 s = 1.6 /min")
	assert.Contains(t, strings.Join(explain.Count(ear), "\n"), "FEI Endurance Rules 2019")
	assert.Contains(t, explain.Count(exam.Value{})[0], "not known")
	times := exam.Value{Kind: exam.KindTime, TrialsS: []float64{1.4, 1.6, 1.8}}
	assert.Equal(t, []string{"the median of 1.4, 1.6, 1.8 s"}, explain.Trials(times))

	girth := exam.Value{
		Kind: exam.KindWeight, Number: &notation.Quantity{Value: 533, Unit: notation.Kilograms},
		Weight: &exam.Weight{Method: exam.WeightMeasured, Equation: "girth and length, horse", Measures: map[string]notation.Quantity{"girth": {Value: 76, Unit: notation.Inch}, "length": {Value: 67, Unit: notation.Inch}}},
	}
	got := text(explain.Parts(asked(t, "weight.body", &girth)))
	for _, part := range []string{"measured: girth 76 in, length 67 in", "W = G² x L / 11,900 (cm, kg)", "281 of 372", "r² 0.90", "Carroll & Huntington", "(published)", "point of the shoulder"} {
		assert.Contains(t, got, part)
	}
	eye := exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 500, Unit: notation.Kilograms}, Weight: &exam.Weight{Method: exam.WeightEye}}
	assert.Contains(t, text(explain.Parts(asked(t, "weight.body", &eye))), "read 88.3 % of the scale in the mean, SD 20.1 (n 600); Ellis & Hollands")

	step, _ := theSteps().ByID("condition.score")
	score, err := step.ReadAnswer("6 7 7 6 7 6", step.Unit)
	require.NoError(t, err)
	got = text(explain.Parts(asked(t, "condition.score", &score)))
	assert.Contains(t, got, "Henneke et al., Equine Vet J 1983;15:371-372")
	assert.Contains(t, got, "1 to 9")
}

// Before an answer a step of words says which answers stand out and where that comes from, and a measure what the last half
// hour does to it; a weight is never called words.
func TestWhatAStepSaysBeforeItsAnswer(t *testing.T) {
	got := text(explain.Parts(asked(t, "breath.effort", nil)))
	assert.Contains(t, got, "# What the answers say\n1 slight: note; ")
	assert.Contains(t, got, "Source: ")
	for _, step := range theSteps().All() {
		for _, c := range step.Choices {
			if c.Level > 0 {
				assert.Contains(t, text(explain.Parts(asked(t, step.ID, nil))), c.Words, "%s %s", step.ID, c.Key)
			}
		}
	}
	a := asked(t, "temp.rectal", nil)
	a.Visit.Context.States = []exam.State{exam.StateWorked, exam.StateHot}
	got = text(explain.Parts(a))
	assert.Contains(t, got, "worked: can rise by up to 3 F (1.7 C) with work; again after 30 to 45 min at rest")
	assert.Contains(t, got, "drsfostersmith.com, article 1766) (practice page); the minutes: our own")

	a = asked(t, "jugular.fill", nil)
	a.Visit.Findings = []exam.Finding{
		{Step: "gum.moisture", Value: exam.Value{Kind: exam.KindPick, Words: []string{"dry"}}},
		{Step: "gum.refill", Value: exam.Value{Kind: exam.KindTime, Number: &notation.Quantity{Value: 3.2, Unit: notation.Seconds}}},
	}
	got = text(explain.Parts(a))
	assert.Contains(t, got, "# So far\nabout 8 %, from gum refill 3.2 s, gum moisture dry")
	assert.Contains(t, got, "gum refill 3.2 s: about 8 %")
	assert.Contains(t, text(explain.Parts(asked(t, "weight.body", nil))), "No range is known for this step.")
}
