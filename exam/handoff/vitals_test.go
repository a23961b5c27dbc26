package handoff_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/handoff"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// read is everything of a page that is read aloud.
func read(p handoff.Page) string {
	var lines []string
	for _, s := range p.Sections {
		lines = append(lines, s.Lines...)
	}
	return strings.Join(lines, "\n")
}

// spoken are the numbers of a visit as they must be read, by step.
func spoken(v exam.Visit) []string {
	var out []string
	for step, unit := range map[exam.StepID]string{"heart.rate": " a minute", "breath.rate": " a minute", "temp.rectal": " "} {
		f, ok := v.First(step)
		if !ok || f.Value.Number == nil {
			continue
		}
		decimals := 0
		if step == "temp.rectal" {
			decimals, unit = 1, " "+string(f.Value.Number.Unit)
		}
		out = append(out, notation.FormatNumber(f.Value.Number.Value, decimals)+unit)
	}
	return out
}

// The 300 colic cases (M. McLeish and M. Cecile, University of Guelph; UCI Machine
// Learning Repository, CC BY 4.0): whatever combination fired, temperature, heart
// rate and breathing rate of each are read.
func TestEveryColicCaseIsReadWithItsVitalSigns(t *testing.T) {
	m, err := os.Open("../../testdata/uci-horse-colic-300.map.yaml")
	require.NoError(t, err)
	defer func() { _ = m.Close() }()
	by, err := intake.ReadMap(m, "map.yaml", examtest.Steps())
	require.NoError(t, err)
	data, err := os.Open("../../testdata/uci-horse-colic-300.csv")
	require.NoError(t, err)
	defer func() { _ = data.Close() }()
	rows, err := by.Apply(data, "uci-horse-colic-300.csv")
	require.NoError(t, err)
	require.Len(t, rows, 300)
	seen, together, unread := 0, 0, 0
	for _, r := range rows {
		var v exam.Visit
		for i, e := range r.Entries {
			e.Seq, e.Visit, e.Prev = i+1, "visit", v.Last
			err := exam.Seal(&e)
			require.NoError(t, err)
			require.NoError(t, v.Apply(e))
		}
		in := input(t, v)
		p := handoff.Make(in)
		text := section(p, handoff.Vitals)
		for _, want := range spoken(v) {
			require.Contains(t, text, want, v.Horse.Name)
			seen++
		}
		require.Less(t, p.Seconds(), 60.0, "%s: %d words\n%s", v.Horse.Name, p.Words, read(p))
		for _, w := range p.Worries {
			if w.Remark.Combination {
				together++
			}
			if w.Remark.Level == ranges.LevelTell && !w.Read {
				unread++
			}
		}
		requireToldIsRead(t, in, p)
	}
	assert.Greater(t, seen, 700, "numbers that were looked for")
	assert.Greater(t, together, 100, "combinations that could have swallowed one")
	t.Logf("%d numbers read, %d combinations, %d for the veterinarian named only", seen, together, unread)
}

// requireToldIsRead says that each finding for the veterinarian is read: its whole line, or its name at least.
func requireToldIsRead(t require.TestingT, in handoff.Input, p handoff.Page) {
	text := strings.ToLower(section(p, handoff.StandOut))
	for _, w := range p.Worries {
		if w.Remark.Level < ranges.LevelTell || w.Read {
			continue
		}
		keys := []exam.Key{{Step: w.Remark.Step}}
		if w.Remark.Combination && len(w.Remark.Of) > 0 {
			keys = w.Remark.Of
		}
		for _, k := range keys {
			step, _ := in.Steps.ByID(k.Step)
			name := strings.ToLower(step.Short)
			switch k.Step {
			case "pain.signs", "demeanour": // a sign is read in its own words: "looks at its flank"
				if f, ok := in.Visit.First(k.Step); ok && strings.Contains(text, strings.ToLower(f.Value.Show(step))) {
					continue
				}
			}
			require.Contains(t, text, name, "%s\n%s", w.Remark.Why, text)
		}
	}
}

// Visits made from the step table: every vital sign is said, its value or that it
// was not taken, whatever else was found.
func TestEveryVitalSignIsSaid(t *testing.T) {
	table := examtest.Steps()
	rapid.Check(t, func(rt *rapid.T) {
		var found []exam.Finding
		for _, s := range table.All() {
			sites := s.Sites
			if len(sites) == 0 {
				sites = []exam.Site{exam.NoSite}
			}
			for _, site := range sites {
				switch skip := rapid.IntRange(0, 3).Draw(rt, "skip"); {
				case skip == 0:
				case skip == 1:
					found = append(found, exam.Finding{Step: s.ID, Site: site, NotDone: rapid.SampledFrom(exam.Reasons()).Draw(rt, "why")})
				case len(s.Choices) > 0:
					found = append(found, words(s.ID, site, rapid.SampledFrom(s.Choices).Draw(rt, "choice").Key))
				case s.Unit != "":
					f := number(s.ID, rapid.Float64Range(s.Possible.Low, s.Possible.High).Draw(rt, "n"), s.Unit)
					f.Site = site
					found = append(found, f)
				}
			}
		}
		v := visit(noon(), found...)
		p := handoff.Make(input(rt, v))
		text := section(p, handoff.Vitals)
		for _, want := range spoken(v) {
			require.Contains(rt, text, want)
		}
		for _, vital := range p.Vitals {
			if vital.Said != "" {
				require.Contains(rt, text, vital.Said)
			}
			for _, name := range vital.Open {
				if !vital.Only {
					require.Regexp(rt, `Not taken[^\n]*`+name, text)
				}
			}
		}
		require.Less(rt, p.Seconds(), 60.0, read(p))
	})
}

func TestACombinationSaysItsNumbersAndCommentsAreRead(t *testing.T) {
	v := visit(noon(), number("temp.rectal", 39.4, notation.Celsius), words("cough", "", "fits"), number("heart.rate", 43.6, notation.PerMinute), exam.Finding{
		Step: "note", Value: exam.Value{Kind: exam.KindNote, Text: "left half of the hay"},
	})
	v.Notes = []exam.VisitNote{{Text: "cough is wet", Step: "cough"}, {Text: "owner holds him"}}
	p := handoff.Make(input(t, v))
	out := section(p, handoff.StandOut)
	assert.Contains(t, out, "Together: temperature 39.4 C and cough often, or in fits.")
	assert.NotContains(t, out, "Together, tell the vet")
	assert.Contains(t, section(p, handoff.Vitals), "Heart rate 44 a minute.", "whole numbers are read")
	assert.Contains(t, section(p, handoff.Rest), "Anything else: left half of the hay.\nCough: cough is wet.\nComment: owner holds him.")
	assert.Contains(t, strings.Join(p.Object, "\n"), "Comment, cough: cough is wet.")
}

func TestAWeightIsNoFinerThanItWasFound(t *testing.T) {
	for _, c := range []struct {
		weight notation.Quantity
		method exam.WeighMethod
		want   string
	}{
		{notation.Quantity{Value: 1058.2, Unit: notation.Pounds}, exam.WeightTape, "Weight 1060 lb by weight tape."},
		{notation.Quantity{Value: 482.4, Unit: notation.Kilograms}, exam.WeightMeasured, "Weight 480 kg by girth and length."},
		{notation.Quantity{Value: 482.4, Unit: notation.Kilograms}, exam.WeightScale, "Weight 482 kg on a scale."},
		{notation.Quantity{Value: 482.4, Unit: notation.Kilograms}, exam.WeightEye, "Weight 480 kg by eye."},
		{notation.Quantity{Value: 48.4, Unit: notation.Kilograms}, exam.WeightTape, "Weight 48 kg by weight tape."},
		{notation.Quantity{Value: 500, Unit: notation.Kilograms}, "", "Weight 500 kg, method not recorded."},
	} {
		f := exam.Finding{Step: "weight.body", Value: exam.Value{Kind: exam.KindWeight, Number: &c.weight}}
		if c.method != "" {
			f.Value.Weight = &exam.Weight{Method: c.method}
		}
		assert.Contains(t, section(handoff.Make(input(t, visit(noon(), f))), handoff.Vitals), c.want)
	}
}

// A veterinarian on the telephone hears both answers of two laptops, not the later alone.
func TestBothAnswersOfTwoLaptopsAreRead(t *testing.T) {
	celsius := func(v float64) exam.Finding {
		return exam.Finding{Step: "temp.rectal", By: "Eva", Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}}}
	}
	f := celsius(37.8)
	f.Differ = []exam.Finding{celsius(41.5), {Step: "temp.rectal", NotDone: exam.ReasonRefused}}
	page := section(handoff.Make(input(t, visit(noon(), f))), handoff.Vitals)
	assert.Contains(t, page, "37.8 C or 41.5 C or not done, from two laptops.")
}

func TestAMurmurIsReadByItsGrade(t *testing.T) {
	before := visit(noon().Add(-3*time.Hour), words("heart.murmur", exam.Left, "0"))
	before.ID, before.ClosedAt = "before", &before.OpenedAt
	p := handoff.Make(input(t, visit(noon(), words("heart.murmur", exam.Left, "2")), before))
	assert.Contains(t, section(p, handoff.StandOut), "Left heart murmur grade 2 of 6, last visit none.")
	assert.Contains(t, section(p, handoff.Rest), "Last seen 3 hours ago, 09:00, usual, 1 of 59 answered.")
}

// Nothing is to be decided after a healthy yearly check.
func TestAHealthyCheckAsksForNoDecision(t *testing.T) {
	v := visit(noon(), number("temp.rectal", 37.8, notation.Celsius))
	v.Reason = "yearly check"
	assert.Equal(t, "This is for your information. Do you want anything else?", section(handoff.Make(input(t, v)), handoff.Request))
	v.Routine = "before-vaccination"
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Request), "go ahead, wait, or stop", "that routine is made to ask it")
}

func TestGoldenPages(t *testing.T) {
	for name, in := range goldenInputs(t) {
		golden(t, name, handoff.Make(in).Text(80))
	}
}

func golden(t *testing.T, name, text string) {
	t.Helper()
	file := filepath.Join("testdata", name+".txt")
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), text, "LOOSEBOX_UPDATE=1 draws it again")
}

// goldenInputs are a healthy yearly check, an early colic, a newborn of three hours,
// and a second visit of one day.
func goldenInputs(t *testing.T) map[string]handoff.Input {
	gut := func(keys ...string) []exam.Finding {
		var out []exam.Finding
		for i, site := range []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower} {
			out = append(out, words("gut.sounds", site, keys[i%len(keys)]))
		}
		return out
	}
	weight := exam.Finding{Step: "weight.body", Value: exam.Value{
		Kind: exam.KindWeight, Number: &notation.Quantity{Value: 1058.2, Unit: notation.Pounds}, Weight: &exam.Weight{Method: exam.WeightTape},
	}}
	basic := func(c, heart, breaths, refill float64) []exam.Finding {
		r := number("gum.refill", refill, notation.Seconds)
		r.Value.Kind = exam.KindTime
		return []exam.Finding{
			words("demeanour", "", "bright"), number("temp.rectal", c, notation.Celsius), number("heart.rate", heart, notation.PerMinute),
			number("breath.rate", breaths, notation.PerMinute), words("gum.moisture", "", "moist"), r, weight,
		}
	}
	healthy := visit(noon(), append(append(basic(37.8, 36.4, 12, 1.4), words("gum.colour", "", "pink")), gut("heard")...)...)
	healthy.Reason = "yearly check"

	colic := visit(noon(), append(append(basic(37.4, 63.7, 24.2, 3.4),
		words("gum.colour", "", "pale"), words("pain.signs", "", "flank", "paws"), exam.Finding{Step: "note", Value: exam.Value{Kind: exam.KindNote, Text: "no droppings since last night"}},
		words("limb.digitalpulse", exam.LeftFore, "faint"), words("limb.digitalpulse", exam.RightFore, "faint"),
	), gut("none", "none", "reduced", "heard")...)...)
	colic.Reason = "rolled twice, looks at the flank"
	colic.Horse.Reactions = []string{"swelling at a neck injection"}

	foal := visit(noon(), number("temp.rectal", 37.1, notation.Celsius), number("heart.rate", 92, notation.PerMinute), number("breath.rate", 34, notation.PerMinute),
		words("gum.colour", "", "pink"), words("foal.stand", "", exam.EventSeen), words("foal.nurse", "", exam.EventNotYet))
	foal.Horse = exam.Horse{ID: "f", Name: "Teasel", Kind: exam.AnimalHorse, Sex: exam.SexUnknown, Birth: exam.Birth{At: noon().Add(-4 * time.Hour), Precision: exam.BornMinute}}
	foal.Routine, foal.Reason = "newborn-foal", "born this morning"

	morning := visit(noon().Add(-5*time.Hour), basic(37.9, 44, 16, 2)...)
	morning.ID, morning.ClosedAt = "morning", &morning.OpenedAt
	second := visit(noon().Add(-time.Hour), append(basic(39.2, 56, 20, 2.5), words("gum.colour", "", "pink"))...)
	second.Reason = "dull since the morning"

	in := map[string]handoff.Input{
		"healthy": input(t, healthy), "early-colic": input(t, colic), "newborn": input(t, foal), "second-visit": input(t, second, morning),
	}
	for name, one := range in {
		for _, r := range examtest.Routines() {
			if r.Name == one.Visit.Routine {
				one.Left = one.Visit.Left(r.For(one.Visit.Class(), one.Steps))
			}
		}
		in[name] = one
	}
	return in
}
