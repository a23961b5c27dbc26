package judge_test

import (
	"fmt"
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

// What went unjudged, or was only noted, before every class had its limits.
func TestDangerousValuesAreTold(t *testing.T) {
	j := whole(t)
	for name, c := range map[string]struct {
		class ranges.Class
		find  []exam.Finding
	}{
		"weanling at 41.5 C":               {ranges.Weanling, fs{tempC(41.5)}},
		"miniature at 41 C":                {ranges.Miniature, fs{tempC(41)}},
		"miniature at 140 beats":           {ranges.Miniature, fs{heart(140)}},
		"newborn donkey at 35 C":           {ranges.DonkeyNewborn, fs{tempC(35)}},
		"mule at 120 beats":                {ranges.Mule, fs{heart(120)}},
		"foal of two days, refill 4 s":     {ranges.FoalFirstWeek, fs{seconds("gum.refill", 4)}},
		"mule foal of three weeks at 40 C": {ranges.MuleFoalFirstMonth, fs{tempC(40)}},
		"donkey foal of unknown age, cold": {ranges.DonkeyFoalUnknown, fs{tempC(36)}},
		"adult at 36.2 C and dull":         {ranges.AdultLight, fs{tempC(36.2), said("demeanour", "dull")}},
	} {
		verdict := j.Visit(visitOf(horseOf(t, c.class), c.find...), nil)
		assert.Equal(t, ranges.LevelTell, verdict.Level, "%s: %v", name, verdict.Remarks)
		assert.Empty(t, verdict.NotJudged, name)
	}
	for name, c := range map[string]struct {
		class ranges.Class
		find  []exam.Finding
		level exam.Level
	}{
		"adult at 36.5 C":                        {ranges.AdultLight, fs{tempC(36.5)}, ranges.LevelUsual},
		"adult at 36.2 C, bright":                {ranges.AdultLight, fs{tempC(36.2), said("demeanour", "bright")}, ranges.LevelRecheck},
		"foal of three weeks at 95 beats":        {ranges.FoalFirstMonth, fs{heart(95)}, ranges.LevelUsual},
		"two-year-old at 50 beats":               {ranges.TwoThree, fs{heart(50)}, ranges.LevelUsual},
		"pony at 34 beats and 14 breaths":        {ranges.Pony, fs{heart(34), breaths(14)}, ranges.LevelUsual},
		"mare late in foal at 55":                {ranges.MareInFoal, fs{heart(55)}, ranges.LevelUsual},
		"fit horse at 22 with pauses":            {ranges.AdultLight, fs{heart(22), said("heart.rhythm", "pauses")}, ranges.LevelRecheck},
		"fit horse at 22, no pattern":            {ranges.AdultLight, fs{heart(22), said("heart.rhythm", "irregular")}, ranges.LevelTell},
		"newborn donkey at 30 breaths, no range": {ranges.DonkeyNewborn, fs{breaths(30)}, ranges.LevelUsual},
	} {
		verdict := j.Visit(visitOf(horseOf(t, c.class), c.find...), nil)
		assert.Equal(t, c.level.String(), verdict.Level.String(), "%s: %v", name, verdict.Remarks)
	}
}

// No level is said of a value where nothing says what is usual, in any class; a limit that is crossed is said all the same.
func TestUsualIsSaidOnlyWhereItIsKnown(t *testing.T) {
	j := whole(t)
	standing := func(class ranges.Class, f exam.Finding) judge.Standing {
		st, ok := j.Standing(visitOf(horseOf(t, class), f), f, nil)
		require.True(t, ok)
		return st
	}
	for _, class := range ranges.Classes() {
		for id, f := range map[exam.StepID]exam.Finding{"temp.rectal": tempC(38), "heart.rate": heart(60), "breath.rate": breaths(30), "skin.tent": measured("skin.tent", 1.5, notation.Seconds)} {
			step, _ := steps.Table().ByID(id)
			text, held := j.Range(exam.Class{Name: class}, step, f.Value.Number.Unit)
			known := held && (text.Low != nil || text.High != nil)
			st := standing(class, f)
			assert.Equal(t, known || st.Level > ranges.LevelUsual, st.Rated, "%s of a %s: %s", id, class, st.Level)
			if held {
				assert.NotEmpty(t, text.Evidence, "%s of a %s", id, class)
			}
		}
	}
	assert.False(t, standing(ranges.DonkeyNewborn, breaths(30)).Rated)
	assert.True(t, standing(ranges.DonkeyNewborn, breaths(70)).Rated)
	assert.False(t, standing(ranges.Mule, measured("skin.tent", 4, notation.Seconds)).Rated)
	assert.False(t, standing(ranges.AdultLight, measured("weight.body", 500, notation.Kilograms)).Rated)
	assert.True(t, standing(ranges.Mule, said("demeanour", "bright")).Rated)
}

// In every class the edges of what can be typed at all are told, whichever side and whichever unit.
func TestTheEdgesOfThePossibleAreTold(t *testing.T) {
	j := whole(t)
	for _, class := range ranges.Classes() {
		h := horseOf(t, class)
		for _, id := range []exam.StepID{"temp.rectal", "heart.rate", "breath.rate", "gum.refill"} {
			step, _ := steps.Table().ByID(id)
			for _, unit := range step.Units {
				for _, edge := range []float64{step.Possible.Low, step.Possible.High} {
					if id == "gum.refill" && edge == step.Possible.Low {
						continue // no refill is too quick
					}
					q, ok := notation.Quantity{Value: edge, Unit: step.Unit}.In(unit)
					require.True(t, ok)
					f := measured(id, q.Value, unit)
					verdict := j.Visit(visitOf(h, f), nil)
					assert.Equal(t, ranges.LevelTell, verdict.Level, "%s %s of a %s", id, q.Text(1), class)
				}
			}
		}
	}
}

// A practice's own row that holds no limit leaves an adult's, marked as lent.
func TestNoLimitHeldLendsAnAdults(t *testing.T) {
	own, err := builtIn(t).With(strings.NewReader(
		"measure,class,unit,usual_low,usual_high,usual_source,usual_evidence,recheck_low,recheck_high,recheck_source,recheck_evidence,"+
			"tell_low,tell_high,tell_source,tell_evidence,words\ntemp.rectal,mule,C,37.0,38.5,ours,,,,,,,,,,\n"), "ours.csv")
	require.NoError(t, err)
	j := judge.New(own, steps.Table())
	for v, want := range map[float64]exam.Level{39.2: ranges.LevelTell, 39.1: ranges.LevelNote, 35.9: ranges.LevelTell, 36.0: ranges.LevelNote} {
		verdict := j.Visit(visitOf(horseOf(t, ranges.Mule), tempC(v)), nil)
		assert.Equal(t, want, verdict.Level, v)
	}
}

func limitCases() []ruleCase {
	month := func(class ranges.Class, rule string) ruleCase {
		return ruleCase{
			rule: rule, class: class,
			holds:    [][]exam.Finding{{tempC(39.1), breaths(41)}, {tempF(102.1), breaths(60)}},
			holdsNot: [][]exam.Finding{{tempC(39.0), breaths(41)}, {tempC(39.1), breaths(40)}, {tempC(39.1)}},
		}
	}
	return []ruleCase{
		{
			rule: "41 C or more", class: ranges.Weanling,
			holds: [][]exam.Finding{{tempC(41)}, {tempF(105.8)}}, holdsNot: [][]exam.Finding{{tempC(40.9)}, {tempF(105.7)}},
		},
		{
			rule: "41 C or more in a donkey or mule", class: ranges.DonkeyAdult,
			holds: [][]exam.Finding{{tempC(41)}}, holdsNot: [][]exam.Finding{{tempC(40.9)}},
		},
		{
			rule:  "worst band of heart or breathing",
			holds: [][]exam.Finding{{breaths(46)}}, holdsNot: [][]exam.Finding{{breaths(45)}, {heart(81)}},
		},
		{
			rule: "worst band, lent from adult horses", class: ranges.Yearling,
			holds: [][]exam.Finding{{breaths(46)}}, holdsNot: [][]exam.Finding{{breaths(45)}},
		},
		{
			rule:     "low temperature with another sign",
			holds:    [][]exam.Finding{{tempC(36.2), said("demeanour", "dull")}, {tempC(36.4), said("pulse.strength", "weak")}, {tempF(97.6), said("gum.colour", "pale")}},
			holdsNot: [][]exam.Finding{{tempC(36.5), said("demeanour", "dull")}, {tempC(36.2), said("gum.colour", "pink")}},
		},
		{
			rule:     "slow heart with weakness or no pattern",
			holds:    [][]exam.Finding{{heart(23), said("heart.rhythm", "irregular")}, {heart(21), said("pulse.strength", "weak")}, {heart(22), said("demeanour", "dull")}},
			holdsNot: [][]exam.Finding{{heart(24), said("heart.rhythm", "irregular")}, {heart(22), said("heart.rhythm", "pauses")}},
		},
		{
			rule: "ill newborn with a weak pulse, cold legs or a seizure", class: ranges.FoalFirstDay,
			holds:    [][]exam.Finding{{said("limb.warmth:overall", "cold")}, {said("pulse.strength", "weak")}, {said("demeanour", "seizure")}},
			holdsNot: [][]exam.Finding{{said("limb.warmth:overall", "cool")}, {said("pulse.strength", "good")}},
		},
		month(ranges.FoalFirstMonth, "hot foal that breathes fast"),
		month(ranges.FoalAgeUnknown, "hot older foal that breathes fast"),
		{
			rule: "foal's heart above 120 twice", class: ranges.FoalFirstWeek,
			earlier: func(h exam.Horse) []exam.Visit { return []exam.Visit{before(h, time.Hour, heart(126))} },
			holds:   [][]exam.Finding{{heart(121)}}, holdsNot: [][]exam.Finding{{heart(120)}},
		},
	}
}

// The second count within one visit counts as well.
func TestASecondCountAbove120(t *testing.T) {
	j := whole(t)
	f := heart(124)
	assert.Equal(t, ranges.LevelRecheck, j.Visit(visitOf(horseOf(t, ranges.FoalFirstWeek), f), nil).Level)
	f.Before = []exam.Finding{heart(130)}
	assert.Equal(t, ranges.LevelTell, j.Visit(visitOf(horseOf(t, ranges.FoalFirstWeek), f), nil).Level)
	f.Before = []exam.Finding{heart(118)}
	assert.Equal(t, ranges.LevelRecheck, j.Visit(visitOf(horseOf(t, ranges.FoalFirstWeek), f), nil).Level)
}

// No remark of any rule reads as a prognosis or a diagnosis.
func TestRulesSayWhatWasFoundAndWhomToTell(t *testing.T) {
	for _, r := range judge.Rules() {
		for _, word := range []string{"tied to", "critical", "end", "die", "outcome", "prognos", "diagnos", "means"} {
			assert.NotContains(t, strings.Fields(strings.ToLower(strings.NewReplacer(".", "", ",", "", ":", "").Replace(r.Why))), word, fmt.Sprint(r.Name))
		}
	}
}
