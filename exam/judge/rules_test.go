package judge_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func whole(t testing.TB) *judge.Judge {
	t.Helper()
	return judge.New(builtIn(t), steps.Table())
}

// said is a finding in words, "gut.sounds:left upper".
func said(place string, keys ...string) exam.Finding {
	step, site, _ := strings.Cut(place, ":")
	s, _ := steps.Table().ByID(exam.StepID(step))
	return exam.Finding{Step: s.ID, Site: exam.Site(site), Value: exam.Value{Kind: s.Kind, Words: keys}}
}

// gutAll answers the four quadrants in the order of quadrants.
func gutAll(keys ...string) []exam.Finding {
	out := make([]exam.Finding, 0, 4)
	for i, site := range []string{"left upper", "left lower", "right upper", "right lower"} {
		out = append(out, said("gut.sounds:"+site, keys[i]))
	}
	return out
}

func heart(v float64) exam.Finding   { return measured("heart.rate", v, notation.PerMinute) }
func breaths(v float64) exam.Finding { return measured("breath.rate", v, notation.PerMinute) }
func tempC(v float64) exam.Finding   { return measured("temp.rectal", v, notation.Celsius) }
func tempF(v float64) exam.Finding   { return measured("temp.rectal", v, notation.Fahrenheit) }
func seconds(s exam.StepID, v float64) exam.Finding {
	return measured(s, v, notation.Seconds)
}

// ruleCase is one visit at which a rule holds, and several at which it does not.
type ruleCase struct {
	rule     string
	class    ranges.Class // of every visit; the adult light horse where empty
	inFoal   bool
	holds    [][]exam.Finding
	holdsNot [][]exam.Finding
	earlier  func(h exam.Horse) []exam.Visit
}

// before makes a visit of the horse so long before the day.
func before(h exam.Horse, ago time.Duration, findings ...exam.Finding) exam.Visit {
	v := visitOf(h, findings...)
	v.ID, v.OpenedAt = "vE", day().Add(-ago)
	closed := v.OpenedAt.Add(time.Minute)
	v.ClosedAt = &closed
	return v
}

type fs = []exam.Finding

// Every rule; where it was read stands in the rule itself, by the code of its source.
func ruleCases() []ruleCase {
	gum := said("gum.colour", "brick")
	return []ruleCase{
		{
			rule:     "no gut sound anywhere",
			holds:    [][]exam.Finding{gutAll("none", "none", "none", "none"), {said("gut.sounds:overall", "none")}},
			holdsNot: [][]exam.Finding{gutAll("none", "none", "none", "reduced"), gutAll("none", "none", "none", "none")[:3]},
		},
		{
			rule: "silent quadrant with pain",
			holds: [][]exam.Finding{
				{said("gut.sounds:left lower", "none"), said("pain.signs", "paws")},
				{said("gut.sounds:overall", "none"), said("pain.signs", "lip", "mild")},
			},
			holdsNot: [][]exam.Finding{
				{said("gut.sounds:left lower", "none"), said("pain.signs", "none")},
				{said("gut.sounds:left lower", "reduced"), said("pain.signs", "rolls")},
				{said("gut.sounds:left lower", "none"), said("pain.signs", "lip")},
			},
		},
		{
			rule: "signs of colic, fast heart, changed gums",
			holds: [][]exam.Finding{
				{heart(52), gum, said("pain.signs", "flank")},
				{heart(52), said("gum.colour", "pale"), said("belly.distension", "moderate")},
				{heart(80), said("gum.colour", "bright"), said("gut.sounds:right upper", "none")},
			},
			holdsNot: [][]exam.Finding{
				{heart(40), gum, said("pain.signs", "flank")},
				{heart(52), said("gum.colour", "palepink"), said("pain.signs", "flank")},
				{heart(52), gum},
				{heart(20), gum, said("pain.signs", "flank")},
			},
		},
		{
			rule:     "distended belly with pain",
			holds:    [][]exam.Finding{{said("belly.distension", "moderate"), said("pain.signs", "paws")}, {said("belly.distension", "severe"), said("pain.signs", "constant")}},
			holdsNot: [][]exam.Finding{{said("belly.distension", "moderate"), said("pain.signs", "none")}, {said("belly.distension", "none"), said("pain.signs", "rolls")}},
		},
		{
			rule: "sudden ease, faster heart",
			earlier: func(h exam.Horse) []exam.Visit {
				return []exam.Visit{before(h, 3*time.Hour, said("pain.signs", "rolls"), heart(60))}
			},
			holds:    [][]exam.Finding{{said("pain.signs", "none"), heart(84)}},
			holdsNot: [][]exam.Finding{{said("pain.signs", "none"), heart(63)}, {said("pain.signs", "rolls"), heart(84)}},
		},
		{
			rule:     "gut sounds reduced everywhere",
			holds:    [][]exam.Finding{gutAll("reduced", "reduced", "reduced", "reduced"), gutAll("none", "reduced", "none", "reduced"), {said("gut.sounds:overall", "reduced")}},
			holdsNot: [][]exam.Finding{gutAll("reduced", "reduced", "heard", "reduced"), gutAll("none", "none", "none", "none"), gutAll("reduced", "reduced", "reduced", "increased")},
		},
		{
			rule:     "labored breathing at a rate that is no alarm",
			holds:    [][]exam.Finding{{said("breath.effort", "2"), breaths(12)}, {said("breath.effort", "4"), breaths(18)}},
			holdsNot: [][]exam.Finding{{said("breath.effort", "1"), breaths(12)}, {said("breath.effort", "3")}, {said("breath.effort", "3"), breaths(60)}},
		},
		{
			rule:     "more breaths than heart beats",
			holds:    [][]exam.Finding{{breaths(50), heart(44)}},
			holdsNot: [][]exam.Finding{{breaths(44), heart(44)}, {breaths(50)}, {heart(20)}},
		},
		{
			rule:     "wheals with changed breathing",
			holds:    [][]exam.Finding{{said("skin.look", "hives"), said("breath.effort", "1")}, {said("skin.look", "faceswelling"), breaths(40)}},
			holdsNot: [][]exam.Finding{{said("skin.look", "hives"), said("breath.effort", "0"), breaths(12)}, {said("skin.look", "lump"), breaths(40)}},
		},
		{
			rule: "over 102 F and dull or off feed",
			holds: [][]exam.Finding{
				{tempF(102.1), said("demeanour", "dull")}, {tempC(39), said("pain.signs", "offfeed")},
			},
			holdsNot: [][]exam.Finding{{tempF(102), said("demeanour", "dull")}, {tempF(103), said("demeanour", "bright")}},
		},
		{
			rule: "hot sore leg with fever or lameness",
			holds: [][]exam.Finding{
				{said("limb.look:left hind", "swollen"), tempC(38.6)}, {said("limb.look:left fore", "joint"), said("gait.look", "lame")},
			},
			holdsNot: [][]exam.Finding{{said("limb.look:left hind", "filled"), tempC(38.6)}, {said("limb.look:left hind", "swollen"), tempC(38)}},
		},
		{
			rule:     "low temperature in a bright horse",
			holds:    [][]exam.Finding{{tempC(36.2), said("demeanour", "bright")}, {tempF(97.1), said("demeanour", "bright")}},
			holdsNot: [][]exam.Finding{{tempC(36.2), said("demeanour", "dull")}, {tempC(37), said("demeanour", "bright")}, {tempC(39.5), said("demeanour", "bright")}},
		},
		{
			rule: "dull or off-feed donkey", class: ranges.DonkeyAdult,
			holds:    [][]exam.Finding{{said("demeanour", "dull"), tempC(37), heart(40)}, {said("pain.signs", "offfeed")}},
			holdsNot: [][]exam.Finding{{said("demeanour", "bright")}, {said("pain.signs", "paws")}},
		},
		{
			rule: "foal off suck", class: ranges.FoalFirstWeek,
			holds: [][]exam.Finding{{said("pain.signs", "offfeed")}}, holdsNot: [][]exam.Finding{{said("pain.signs", "lip")}},
		},
		{
			rule: "foal with white or yellow gums", class: ranges.FoalFirstDay,
			holds: [][]exam.Finding{{said("gum.colour", "yellow")}, {said("gum.colour", "white")}}, holdsNot: [][]exam.Finding{{said("gum.colour", "pink")}},
		},
		{
			rule: "foal with a swollen joint or lame", class: ranges.FoalToSixMonths,
			holds: [][]exam.Finding{{said("limb.look:right hind", "joint")}, {said("gait.look", "lame")}}, holdsNot: [][]exam.Finding{{said("limb.look:right hind", "clean")}},
		},
		{
			rule: "bounding pulses in two feet",
			holds: [][]exam.Finding{
				{said("limb.digitalpulse:left fore", "bounding"), said("limb.digitalpulse:right fore", "bounding")},
				{said("limb.digitalpulse:overall", "bounding")},
			},
			holdsNot: [][]exam.Finding{{said("limb.digitalpulse:left fore", "bounding"), said("limb.digitalpulse:right fore", "strong")}},
		},
		{
			rule: "hot hoof and raised pulse in one foot",
			holds: [][]exam.Finding{
				{said("hoof.heat:left fore", "hot"), said("limb.digitalpulse:left fore", "easy")},
				{said("hoof.heat:left fore", "hot"), said("limb.digitalpulse:overall", "strong")},
			},
			holdsNot: [][]exam.Finding{{said("hoof.heat:left fore", "hot"), said("limb.digitalpulse:right fore", "strong")}, {said("hoof.heat:left fore", "warm"), said("limb.digitalpulse:left fore", "strong")}},
		},
		{
			rule: "both forefeet warm, pulses raised",
			holds: [][]exam.Finding{{
				said("hoof.heat:left fore", "warm"), said("hoof.heat:right fore", "warm"),
				said("limb.digitalpulse:left fore", "easy"), said("limb.digitalpulse:right fore", "strong"),
			}},
			holdsNot: [][]exam.Finding{
				{said("hoof.heat:left fore", "warm"), said("limb.digitalpulse:left fore", "easy"), said("limb.digitalpulse:right fore", "strong")},
				{said("hoof.heat:overall", "warm"), said("limb.digitalpulse:overall", "faint")},
			},
		},
		{
			rule:  "one foot's pulse stronger than the others",
			holds: [][]exam.Finding{{said("limb.digitalpulse:left fore", "strong"), said("limb.digitalpulse:right fore", "faint"), said("limb.digitalpulse:left hind", "none")}},
			holdsNot: [][]exam.Finding{
				{said("limb.digitalpulse:left fore", "strong"), said("limb.digitalpulse:right fore", "strong"), said("limb.digitalpulse:left hind", "none"), said("limb.digitalpulse:right hind", "none")},
				{said("limb.digitalpulse:left fore", "strong")},
			},
		},
		{
			rule: "uneven rhythm new to this horse",
			earlier: func(h exam.Horse) []exam.Visit {
				return []exam.Visit{before(h, 900*time.Hour, said("heart.rhythm", "pauses"))}
			},
			holds: [][]exam.Finding{{said("heart.rhythm", "early")}, {said("heart.rhythm", "irregular")}}, holdsNot: [][]exam.Finding{{said("heart.rhythm", "pauses")}},
		},
		{
			rule:     "murmur with swelling under the belly",
			holds:    [][]exam.Finding{{said("heart.murmur:left", "2"), said("belly.distension", "swollen")}},
			holdsNot: [][]exam.Finding{{said("heart.murmur:left", "0"), said("belly.distension", "swollen")}, {said("heart.murmur:left", "2"), said("belly.distension", "none")}},
		},
		{
			rule: "murmur new to this horse",
			earlier: func(h exam.Horse) []exam.Visit {
				return []exam.Visit{before(h, 900*time.Hour, said("heart.murmur:left", "0"), said("heart.murmur:right", "2"))}
			},
			holds: [][]exam.Finding{{said("heart.murmur:left", "2")}}, holdsNot: [][]exam.Finding{{said("heart.murmur:right", "3")}, {said("heart.murmur:left", "0")}},
		},
		{
			rule: "discharge in a mare in foal", inFoal: true,
			holds: [][]exam.Finding{{said("udder.sheath", "discharge")}}, holdsNot: [][]exam.Finding{{said("udder.sheath", "wax")}},
		},
		{
			rule:     "slow skin tent with another sign of lost fluid",
			holds:    [][]exam.Finding{{seconds("skin.tent", 3), said("gum.moisture", "tacky")}, {seconds("skin.tent", 3), seconds("gum.refill", 2.5)}},
			holdsNot: [][]exam.Finding{{seconds("skin.tent", 8)}, {seconds("skin.tent", 1), said("gum.moisture", "dry")}, {seconds("skin.tent", 8), said("gum.moisture", "moist")}},
		},
	}
}

// Fever begins where the class's own source says, at its first and last value beside each sign.
func feverCases() []ruleCase {
	signs := []exam.Finding{
		said("cough", "some"), said("nose.discharge:left", "pus"), said("node.jaw", "large"), said("manure", "watery"), said("gait.look", "sways"),
	}
	var out []ruleCase
	for _, f := range []struct {
		name         string
		class        ranges.Class
		c, f         float64 // the first that is a fever
		lastC, lastF float64 // the last that is none
	}{
		{"adult light horse", ranges.AdultLight, 38.5, 101.3, 38.4, 101.2},      // AHT
		{"draft horse", ranges.Miniature, 38.5, 101.3, 38.4, 101.2},             // AHT, lent
		{"weanling, 6 to 12 months", ranges.Weanling, 38.9, 102, 38.8, 101.9},   // ROBIN08
		{"weanling, 6 to 12 months", ranges.TwoThree, 38.9, 102, 38.8, 101.9},   // ROBIN08
		{"yearling", ranges.Yearling, 38.9, 102, 38.8, 101.9},                   // ROBIN08, lent
		{"foal, first hour", ranges.FoalFirstWeek, 39, 102.1, 38.9, 102},        // HARTUGA: over 102 F
		{"foal, 1 to 4 weeks", ranges.FoalFirstMonth, 39, 102.1, 38.9, 102},     // PRESC89
		{"foal, 1 to 6 months", ranges.FoalToSixMonths, 39, 102.1, 38.9, 102},   // PRESC89, lent
		{"foal, 1 to 6 months", ranges.DonkeyNewborn, 39, 102.1, 38.9, 102},     // lent
		{"foal, 1 to 6 months", ranges.DonkeyYoung, 39, 102.1, 38.9, 102},       // lent
		{"foal, 1 to 6 months", ranges.MuleFoalSixMonths, 39, 102.1, 38.9, 102}, // lent
		{"donkey, adult", ranges.DonkeyAdult, 38.1, 100.5, 38, 100.4},           // WVS: over 38.0 C
		{"mule", ranges.Mule, 38.6, 101.5, 38.5, 101.4},                         // MSU, lent
	} {
		c := ruleCase{rule: "fever and a sign that may be contagious: " + f.name, class: f.class}
		for _, s := range signs {
			c.holds = append(c.holds, fs{tempC(f.c), s}, fs{tempF(f.f), s})
			c.holdsNot = append(c.holdsNot, fs{tempC(f.lastC), s}, fs{tempF(f.lastF), s})
		}
		c.holdsNot = append(c.holdsNot, fs{tempC(f.c)}, fs{tempC(f.c), said("cough", "none"), said("nose.discharge:left", "clear")})
		out = append(out, c)
	}
	return out
}

func TestRulesHoldAndDoNotHold(t *testing.T) {
	j := whole(t)
	tested := map[string]bool{}
	levels := map[string]judge.Rule{}
	for _, r := range judge.Rules() {
		levels[r.Name] = r
	}
	for _, c := range slices.Concat(ruleCases(), limitCases(), colicCases(), feverCases()) {
		require.NotEmpty(t, c.holds)
		require.NotEmpty(t, c.holdsNot)
		tested[c.rule] = true
		class := c.class
		if class == "" {
			class = ranges.AdultLight
		}
		h := horseOf(t, class)
		h.InFoal = c.inFoal
		var earlier []exam.Visit
		if c.earlier != nil {
			earlier = c.earlier(h)
		}
		for _, findings := range c.holds {
			v := visitOf(h, findings...)
			assert.Contains(t, j.Held(v, earlier), c.rule, "%+v", findings)
			verdict := j.Visit(v, earlier)
			assert.GreaterOrEqual(t, verdict.Level, levels[c.rule].Level)
			assert.Empty(t, verdict.NotJudged)
			var texts []string
			for _, r := range verdict.Remarks {
				if r.Combination {
					texts = append(texts, r.Why)
					assert.NotEmpty(t, r.Value)
					assert.NotEmpty(t, r.Source)
				}
			}
			assert.Contains(t, texts, levels[c.rule].Why)
		}
		for _, findings := range c.holdsNot {
			assert.NotContains(t, j.Held(visitOf(h, findings...), earlier), c.rule, "%+v", findings)
		}
	}
	tested["temperature beyond an adult's limits, none held"] = true // TestNoLimitHeldLendsAnAdults
	for _, name := range judge.RuleNames() {
		assert.True(t, tested[name], "no case for the rule %q", name)
	}
}

// A rule for one kind of horse leaves the others alone.
func TestRulesKeepToTheirAnimals(t *testing.T) {
	j := whole(t)
	curls := said("pain.signs", "lip")
	assert.Empty(t, j.Held(adult(t, curls, said("gum.colour", "yellow"), said("gait.look", "lame"), said("udder.sheath", "discharge")), nil))
	foal := visitOf(horseOf(t, ranges.FoalFirstHour), breaths(75), heart(70), tempC(36.8), said("demeanour", "bright"))
	assert.Empty(t, j.Held(foal, nil), "a newborn breathes faster than its heart beats (FOALT, NAGEL15), and a cold one is no misreading")
	mule := visitOf(horseOf(t, ranges.Mule), tempF(102.3), said("demeanour", "dull"))
	assert.Empty(t, j.Held(mule, nil))
	oldPain := before(horseOf(t, ranges.AdultLight), 30*time.Hour, said("pain.signs", "rolls"), heart(60))
	assert.Empty(t, j.Held(adult(t, said("pain.signs", "none"), heart(84)), []exam.Visit{oldPain}), "more than a day ago")
	assert.Empty(t, j.Held(adult(t, said("heart.rhythm", "early"), said("heart.murmur:left", "2")), nil), "new only where an earlier visit listened")
}

// Every rule is a whole literal: known step, known source, an evidence word its source allows, a sentence.
func TestRulesAreWhole(t *testing.T) {
	table, known := builtIn(t), steps.Table()
	names := map[string]bool{}
	for _, r := range judge.Rules() {
		assert.False(t, names[r.Name], r.Name)
		names[r.Name] = true
		_, ok := known.ByID(r.Step)
		assert.True(t, ok, r.Name)
		assert.GreaterOrEqual(t, r.Level, ranges.LevelRecheck, r.Name)
		assert.Regexp(t, `^[A-Z].*\.$`, r.Why, r.Name)
		assert.LessOrEqual(t, len(r.Why), 160, r.Name)
		require.NotEmpty(t, r.Sources, r.Name)
		for _, code := range r.Sources {
			source, ok := table.Source(code)
			require.True(t, ok, "%s: %s", r.Name, code)
			assert.True(t, source.Tier.Carries(r.Evidence), "%s: %s is %s", r.Name, code, source.Tier)
			assert.Equal(t, r.Evidence == ranges.FromMemory, code == "MEMORY", r.Name)
		}
	}
}

// Every step and choice key named in the code of the rules is in the table of steps.
func TestRulesNameKnownChoices(t *testing.T) {
	files, err := filepath.Glob("rules*.go")
	require.NoError(t, err)
	known, seen := steps.Table(), 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			words := literals(call.Args)
			switch calledName(call) {
			case "having", "everywhere", "answered", "atLeast", "number", "high":
				if len(words) == 0 {
					return true // from a table: see below
				}
				step, ok := known.ByID(exam.StepID(words[0]))
				require.True(t, ok, words[0])
				for _, key := range words[1:] {
					_, ok := step.Choice(key)
					assert.True(t, ok, "%s: %s has no choice %s", name, words[0], key)
					seen++
				}
			}
			return true
		})
	}
	assert.Greater(t, seen, 60)
	for id, keys := range judge.ColicKeys() {
		step, ok := known.ByID(id)
		require.True(t, ok, id)
		for _, key := range keys {
			_, ok := step.Choice(key)
			assert.True(t, ok, "%s has no choice %s", id, key)
		}
	}
}

func calledName(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

func literals(args []ast.Expr) []string {
	var out []string
	for _, a := range args {
		if lit, ok := a.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, _ := strconv.Unquote(lit.Value)
			out = append(out, text)
		}
	}
	return out
}
