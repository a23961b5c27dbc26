package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/round"
)

// noted is a visit with an earlier dose written down from papers.
func noted(h exam.Horse, on, against string) exam.Visit {
	v := visit(h, "2026-01-05 10:00", true)
	v.Injections = []exam.Injection{{
		Number: 1, State: exam.InjectionNoted, On: on, SeriesDone: true, Basis: "passport", Order: exam.Order{Product: "P", Against: []string{against}},
	}}
	return v
}

func TestADoseBringsAHorseOnTheRoundInItsLastWeek(t *testing.T) {
	h := horse("x", "2015")
	for given, want := range map[string]string{ // yearly
		"2025-03-10": "",                                 // due in 8 days
		"2025-03-09": "tetanus due by 9 Mar 2026",        // in 7
		"2025-03-02": "tetanus due by 2 Mar 2026",        // today
		"2025-03-01": "tetanus overdue since 1 Mar 2026", // yesterday
		"2024-03-02": "tetanus overdue since 2 Mar 2025", // a year ago
		"2024-03-01": "",                                 // longer: in the list of what is due only
		"2024-02-29": "",                                 // a leap day: its year ends on 28 February
	} {
		r := plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{noted(h, given, "tetanus")}}})
		if want == "" {
			assert.Empty(t, r.Calls, given)
			continue
		}
		c := one(t, r)
		require.Len(t, c.Reasons, 1, given)
		assert.Equal(t, round.Dose, c.Reasons[0].Kind)
		assert.Equal(t, want, c.Reasons[0].Words)
	}
	assert.Empty(t, plan(t, []round.Yard{{Horse: h}}).Calls, "a horse without a dose in the record: papers may show one")
	foal := horse("f", "2025-09-05") // mare not known: first dose at 3 to 4 months, missed
	c := one(t, plan(t, []round.Yard{{Horse: foal}}))
	assert.Contains(t, c.Reasons[0].Words, "tetanus overdue since 5 Jan 2026")
}

func TestARecheckBringsItsHorseAndStaysAfterTheVisit(t *testing.T) {
	h := horse("x", "2015")
	set := visit(h, "2026-02-26 10:00", true)
	recheck := func(on string) []exam.Visit {
		set.Rechecks = []exam.Recheck{{RecheckLine: exam.RecheckLine{On: on, What: "leg"}, Signed: exam.Signed{At: set.OpenedAt, By: "Ann"}}}
		return []exam.Visit{set}
	}
	assert.Empty(t, plan(t, []round.Yard{{Horse: h, Visits: recheck("2026-03-03")}}).Calls, "tomorrow")
	c := one(t, plan(t, []round.Yard{{Horse: h, Visits: recheck(today)}}))
	assert.Equal(t, []round.Reason{{Kind: round.Recheck, Day: today, Words: "follow-up due 2 Mar 2026: leg"}}, c.Reasons)
	seen := append(recheck("2026-03-01"), visit(h, today+" 07:30", true))
	c = one(t, plan(t, []round.Yard{{Horse: h, Visits: seen}}))
	assert.Equal(t, "follow-up overdue 1 Mar 2026: leg", c.Reasons[0].Words, "a horse does not leave the round by being seen")
	assert.Equal(t, round.Done, c.State)
	assert.Equal(t, at(today+" 08:30"), c.At)
}

func TestOpenVisits(t *testing.T) {
	h := horse("x", "2015")
	old := visit(h, "2026-02-27 16:00", false)
	c := one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{old}}}))
	assert.Equal(t, "the exam begun on 27 Feb 2026 is not finished", c.Reasons[0].Words)
	assert.Equal(t, round.Begun, c.State)
	assert.Equal(t, old.ID, c.Visit)
	end := at(today + " 08:00")
	old.ClosedAt = &end
	c = one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{old}}}))
	assert.Equal(t, round.Done, c.State, "closed today")
	end = at("2026-03-01 08:00")
	assert.Empty(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{old}}}).Calls, "closed yesterday")
	c = one(t, plan(t, []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, today+" 08:00", false)}}}))
	assert.Equal(t, round.Unplanned, c.Reasons[0].Kind, "begun today without being on the round")
	assert.Equal(t, round.Begun, c.State)
}

func TestHandPicksAndWhatFollowsThem(t *testing.T) {
	h := horse("x", "2015")
	y := round.Yard{Horse: h}
	picked := line(today, h, exam.RoundPicked, "owner rang")
	c := one(t, plan(t, []round.Yard{y}, picked))
	assert.Equal(t, []round.Reason{{Kind: round.Picked, Day: today, Words: "picked by Ann: owner rang"}}, c.Reasons)
	assert.Equal(t, round.Waiting, c.State)

	out := line(today, h, exam.RoundLeftOut, "")
	assert.Empty(t, plan(t, []round.Yard{y}, picked, out).Calls, "picked by mistake, taken off again")
	assert.Len(t, plan(t, []round.Yard{y}, picked, out, picked).Calls, 1)

	seen := line(today, h, exam.RoundSeen, "looked over the door, bright")
	c = one(t, plan(t, []round.Yard{y}, picked, seen))
	assert.Equal(t, round.Done, c.State)
	assert.Equal(t, "seen without an exam, by Ann: looked over the door, bright", c.Note)
	c = one(t, plan(t, []round.Yard{y}, picked, seen, line(today, h, exam.RoundBack, "")))
	assert.Equal(t, round.Waiting, c.State)

	// What the record puts on the round can be left out, and is still shown.
	open := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, "2026-02-27 16:00", false)}}
	c = one(t, plan(t, []round.Yard{open}, out))
	assert.Equal(t, round.LeftOut, c.State)
	assert.Equal(t, open.Visits[0].ID, c.Visit)

	// Picked again after its exam of the day: to be seen again.
	done := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, today+" 06:00", true)}}
	assert.Equal(t, round.Waiting, one(t, plan(t, []round.Yard{done}, picked)).State)
	later := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, today+" 08:30", true)}}
	assert.Equal(t, round.Done, one(t, plan(t, []round.Yard{later}, picked, seen)).State)
}

func TestUnfinishedHorsesAreCarriedOnOrHandedOver(t *testing.T) {
	h := horse("x", "2015")
	y := round.Yard{Horse: h}
	friday := line("2026-02-27", h, exam.RoundPicked, "owner rang")
	c := one(t, plan(t, []round.Yard{y}, friday))
	assert.Equal(t, []round.Reason{{Kind: round.Left, Day: "2026-02-27", Words: "not seen on 27 Feb 2026: owner rang"}}, c.Reasons, "over a weekend, too")

	over := line("2026-02-27", h, exam.RoundHanded, "no time")
	over.OnDay = today
	c = one(t, plan(t, []round.Yard{y}, friday, over))
	assert.Equal(t, []round.Reason{{Kind: round.Carried, Day: "2026-02-27", Words: "moved from 27 Feb 2026 by Ann: no time"}}, c.Reasons)
	over.OnDay = "2026-03-03"
	assert.Empty(t, plan(t, []round.Yard{y}, friday, over).Calls, "not before its day")

	person := line("2026-02-27", h, exam.RoundHanded, "look at the leg")
	person.To = "Bo"
	c = one(t, plan(t, []round.Yard{y}, friday, person))
	assert.Equal(t, "reassigned to Bo on 27 Feb 2026, no visit since: look at the leg", c.Reasons[0].Words, "it does not vanish with the other person")

	met := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, "2026-02-28 10:00", true)}}
	assert.Empty(t, plan(t, []round.Yard{met}, friday).Calls, "seen since")
	assert.Empty(t, plan(t, []round.Yard{met}, friday, person).Calls)
	assert.Empty(t, plan(t, []round.Yard{y}, friday, line("2026-02-28", h, exam.RoundSeen, "")).Calls)

	// Handed over today: the state, with the words.
	now := line(today, h, exam.RoundHanded, "no time")
	now.OnDay = "2026-03-03"
	r := plan(t, []round.Yard{y}, friday, now)
	assert.Equal(t, round.Handed, one(t, r).State)
	assert.Equal(t, "moved to 3 Mar 2026 by Ann: no time", one(t, r).Note)
	assert.Equal(t, round.Counts{Handed: 1}, r.Count())
	tomorrow := round.Plan("2026-03-03", at("2026-03-03 08:00"), []round.Yard{y}, []exam.RoundLine{friday, now}, schedule(t), judging(t))
	assert.Equal(t, round.Carried, one(t, tomorrow).Reasons[0].Kind)

	// Its exam was begun today and is handed over unfinished: it was not seen.
	begun := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, today+" 07:30", false)}}
	c = one(t, plan(t, []round.Yard{begun}, now))
	assert.Equal(t, round.Handed, c.State)
	assert.Equal(t, "its exam was begun this day", c.Reasons[0].Words)

	// A pick for a coming day is not met by a visit before that day.
	ahead := line("2026-03-03", h, exam.RoundPicked, "")
	ahead.At = at(today + " 08:00")
	seen := round.Yard{Horse: h, Visits: []exam.Visit{visit(h, today+" 10:00", true)}}
	r = round.Plan("2026-03-04", at("2026-03-04 08:00"), []round.Yard{seen}, []exam.RoundLine{ahead}, schedule(t), judging(t))
	assert.Equal(t, round.Left, one(t, r).Reasons[0].Kind)
}

func TestMomentAndFrom(t *testing.T) {
	now := at(today + " 09:00")
	assert.Equal(t, now, round.Moment(today, now))
	assert.Equal(t, at("2026-03-03 12:00"), round.Moment("2026-03-03", now))
	assert.Equal(t, now, round.Moment("soon", now))
	assert.Equal(t, "2026-02-16", round.From(today))
	assert.Equal(t, "2024-02-15", round.From("2024-02-29"))
}

func TestDocument(t *testing.T) {
	h := horse("x", "2015")
	h.Cautions = []string{"kicks"}
	d := round.NewDocument(plan(t, []round.Yard{{Horse: h}}, line(today, h, exam.RoundPicked, "")), at(today+" 09:00"))
	assert.Equal(t, "loosebox/round/1", d.Schema)
	assert.Equal(t, today, d.Day)
	assert.Equal(t, round.Counts{Total: 1, Waiting: 1}, d.Counts)
	require.Len(t, d.Horses, 1)
	assert.Equal(t, []string{"kicks"}, d.Horses[0].Cautions)
	assert.Nil(t, d.Horses[0].StateAt)
	assert.NotNil(t, round.NewDocument(plan(t, nil), at(today+" 09:00")).Horses, "an empty list, not null")
}
