package judge_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

// six answers what the six signs ask, all of them as usual, without the steps that are left out.
func six(out ...exam.StepID) []exam.Finding {
	all := []exam.Finding{
		heart(40), said("gum.colour", "pink"), said("pain.signs", "none"), said("gut.sounds:overall", "heard"),
		seconds("gum.refill", 1.5), said("pulse.strength", "good"),
	}
	var kept []exam.Finding
	for _, f := range all {
		leave := false
		for _, id := range out {
			leave = leave || f.Step == id
		}
		if !leave {
			kept = append(kept, f)
		}
	}
	return kept
}

func colicCases() []ruleCase {
	return []ruleCase{
		{
			// NEWC2: heart above 48, breaths above 18, refill over 2 s, in a horse with signs of colic.
			rule: "sign of colic with a fast heart, fast breathing or slow refill",
			holds: [][]exam.Finding{
				{said("pain.signs", "flank"), heart(49)}, {said("pain.signs", "mild"), breaths(19)}, {said("pain.signs", "paws"), seconds("gum.refill", 2.1)},
			},
			holdsNot: [][]exam.Finding{
				{said("pain.signs", "flank"), heart(48)},
				{said("pain.signs", "flank"), breaths(18)},
				{said("pain.signs", "flank"), seconds("gum.refill", 2)},
				{said("pain.signs", "none"), heart(49)},
				{said("demeanour", "restless"), heart(52)},
			},
		},
		{
			rule: "sign of colic with a figure to be taken again", class: ranges.DonkeyAdult,
			holds:    [][]exam.Finding{{said("pain.signs", "flank"), heart(54)}, {said("pain.signs", "paws"), breaths(33)}},
			holdsNot: [][]exam.Finding{{said("pain.signs", "flank"), heart(53)}, {said("pain.signs", "none"), heart(54)}},
		},
		{
			rule:     "two signs of colic",
			holds:    [][]exam.Finding{{said("pain.signs", "flank", "paws")}, {said("pain.signs", "flank"), said("demeanour", "restless")}, {said("pain.signs", "offfeed"), said("belly.distension", "moderate")}},
			holdsNot: [][]exam.Finding{{said("pain.signs", "flank", "mild")}, {said("pain.signs", "flank", "lip")}, {said("demeanour", "restless"), said("posture", "stretched")}, {said("pain.signs", "flank", "rolls")}},
		},
		{
			rule:  "sign of colic with sweating",
			holds: [][]exam.Finding{{said("pain.signs", "flank"), said("skin.look", "sweat")}}, holdsNot: [][]exam.Finding{{said("pain.signs", "none"), said("skin.look", "sweat")}},
		},
		{
			rule: "sign of colic still there",
			earlier: func(h exam.Horse) []exam.Visit {
				return []exam.Visit{before(h, 30*time.Minute, said("pain.signs", "paws"))}
			},
			holds: [][]exam.Finding{{said("pain.signs", "flank")}}, holdsNot: [][]exam.Finding{{said("pain.signs", "none")}, {heart(40)}},
		},
		{
			rule:  "one mild sign of colic",
			holds: [][]exam.Finding{append(six("pain.signs"), said("pain.signs", "flank"))}, holdsNot: [][]exam.Finding{six()},
		},
		{
			rule:     "colic with most signs not looked at",
			holds:    [][]exam.Finding{{said("pain.signs", "flank"), heart(40)}, {said("gut.sounds:left upper", "none"), heart(40)}},
			holdsNot: [][]exam.Finding{{heart(40)}, {said("pain.signs", "flank"), heart(40), said("gum.colour", "pink")}},
		},
		{
			rule:     "colic with some signs not looked at",
			holds:    [][]exam.Finding{{said("pain.signs", "flank"), heart(40), said("gum.colour", "pink")}},
			holdsNot: [][]exam.Finding{append(six("pain.signs"), said("pain.signs", "flank"))},
		},
	}
}

// One mild sign at usual rates is looked at again in half an hour; the same sign is told when it is still there then.
func TestOneMildSignIsLookedAtAgain(t *testing.T) {
	j := whole(t)
	v := adult(t, append(six("pain.signs"), said("pain.signs", "flank"))...)
	verdict := j.Visit(v, nil)
	assert.Equal(t, ranges.LevelRecheck, verdict.Level)
	require.NotEmpty(t, verdict.Remarks)
	assert.Contains(t, verdict.Remarks[0].Why, "One mild sign of colic: check again in 30")
	for _, sweating := range []exam.Finding{said("pain.signs", "flank", "sweats"), said("pain.signs", "sweats"), said("pain.signs", "rolls")} {
		assert.Equal(t, ranges.LevelTell, j.Visit(adult(t, append(six("pain.signs"), sweating)...), nil).Level)
	}
	assert.Equal(t, ranges.LevelTell, j.Visit(adult(t, append(six("pain.signs"), said("pain.signs", "flank"), said("manure", "straining"))...), nil).Level)

	again := said("pain.signs", "flank")
	again.At, again.Before = day().Add(31*time.Minute), []exam.Finding{said("pain.signs", "paws")}
	again.Before[0].At = day()
	assert.Equal(t, ranges.LevelTell, j.Visit(adult(t, append(six("pain.signs"), again)...), nil).Level, "in the same visit")
	again.At = day().Add(10 * time.Minute)
	assert.Equal(t, ranges.LevelRecheck, j.Visit(adult(t, append(six("pain.signs"), again)...), nil).Level, "corrected soon after")
	yesterday := before(v.Horse, 24*time.Hour, said("pain.signs", "flank"))
	assert.Equal(t, ranges.LevelRecheck, j.Visit(v, []exam.Visit{yesterday}).Level)
}

// A visit for colic ends by its blanks: by its reason, by its routine, or by a sign; not while it runs.
func TestBlanksOfAColicVisit(t *testing.T) {
	j := whole(t)
	open := func(v exam.Visit) exam.Visit { v.ClosedAt = nil; return v }
	named := func(reason, routine string, find ...exam.Finding) exam.Visit {
		v := adult(t, find...)
		v.Reason, v.Routine = reason, routine
		return v
	}
	v := named("Perhaps colic", "full-exam", heart(40), said("gum.colour", "pink"))
	assert.Equal(t, ranges.LevelUsual, j.Visit(open(v), nil).Level, "the exam runs")
	for _, ended := range []exam.Visit{v, named("", "colic-check", heart(40)), named("", "colic-check")} {
		verdict := j.Visit(ended, nil)
		require.Equal(t, ranges.LevelTell, verdict.Level)
		assert.Contains(t, verdict.Remarks[0].Value, "of 6 not checked")
		assert.Contains(t, verdict.Remarks[0].Why, "Four or more of six signs of colic were not")
		assert.Equal(t, verdict, j.Ended(open(ended), nil), "at the review it is as after the close")
	}
	assert.Equal(t, "4 of 6 not checked (severe or constant pain, no gut sound in a quadrant, refill over 2.5 s, weak pulse)", j.Ended(v, nil).Remarks[0].Value)
	assert.Equal(t, ranges.LevelRecheck, j.Ended(named("colic", "", six("pulse.strength", "gum.refill")...), nil).Level)
	assert.Equal(t, ranges.LevelUsual, j.Ended(named("colic", "", six("pulse.strength")...), nil).Level)
	assert.Equal(t, ranges.LevelUsual, j.Ended(named("vaccination", "full-exam", heart(40)), nil).Level)
	assert.Less(t, j.Ended(named("restless at the needle", "before-vaccination", heart(40), said("demeanour", "restless")), nil).Level, ranges.LevelTell)

	blind := append(six("pulse.strength", "gum.colour", "gut.sounds"), said("pulse.strength", "none"), said("gum.colour", "pigmented"), said("gut.sounds:left upper", "heard"))
	assert.Contains(t, j.Ended(named("colic", "", blind...), nil).Remarks[0].Value, "3 of 6", "what cannot be felt or seen was not looked at; one quadrant is not four")

	foal := visitOf(horseOf(t, ranges.FoalToSixMonths), heart(70))
	foal.Reason = "colic"
	assert.Equal(t, ranges.LevelUsual, j.Visit(foal, nil).Level, "measured on grown horses")
	_, level := j.Standings(v, nil)
	assert.Equal(t, ranges.LevelTell, level)
}
