package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Lists of reasons to call, by source, as read: what each calls is told or, where the source is a list
// for one illness or stricter than the others, at least asked for again.
func TestPublishedCallLists(t *testing.T) {
	j := whole(t)
	const recheck, tell = ranges.LevelRecheck, ranges.LevelTell
	for _, c := range []struct {
		source string
		class  ranges.Class
		find   []exam.Finding
		least  exam.Level
	}{
		{"LAT36 over 102.5 F", "", fs{tempF(102.6)}, tell},
		{"HALL19 under 36.0 C; LAT36 has under 98 F, in which a quarter of a healthy yard lay", "", fs{tempF(96.7)}, tell},
		{"LAT36 over 39.2 C", "", fs{tempC(39.3)}, tell},
		{"HALL19 under 36.0 C", "", fs{tempC(35.9)}, tell},
		{"BREUER under 36.5 C", "", fs{tempC(36.4)}, recheck},
		{"LAT36 heart over 60", "", fs{heart(61)}, tell},
		{"LAT36 weak pulse", "", fs{said("pulse.strength", "weak")}, tell},
		{"LAT36 irregular", "", fs{said("heart.rhythm", "irregular")}, tell},
		{"LAT36 laboured", "", fs{said("breath.effort", "3")}, tell},
		{"LAT36 CRT over 3 s", "", fs{seconds("gum.refill", 3.1)}, tell},
		{"LAT36 no gut sounds", "", gutAll("none", "none", "none", "none"), tell},
		{"LAT36 dark red gums", "", fs{said("gum.colour", "brick")}, tell},
		{"LAT36 brown gums", "", fs{said("gum.colour", "brown")}, tell},
		{"LAT36 blue gums", "", fs{said("gum.colour", "purple")}, tell},
		{"LAT36 yellow gums; facts 2.2 flags them", "", fs{said("gum.colour", "yellow")}, recheck},
		{"LAT36 cold patchy sweat", "", fs{said("skin.look", "sweat")}, recheck},
		{"SMTN breathing over 20", "", fs{breaths(21)}, recheck},
		{"SMTN over 102 F", "", fs{tempF(102.1)}, recheck},
		{"SMTN gums white", "", fs{said("gum.colour", "white")}, tell},
		{"SMTN hot hoof", "", fs{said("hoof.heat:left fore", "hot")}, recheck},
		{"SMTN not eating", "", fs{said("pain.signs", "offfeed")}, recheck},
		{"NEWC2 heart over 48 (colic)", "", fs{heart(49)}, recheck},
		{"NEWC2 CRT over 2 s (colic)", "", fs{seconds("gum.refill", 2.1)}, recheck},
		{"NEWC2 no manure for 12 h", "", fs{said("manure", "none")}, tell},
		{"PURDUE over 102 F with dullness", "", fs{tempF(102.1), said("demeanour", "dull")}, tell},
		{"PURDUE eye", "", fs{said("eye.look:left", "cloudy")}, tell},
		{"PURDUE deep cut", "", fs{said("skin.look", "deepwound")}, tell},
		{"NCSU over 39.2 C", "", fs{tempC(39.3)}, tell},
		{"MILLH foal over 102.5 F", ranges.FoalFirstWeek, fs{tempF(102.6)}, tell},
		{"BURL heart over 64 (colic)", "", fs{heart(65)}, tell},
		{"WVS donkey over 38.0 C", ranges.DonkeyAdult, fs{tempC(38.1)}, tell},
		{"WVS donkey heart over 60", ranges.DonkeyAdult, fs{heart(61)}, tell},
		{"AQHA foal under 99 F", ranges.FoalFirstWeek, fs{tempF(98.9)}, tell},
		{"FOALRF foal, 5 days, low heart", ranges.FoalFirstWeek, fs{heart(70)}, tell},
		{"AQHA foal yellow gums", ranges.FoalFirstWeek, fs{said("gum.colour", "yellow")}, tell},
		{"AQHA foal navel", ranges.FoalFirstWeek, fs{said("navel", "wet")}, tell},
		{"EQMED bears no weight", "", fs{said("limb.look:left fore", "notbearing")}, tell},
		{"EQMED blood at the nose", "", fs{said("nose.discharge:left", "blood")}, tell},
		{"DUM staggering", "", fs{said("gait.look", "sways")}, tell},
		{"CURTIS silent quadrant", "", fs{said("gut.sounds:left upper", "none")}, recheck},
	} {
		class := c.class
		if class == "" {
			class = ranges.AdultLight
		}
		verdict := j.Visit(visitOf(horseOf(t, class), c.find...), nil)
		assert.GreaterOrEqual(t, verdict.Level, c.least, "%s: %v", c.source, verdict.Remarks)
		assert.Empty(t, verdict.NotJudged, c.source)
	}
}

// A stop list of our own, drawn from the lists above: each is told.
// What no step asks (bleeding, foal milestones, abortion, a reaction after an injection) is not in it.
func TestStopList(t *testing.T) {
	j := whole(t)
	for name, c := range map[string]struct {
		class ranges.Class
		find  []exam.Finding
	}{
		"heart 60 at rest":           {find: fs{heart(60)}},
		"laboured at any rate":       {find: fs{said("breath.effort", "2"), breaths(10)}},
		"102.5 F":                    {find: fs{tempF(102.5)}},
		"39.2 C":                     {find: fs{tempC(39.2)}},
		"under 96.8 F":               {find: fs{tempF(96.7)}},
		"under 36.0 C":               {find: fs{tempC(35.9)}},
		"donkey over 38.0 C":         {class: ranges.DonkeyAdult, find: fs{tempC(38.1)}},
		"foal over 102 F":            {class: ranges.FoalFirstWeek, find: fs{tempF(102.1)}},
		"foal under 99 F":            {class: ranges.FoalFirstDay, find: fs{tempF(98.9)}},
		"membranes white":            {find: fs{said("gum.colour", "white")}},
		"membranes purple":           {find: fs{said("gum.colour", "purple")}},
		"membranes brick":            {find: fs{said("gum.colour", "brick")}},
		"toxic line":                 {find: fs{said("gum.colour", "toxicline")}},
		"petechiae":                  {find: fs{said("gum.colour", "spots")}},
		"CRT over 3 s":               {find: fs{seconds("gum.refill", 3.1)}},
		"silent belly":               {find: fs{said("gut.sounds:overall", "none")}},
		"pain that does not stop":    {find: fs{said("pain.signs", "constant")}},
		"non-weight-bearing":         {find: fs{said("posture", "notbearing")}},
		"joint wound":                {find: fs{said("limb.look:left hind", "jointwound")}},
		"bounding in two feet":       {find: fs{said("limb.digitalpulse:left fore", "bounding"), said("limb.digitalpulse:right fore", "bounding")}},
		"painful eye":                {find: fs{said("eye.look:right", "pain")}},
		"cloudy eye":                 {find: fs{said("eye.look:right", "cloudy")}},
		"ataxia":                     {find: fs{said("gait.look", "sways")}},
		"seizure":                    {find: fs{said("demeanour", "seizure")}},
		"cannot rise":                {find: fs{said("demeanour", "down")}},
		"irregular rhythm":           {find: fs{said("heart.rhythm", "irregular")}},
		"choke signs":                {find: fs{said("nose.discharge:left", "feed")}},
		"straining":                  {find: fs{said("urine", "straining")}},
		"red urine":                  {find: fs{said("urine", "red")}},
		"coffee urine":               {find: fs{said("urine", "coffee")}},
		"retained placenta over 3 h": {find: fs{said("udder.sheath", "placenta")}},
	} {
		class := c.class
		if class == "" {
			class = ranges.AdultLight
		}
		verdict := j.Visit(visitOf(horseOf(t, class), c.find...), nil)
		assert.Equal(t, ranges.LevelTell, verdict.Level, "%s: %v", name, verdict.Remarks)
	}
}

// The words of gums and gut, one by one.
func TestStarterTableInWords(t *testing.T) {
	j := whole(t)
	for _, c := range []struct {
		find  []exam.Finding
		level exam.Level
	}{
		{fs{said("gum.colour", "pink"), said("gum.moisture", "moist")}, ranges.LevelUsual},
		{fs{said("gum.colour", "palepink")}, ranges.LevelNote},
		{fs{said("gum.moisture", "tacky")}, ranges.LevelNote},
		{fs{said("gum.colour", "pale")}, ranges.LevelRecheck},
		{fs{said("gum.colour", "bright")}, ranges.LevelRecheck},
		{fs{said("gum.colour", "yellow")}, ranges.LevelRecheck},
		{gutAll("heard", "heard", "heard", "heard"), ranges.LevelUsual},
		{gutAll("heard", "reduced", "heard", "heard"), ranges.LevelNote},
		{gutAll("heard", "none", "heard", "heard"), ranges.LevelRecheck},
		{gutAll("reduced", "reduced", "reduced", "reduced"), ranges.LevelRecheck},
		{gutAll("none", "none", "none", "none"), ranges.LevelTell},
		{append(gutAll("heard", "none", "heard", "heard"), said("pain.signs", "flank")), ranges.LevelTell},
	} {
		v := adult(t, c.find...)
		v.ClosedAt = nil // what was not looked at yet is no blank
		assert.Equal(t, c.level.String(), j.Visit(v, nil).Level.String(), "%v", c.find)
	}
}

// A word that this version does not know is listed, never called usual; the known one beside it is still judged.
func TestUnknownWords(t *testing.T) {
	j := whole(t)
	verdict := j.Visit(adult(t, said("skin.look", "hives", "stripes"), said("demeanour", "odd"), said("posture")), nil)
	assert.Len(t, verdict.NotJudged, 3)
	assert.Equal(t, ranges.LevelRecheck, verdict.Level)
	assert.Len(t, verdict.Remarks, 1)
}

// Several marks make one remark at the highest level, with the reasons of that level.
func TestMarksMakeOneRemark(t *testing.T) {
	j := whole(t)
	f := said("skin.look", "itch", "sweat", "hives")
	r, ok := j.Finding(adult(t, f), f, nil)
	assert.True(t, ok)
	assert.Equal(t, ranges.LevelRecheck, r.Level)
	assert.Contains(t, r.Why, "sweat")
	assert.Contains(t, r.Why, "hives")
	assert.NotContains(t, r.Why, "place")
	assert.Equal(t, "itching or rubbed places, patchy or cold sweat, hives or raised wheals", r.Value)
}

// A half score stands at the higher of the levels beside it.
func TestHalfScores(t *testing.T) {
	j := whole(t)
	score := func(v float64) exam.Level {
		f := exam.Finding{Step: "condition.score", Value: exam.Value{Kind: exam.KindScale, Number: &notation.Quantity{Value: v, Unit: notation.Points}}}
		return j.Visit(adult(t, f), nil).Level
	}
	assert.Equal(t, ranges.LevelUsual, score(5))
	assert.Equal(t, ranges.LevelUsual, score(5.5))
	assert.Equal(t, ranges.LevelNote, score(3.5))
	assert.Equal(t, ranges.LevelTell, score(1.5))
}

// Every sentence of a remark stands beside its own source, and the evidence is that of the weakest.
func TestMarksOfTwoSourcesNameBoth(t *testing.T) {
	j := whole(t)
	table := builtIn(t)
	v := j.Visit(adult(t, said("eye.look:left", "discharge", "thirdlid")), nil)
	require.NotEmpty(t, v.Remarks)
	r := v.Remarks[0]
	assert.Contains(t, r.Why, "Discharge goes to the hand-off.")
	assert.Contains(t, r.Why, "A third lid across the eye goes to the hand-off.")
	assert.Equal(t, table.Cite("ATL")+"; "+table.Cite("MEMORY"), r.Source)
	assert.Equal(t, ranges.FromMemory, r.Evidence)
	one := j.Visit(adult(t, said("pain.signs", "flank", "paws")), nil)
	require.NotEmpty(t, one.Remarks)
	for _, r := range one.Remarks {
		if !r.Combination {
			assert.Equal(t, table.Cite("REACT"), r.Source, "one source is named once")
		}
	}
}
