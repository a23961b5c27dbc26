package round_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/exam/round"
)

const today = "2026-03-02"

func at(text string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", text)
	if err != nil {
		panic(err)
	}
	return t
}

func schedule(t require.TestingT) *due.Table {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	return table
}

func horse(id, born string) exam.Horse {
	b, err := exam.ReadBirth(born, "seen")
	if err != nil {
		panic(err)
	}
	return exam.Horse{ID: exam.HorseID(id), Name: id, Kind: exam.AnimalHorse, Birth: b}
}

// visit is a visit of a horse begun at a moment; closed after an hour where so said.
func visit(h exam.Horse, begun string, closed bool, findings ...exam.Finding) exam.Visit {
	v := exam.Visit{ID: exam.VisitID("v" + begun), Horse: h, OpenedAt: at(begun), Findings: findings}
	if closed {
		end := v.OpenedAt.Add(time.Hour)
		v.ClosedAt = &end
	}
	return v
}

func temp(value float64, unit notation.Unit) exam.Finding {
	return exam.Finding{Step: "temp.rectal", Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: value, Unit: unit}}}
}

func said(step exam.StepID, keys ...string) exam.Finding {
	return exam.Finding{Step: step, Value: exam.Value{Kind: exam.KindPick, Words: keys}}
}

func line(day string, h exam.Horse, act exam.RoundAct, words string) exam.RoundLine {
	return exam.RoundLine{Day: day, At: at(day + " 08:00"), By: "Ann", Horse: h.ID, Act: act, Words: words}
}

func plan(t require.TestingT, yard []round.Yard, lines ...exam.RoundLine) round.Round {
	return round.Plan(today, at(today+" 09:00"), yard, lines, schedule(t), judging(t))
}

func names(r round.Round) string {
	out := make([]string, len(r.Calls))
	for i, c := range r.Calls {
		out[i] = c.Horse.Name
	}
	return strings.Join(out, " ")
}

// one is the only call of a round.
func one(t require.TestingT, r round.Round) round.Call {
	require.Len(t, r.Calls, 1)
	return r.Calls[0]
}

// The order of exam values 12.4 (healthy first, sick last: Michigan State
// University; UC Davis) with the very young before all (common practice).
func TestTheVeryYoungFirstAndWhatMayBeCatchingLast(t *testing.T) {
	var yard []round.Yard
	var lines []exam.RoundLine
	add := func(id, born string, change func(*exam.Horse), findings ...exam.Finding) {
		h := horse(id, born)
		if change != nil {
			change(&h)
		}
		yard = append(yard, round.Yard{Horse: h, Visits: []exam.Visit{visit(h, "2026-02-25 10:00", true, findings...)}})
		lines = append(lines, line(today, h, exam.RoundPicked, ""))
	}
	add("infected", "2015", func(h *exam.Horse) { h.Cautions = []string{"kicks", "strangles, kept apart"} })
	add("suspect", "2015", nil, temp(39.4, notation.Celsius), said("nose.discharge", "pus"))
	add("fever", "2015", nil, temp(101.3, notation.Fahrenheit))
	add("cough", "2015", nil, temp(38, notation.Celsius), said("cough", "fits"))
	add("grown", "2015", nil, temp(38, notation.Celsius), said("cough", "single"))
	add("foal", "2025-11-10", nil, temp(38.8, notation.Celsius))
	add("newborn", "2026-02-20 03:00", nil, temp(38.5, notation.Celsius))
	r := plan(t, yard, lines...)
	assert.Equal(t, "newborn foal grown cough fever suspect infected", names(r))
	for i, why := range []string{
		"the very young before all others", "foals before grown horses", "nothing in the record", "cough on 25 Feb 2026",
		"fever 101.3 F on 25 Feb 2026", "with discharge at the nose on 25 Feb 2026: last, hands off, gloves", "caution: strangles, kept apart",
	} {
		assert.Contains(t, r.Calls[i].Why, why)
		assert.Equal(t, i >= 3, r.Calls[i].Group.Last(), why)
	}
}

// Where fever begins is the judge's, by class: exam values, section 12.2.
func TestWhereFeverBeginsDependsOnTheClass(t *testing.T) {
	donkey := horse("x", "2015")
	donkey.Kind = exam.AnimalDonkey
	for _, c := range []struct {
		h     exam.Horse
		temp  float64
		unit  notation.Unit
		fever bool
	}{
		{horse("x", "2015"), 38.5, notation.Celsius, true}, // Animal Health Trust: 38.5 C / 101.3 F
		{horse("x", "2015"), 38.4, notation.Celsius, false},
		{horse("x", "2015"), 101.2, notation.Fahrenheit, false},
		{donkey, 38.1, notation.Celsius, true}, // above 38.0 C
		{donkey, 38.0, notation.Celsius, false},
		{horse("x", "2026-01-10"), 38.9, notation.Celsius, false}, // a foal: above 102 F
		{horse("x", "2026-01-10"), 39.0, notation.Celsius, true},
	} {
		y := round.Yard{Horse: c.h, Visits: []exam.Visit{visit(c.h, "2026-02-28 10:00", true, temp(c.temp, c.unit))}}
		got := one(t, plan(t, []round.Yard{y}, line(today, c.h, exam.RoundPicked, ""))).Group == round.Fevers
		assert.Equal(t, c.fever, got, "%s %v %s", c.h.Kind, c.temp, c.unit)
	}
}

func TestASignCountsFor28DaysAndAFeverSaysWhatCameSince(t *testing.T) {
	h := horse("x", "2015")
	group := func(visits ...exam.Visit) round.Call {
		return one(t, plan(t, []round.Yard{{Horse: h, Visits: visits}}, line(today, h, exam.RoundPicked, "")))
	}
	assert.Equal(t, round.Ordinary, group(visit(h, "2026-02-02 08:59", true, temp(39.4, notation.Celsius))).Group, "28 days and a minute")
	c := group(visit(h, "2026-02-02 09:30", true, temp(39.4, notation.Celsius)), visit(h, "2026-03-01 09:00", true, temp(38, notation.Celsius)))
	assert.Equal(t, round.Fevers, c.Group)
	assert.Contains(t, c.Why, "fever 39.4 C on 2 Feb 2026, 38 C on 1 Mar 2026")
	worked := visit(h, "2026-03-01 09:00", true, temp(39.4, notation.Celsius))
	worked.Context.States = []exam.State{exam.StateWorked}
	assert.Contains(t, group(worked).Why, "(worked)")
	assert.Equal(t, round.Fevers, group(visit(h, today+" 08:00", true, temp(39.4, notation.Celsius))).Group, "found this morning")
}

func TestWordsThatSayThatAHorseIsInfected(t *testing.T) {
	h := horse("x", "2015")
	for text, last := range map[string]bool{
		"Isolated since Monday": true, "EHV-1 contact": true, "possible salmonella": true, "flu": true, "infectious until cleared": true,
		"needs fluids": false, "rabies and influenza vaccination": false, "booster, strangles": false, "hard to catch": false, "": false, "ehvorn": false,
	} {
		v := visit(h, "2026-02-28 10:00", true)
		v.Reason = text
		c := one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{v}}}, line(today, h, exam.RoundPicked, "")))
		assert.Equal(t, last, c.Group == round.Infected, text)
		v.Reason = ""
		v.Decisions = []exam.Decided{{Decision: exam.Decision{Words: text, Vet: "Dr Moss"}, Signed: exam.Signed{At: v.OpenedAt}}}
		c = one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{v}}}, line(today, h, exam.RoundPicked, "")))
		assert.Equal(t, last, c.Group == round.Infected, text)
		v.Decisions[0].Corrected = true
		c = one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{v}}}, line(today, h, exam.RoundPicked, "")))
		assert.NotEqual(t, round.Infected, c.Group, "a decision that was corrected says nothing")
	}
}

func TestAPersonDecidesTheTurn(t *testing.T) {
	h := horse("x", "2026-02-20")
	y := []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, "2026-02-28 10:00", true, temp(39.4, notation.Celsius))}}}
	picked := line(today, h, exam.RoundPicked, "")
	back := line("2026-03-01", h, exam.RoundTurn, "Dr Moss: nothing catching")
	back.Turn = exam.TurnOrdinary
	c := one(t, plan(t, y, back, picked))
	assert.Equal(t, round.Newborn, c.Group, "in its place means among its age")
	assert.Contains(t, c.Why, "put back in order by Ann on 1 Mar 2026: Dr Moss: nothing catching (the record has: fever")
	last := back
	last.Day, last.Turn, last.Words = today, exam.TurnLast, "came from another yard"
	c = one(t, plan(t, y, back, picked, last))
	assert.Equal(t, round.Infected, c.Group)
	assert.Contains(t, c.Why, "put last by Ann on 2 Mar 2026: came from another yard")
	record := last
	record.Turn, record.Words = exam.TurnByRecord, ""
	assert.Equal(t, round.Fevers, one(t, plan(t, y, back, picked, last, record)).Group, "as the record says")
}

func TestWithinAGroupPlaceByPlace(t *testing.T) {
	var yard []round.Yard
	var lines []exam.RoundLine
	for _, p := range []struct{ name, place string }{{"Ash", ""}, {"Moth", "Orchard"}, {"bramble", "mill"}, {"Alder", "Orchard"}, {"Zinnia", "Mill"}} {
		h := horse(p.name, "2015")
		h.Place = p.place
		yard = append(yard, round.Yard{Horse: h})
		lines = append(lines, line(today, h, exam.RoundPicked, ""))
	}
	assert.Equal(t, "bramble Zinnia Alder Moth Ash", names(plan(t, yard, lines...)))
}
