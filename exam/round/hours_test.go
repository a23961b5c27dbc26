package round_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
)

// again is a recheck that a visit set at a moment, with the hour or the day alone.
func again(set, on, what string, hour bool) exam.Recheck {
	r := exam.Recheck{RecheckLine: exam.RecheckLine{On: on[:len(notation.DayForm)], What: what}, Signed: exam.Signed{At: at(set), By: "Ann", Seq: 9}}
	if hour {
		moment := at(on)
		r.Time = &moment
	}
	return r
}

func planAt(t *testing.T, now string, yard []round.Yard, lines ...exam.RoundLine) round.Round {
	return round.Plan(today, at(now), yard, lines, schedule(t), judging(t))
}

// Who was looked at this morning and is to be looked at again tonight is not done:
// the horse stands on the round of the same day, with the hour, until it was seen.
func TestARecheckOfTheSameDayBringsTheHorseBack(t *testing.T) {
	h := horse("mare", "2015")
	morning := visit(h, today+" 09:00", true)
	morning.Rechecks = []exam.Recheck{again(today+" 09:50", today+" 20:00", "heart rate", true), again(today+" 09:50", "2026-03-05", "wound", false)}
	yard := []round.Yard{{Horse: h, Visits: []exam.Visit{morning}}}
	c := one(t, planAt(t, today+" 11:00", yard))
	assert.Equal(t, round.Waiting, c.State)
	assert.Equal(t, []round.Reason{{Kind: round.Recheck, Day: today, Words: "follow-up due 20:00: heart rate"}}, c.Reasons)
	assert.True(t, c.Hour.Equal(at(today+" 20:00")))
	assert.Empty(t, c.Visit)
	assert.Contains(t, one(t, planAt(t, today+" 20:30", yard)).Reasons[0].Words, "follow-up overdue 20:00")

	noon := []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, today+" 13:00", true), morning}}}
	assert.Equal(t, round.Waiting, one(t, planAt(t, today+" 15:00", noon)).State, "one look at noon is not the one of tonight")
	evening := []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, today+" 19:40", true), morning}}}
	c = one(t, planAt(t, today+" 21:00", evening))
	assert.Equal(t, round.Done, c.State)
	assert.True(t, c.Hour.IsZero(), "what is met has no hour any more")
}

// A recheck of an hour that was set yesterday is not met by the look in the morning.
func TestARecheckOfAnHourOutlastsTheMorning(t *testing.T) {
	h := horse("mare", "2015")
	before := visit(h, "2026-03-01 09:00", true)
	before.Rechecks = []exam.Recheck{again("2026-03-01 09:50", today+" 18:00", "gut sounds", true)}
	c := one(t, planAt(t, today+" 11:00", []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, today+" 09:00", true), before}}}))
	assert.Equal(t, round.Waiting, c.State)
	before.Rechecks = []exam.Recheck{again("2026-03-01 09:50", today, "gut sounds", false)}
	c = one(t, planAt(t, today+" 11:00", []round.Yard{{Horse: h, Visits: []exam.Visit{visit(h, today+" 09:00", true), before}}}))
	assert.Equal(t, round.Done, c.State, "one of the day alone is")
}

// What somebody said before the recheck was set is over; what is said after it holds.
func TestARecheckStandsAboveWhatWasSaidBefore(t *testing.T) {
	h := horse("mare", "2015")
	morning := visit(h, today+" 09:00", true)
	morning.Rechecks = []exam.Recheck{again(today+" 09:50", today+" 20:00", "heart rate", true)}
	yard := []round.Yard{{Horse: h, Visits: []exam.Visit{morning}}}
	out := line(today, h, exam.RoundLeftOut, "")
	assert.Equal(t, round.Waiting, one(t, planAt(t, today+" 11:00", yard, out)).State)
	out.At = out.At.Add(4 * time.Hour)
	assert.Equal(t, round.LeftOut, one(t, planAt(t, today+" 13:00", yard, out)).State)
}

// The hours come first, the earliest of them first.
func TestTheHoursOfADayAreInOrder(t *testing.T) {
	var yard []round.Yard
	for _, x := range []struct{ name, hour string }{{"a late", " 20:00"}, {"b none", ""}, {"c soon", " 12:00"}} {
		h := horse(x.name, "2015")
		v := visit(h, today+" 09:00", true)
		v.Rechecks = []exam.Recheck{again(today+" 09:50", today+x.hour, "x", x.hour != "")}
		yard = append(yard, round.Yard{Horse: h, Visits: []exam.Visit{v}})
	}
	assert.Equal(t, "c soon a late b none", names(planAt(t, today+" 11:00", yard)))
}
