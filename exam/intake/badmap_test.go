package intake_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/intake"
	"loosebox/exam/steps"
)

func TestMappingsThatAreRefused(t *testing.T) {
	swap := func(old, with string) string { return strings.Replace(yard, old, with, 1) }
	for name, c := range map[string]struct {
		text string
		line int
		what string
	}{
		"empty":           {"", 1, "begins with the keys"},
		"no yaml":         {"a: [", 1, "not YAML"},
		"list":            {"- a\n- b\n", 1, "begins with the keys"},
		"no columns":      {"horse: {kind: pony}\n", 0, "no columns"},
		"key":             {swap("horse:\n", "hoarse:\n"), 2, "did you mean horse"},
		"horse key":       {swap("  place: Low Farm", "  colour: bay"), 4, "same for every horse"},
		"visit key":       {swap("  reason: yard", "  temp: yard"), 8, "same for every visit"},
		"kind":            {swap("kind: pony", "kind: zebra"), 3, "no kind of animal"},
		"no kind":         {swap("  kind: pony\n", ""), 0, "what kind of animal"},
		"no by":           {swap("  by: Sue Hart\n", ""), 0, "who examined"},
		"no date":         {swap("  Seen: {is: date, format: DD/MM/YYYY hh:mm}\n", ""), 0, "when the exam was"},
		"no name":         {swap("  Name: horse name\n", ""), 0, "which horse"},
		"bad date":        {swap("  routine:", "  date: yesterday\n  routine:"), 7, "no date"},
		"format":          {swap("DD/MM/YYYY hh:mm", "some day"), 12, "no form of a date"},
		"step":            {swap("temp.rectal", "temp.rectum"), 17, "did you mean temp.rectal"},
		"site":            {swap("gut.sounds:left upper", "gut.sounds:left"), 18, "needs a site"},
		"role":            {swap("Rest: at rest", "Rest: at rst"), 30, "did you mean at rest"},
		"unit":            {swap("unit: F", "unit: furlong"), 17, "no unit"},
		"unit unfit":      {swap("unit: F", "unit: kg"), 17, "does not take the unit"},
		"value":           {swap("P: pink", "P: pinkish"), 21, "no choice"},
		"value number":    {swap("slow: 3 s or more", "slow: 300 s"), 24, "not possible"},
		"value twice":     {swap("P: pink, W", "P: pink, p"), 21, "translated twice"},
		"value elsewhere": {swap("sore: {pain.signs", "sore: {manure"), 29, "not among the steps"},
		"several, one":    {swap("well: {demeanour: bright, pain.signs: none}", "well: bright"), 28, "several steps"},
		"several, none":   {swap("    values:\n      well: {demeanour: bright, pain.signs: none}\n      sore: {pain.signs: \"flank, paws\"}\n", ""), 25, "must say what each word means"},
		"column key":      {swap("unit: F", "units: F"), 17, "no key of a column"},
		"column twice":    {swap("  Invoice: ignore", "  Temp : ignore"), 0, "Temp"},
		"place twice":     {swap("  Invoice: ignore", "  Invoice: temp.rectal"), 32, "and so does column"},
		"role twice":      {swap("  Invoice: ignore", "  Invoice: horse name"), 32, "and so is column"},
		"before":          {swap("{note: remarks}", "{note: remarks, before: x}"), 31, "belongs to the horse name"},
		"step and role":   {swap("{is: date, format: DD/MM/YYYY hh:mm}", "{is: date, step: heart.rate}"), 12, "cannot hold a step"},
		"nothing":         {swap("Invoice: ignore", "Invoice: {before: x}"), 32, "neither what it is"},
		"alias":           {swap("Invoice: ignore", "Invoice: *x"), 0, ""},
		"two documents":   {yard + "---\nabout: x\n", 0, "second document"},
		"not utf-8":       {swap("yard book", "y\xffrd"), 1, "not UTF-8"},
		"long line":       {swap("yard book", strings.Repeat("x", 2000)), 1, "a line of more"},
		"deep":            {"a: " + strings.Repeat("[", 900) + "\n", 0, ""},
		"large":           {strings.Repeat("# x\n", 100_000), 0, "larger"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := mapOf(c.text)
			p := problemsOf(t, err)[0]
			if c.line > 0 {
				assert.Equal(t, c.line, p.Line, p.What)
			}
			assert.Contains(t, p.What+p.Column, c.what)
		})
	}
}

func FuzzReadMap(f *testing.F) {
	f.Add(yard, yardHead+"Bramble,04/05/2019 14:30,2012,f,101.2,none,P,2.5,sore,yes,hay,1\n")
	f.Add("columns: {a: horse name, b: {step: heart.rate, values: {x: <3, y: not done}}}\nhorse: {kind: horse}\nvisit: {by: x, date: 2019-01-01}\n", "a,b\nc,x\n")
	f.Add("columns:\n  ? [a]\n  : &x\n  *x : !!binary x", "a;b\n")
	f.Fuzz(func(t *testing.T, mapping, table string) {
		m, err := intake.ReadMap(strings.NewReader(mapping), "m.yaml", steps.Table())
		if err != nil {
			problemsOf(t, err)
			return
		}
		m.Latest = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
		rows, err := m.Apply(strings.NewReader(table), "t.csv")
		if err != nil {
			problemsOf(t, err)
			return
		}
		for _, r := range rows {
			v := fold(t, r)
			assertClean(t, v.Horse.Name)
			assertClean(t, v.By)
			for _, n := range v.Notes {
				assertClean(t, n.Text)
			}
			for _, found := range v.Findings {
				assertClean(t, found.Value.Typed)
				assertClean(t, string(found.NotDone))
			}
		}
	})
}
