package round_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/exam/round"
)

// drawYard makes some horses with some visits and what was decided about them.
func drawYard(rt *rapid.T) (yard []round.Yard, lines []exam.RoundLine) {
	for i := range rapid.IntRange(0, 6).Draw(rt, "horses") {
		h := horse(fmt.Sprintf("h%d", i), rapid.SampledFrom([]string{"2015", "2026-02-25", "2025-12-01", "2024-05", "foal", "adult", ""}).Draw(rt, "born"))
		h.Kind = rapid.SampledFrom(exam.Animals()).Draw(rt, "kind")
		h.Place = rapid.SampledFrom([]string{"", "Mill", "Orchard"}).Draw(rt, "place")
		h.Cautions = rapid.SampledFrom([][]string{nil, {"kicks"}, {"isolated"}}).Draw(rt, "cautions")
		y := round.Yard{Horse: h}
		for n := range rapid.IntRange(0, 3).Draw(rt, "visits") {
			begun := at(today+" 07:00").AddDate(0, 0, -rapid.IntRange(0, 40).Draw(rt, "ago"))
			v := visit(h, begun.Format("2006-01-02 15:04"), rapid.Bool().Draw(rt, "closed"))
			v.ID = exam.VisitID(fmt.Sprintf("%s-%d", h.ID, n))
			if rapid.Bool().Draw(rt, "took a temperature") {
				v.Findings = append(v.Findings, temp(rapid.SampledFrom([]float64{37.8, 38.6, 39.4}).Draw(rt, "temp"), notation.Celsius))
			}
			v.Findings = append(v.Findings, said("cough", rapid.SampledFrom([]string{"none", "single", "fits"}).Draw(rt, "cough")))
			y.Visits = append(y.Visits, v)
		}
		yard = append(yard, y)
		for range rapid.IntRange(0, 3).Draw(rt, "lines") {
			l := line(at(today+" 07:00").AddDate(0, 0, -rapid.IntRange(0, 3).Draw(rt, "day")).Format("2006-01-02"), h, rapid.SampledFrom(exam.RoundActs()).Draw(rt, "act"), "words")
			switch l.Act {
			case exam.RoundHanded:
				if l.To = "Bo"; rapid.Bool().Draw(rt, "to a day") {
					l.To, l.OnDay = "", at(l.Day+" 07:00").AddDate(0, 0, 1).Format("2006-01-02")
				}
			case exam.RoundTurn:
				l.Turn = rapid.SampledFrom([]exam.Turn{exam.TurnByRecord, exam.TurnLast, exam.TurnOrdinary}).Draw(rt, "turn")
			case exam.RoundPicked, exam.RoundLeftOut, exam.RoundSeen, exam.RoundBack:
			}
			require.NoError(rt, l.Check())
			lines = append(lines, l)
		}
	}
	slices.SortStableFunc(lines, func(a, b exam.RoundLine) int { return a.At.Compare(b.At) })
	return yard, lines
}

// Whatever the yard: the order is by group and the same whichever way the horses
// are listed; every horse stands once, with a reason and a sentence for its place.
func TestTheOrderHolds(t *testing.T) {
	table := schedule(t)
	rapid.Check(t, func(rt *rapid.T) {
		yard, lines := drawYard(rt)
		r := round.Plan(today, at(today+" 09:00"), yard, lines, table, judging(t))
		seen := map[exam.HorseID]bool{}
		for i, c := range r.Calls {
			require.False(rt, seen[c.Horse.ID])
			seen[c.Horse.ID] = true
			require.NotEmpty(rt, c.Reasons)
			require.NotEmpty(rt, c.Why)
			require.NotEmpty(rt, c.Group.String())
			if i > 0 {
				require.LessOrEqual(rt, r.Calls[i-1].Group, c.Group)
			}
			if c.Group == round.Newborn || c.Group == round.Foal {
				require.True(rt, exam.ClassOf(c.Horse, r.At).Young || c.Group == round.Newborn)
			}
		}
		n := r.Count()
		require.Equal(rt, len(r.Calls), n.Total+n.Handed+n.LeftOut)
		require.Equal(rt, n.Total, n.Done+n.Begun+n.Waiting)
		require.Len(rt, r.Left(), n.Begun+n.Waiting)

		turned := slices.Clone(yard)
		slices.Reverse(turned)
		require.Equal(rt, r, round.Plan(today, at(today+" 09:00"), turned, lines, table, judging(t)))
	})
}

// A fever or a cough found today never brings a horse further forward, unless a
// person decides its turn; and it takes no horse off the round.
func TestASignNeverBringsAHorseForward(t *testing.T) {
	table := schedule(t)
	rapid.Check(t, func(rt *rapid.T) {
		yard, lines := drawYard(rt)
		before := round.Plan(today, at(today+" 09:00"), yard, lines, table, judging(t))
		for i := range yard {
			extra := visit(yard[i].Horse, "2026-03-01 18:00", true, temp(39.9, notation.Celsius), said("cough", "fits"))
			after := round.Plan(today, at(today+" 09:00"), with(yard, i, extra), lines, table, judging(t))
			old, had := groupOf(before, yard[i].Horse.ID)
			now, has := groupOf(after, yard[i].Horse.ID)
			if had && has {
				require.GreaterOrEqual(rt, now, old)
			}
		}
	})
}

func with(yard []round.Yard, i int, v exam.Visit) []round.Yard {
	out := slices.Clone(yard)
	out[i].Visits = append(slices.Clone(out[i].Visits), v)
	return out
}

func groupOf(r round.Round, id exam.HorseID) (round.Group, bool) {
	for _, c := range r.Calls {
		if c.Horse.ID == id {
			return c.Group, true
		}
	}
	return 0, false
}

// What was picked stays until it was seen, left out or carried to a day still to
// come: it never goes away by itself within two weeks.
func TestNothingPickedIsLost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := horse("h", "2015")
		ago := rapid.IntRange(0, round.DaysBack).Draw(rt, "ago")
		day := at(today+" 07:00").AddDate(0, 0, -ago).Format("2006-01-02")
		l := line(day, h, exam.RoundPicked, "")
		y := round.Yard{Horse: h}
		require.GreaterOrEqual(rt, l.Day, round.From(today), "its line is read")
		var none *due.Table
		require.Len(rt, round.Plan(today, at(today+" 09:00"), []round.Yard{y}, []exam.RoundLine{l}, none, judging(t)).Calls, 1)
		y.Visits = []exam.Visit{visit(h, day+" 10:00", true)}
		r := round.Plan(today, at(today+" 11:30"), []round.Yard{y}, []exam.RoundLine{l}, none, judging(t))
		if ago == 0 {
			require.Equal(rt, round.Done, r.Calls[0].State)
		} else {
			require.Empty(rt, r.Calls)
		}
	})
}
