package after_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// record is a visit that grows line by line, a minute apart.
type record struct {
	t    *testing.T
	v    exam.Visit
	at   time.Time
	tell []exam.Remark
}

func begin(t *testing.T) *record {
	r := &record{t: t, at: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	r.add(exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{Horse: exam.Horse{ID: "h", Name: "Bracken"}, Routine: "full-exam"}})
	return r
}

func (r *record) add(e exam.Entry) int {
	r.t.Helper()
	r.at = r.at.Add(time.Minute)
	e.Visit, e.By, e.At, e.Seq, e.Prev = "v", "Ann", r.at, r.v.Entries+1, r.v.Last
	err := exam.Seal(&e)
	require.NoError(r.t, err)
	require.NoError(r.t, r.v.Apply(e))
	return e.Seq
}

func (r *record) lines() []after.Task {
	return after.Lines(after.Input{Visit: r.v, Remarks: r.tell, WatchMinutes: 20, Now: r.at})
}

// state is how the first line of a kind that holds a text stands.
func (r *record) line(kind after.Kind, text string) after.Task {
	r.t.Helper()
	for _, l := range r.lines() {
		if l.Kind == kind && strings.Contains(l.Text, text) {
			return l
		}
	}
	require.Failf(r.t, "no line", "%s %q in %v", kind, text, r.lines())
	return after.Task{}
}

func (r *record) next() after.Task { l := r.lines(); return l[after.Next(l)] }

func (r *record) fever() {
	r.add(exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 39.9, Unit: notation.Celsius}}})
	r.tell = []exam.Remark{{Step: "temp.rectal", Level: ranges.LevelTell, Value: "39.9 C", Why: "above every adult range."}}
}

func (r *record) handOff() {
	r.add(exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, ReadBack: true}})
}

func decision(ruling exam.Ruling, covers ...exam.CoveredProcedure) *exam.Decision {
	return &exam.Decision{Words: "so be it", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: ruling, Covers: covers}
}

func (r *record) decide(ruling exam.Ruling, covers ...exam.CoveredProcedure) int {
	return r.add(exam.Entry{Kind: exam.EntryDecision, Decision: decision(ruling, covers...)})
}

func (r *record) inject(l exam.InjectionLine) {
	l.Number = max(l.Number, 1)
	r.add(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
}

func vaccine() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, Dose: "1 dose"}
}

func draw() exam.CoveredProcedure { return exam.CoveredProcedure{Kind: exam.Drawing} }

func TestTheWholeWayFromExamToClosing(t *testing.T) {
	r := begin(t)
	assert.Equal(t, after.HandOff, r.next().Kind)
	for _, kind := range []after.Kind{after.Injection, after.Draw} {
		l := r.line(kind, "")
		assert.Equal(t, after.Locked, l.State)
		assert.Contains(t, l.Why, "has not decided yet")
	}
	r.handOff()
	assert.Equal(t, "handed off 09:02 to Dr Vale, by telephone, read back", r.line(after.HandOff, "").Text)
	assert.Equal(t, after.Decision, r.next().Kind, "the decision comes next")
	assert.Equal(t, "The veterinarian has not decided yet. Save the decision; it unlocks the blood draw.", r.line(after.Draw, "").Why)

	r.decide(exam.GoAhead, vaccine(), draw())
	d := r.line(after.Decision, "go ahead, Dr Vale 09:03: injection of Vaccine A, IM, 1 dose; blood draw (by telephone)")
	assert.Equal(t, after.Done, d.State)
	assert.Equal(t, "valid until 3 Mar 2026 09:03", d.Why)
	assert.Equal(t, after.Open, r.line(after.Injection, "give Vaccine A, IM").State)
	assert.Equal(t, after.Open, r.line(after.Draw, "draw blood").State)
	assert.Equal(t, after.Injection, r.next().Kind)

	r.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: &exam.Order{Product: "vaccine a", Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM}})
	assert.Equal(t, "not given yet", r.line(after.Injection, "1: vaccine a").Why)
	r.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}})
	needle := r.next()
	assert.Equal(t, after.Task{
		Kind: after.Injection, State: after.Open, Number: 1, Urgent: true, Text: "1: vaccine a: needle inserted 09:05, neck triangle, left",
		Why: "record what happened: given, removed, or stopped",
	}, needle)
	assert.Contains(t, r.line(after.Draw, "").Why, "is recorded as inserted, not as removed")
	assert.Equal(t, after.Locked, r.line(after.Close, "").State)

	r.inject(exam.InjectionLine{Phase: exam.InjectionClear})
	r.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1})
	assert.Equal(t, "1: vaccine a: given 1 mL, neck triangle, left, 09:07", r.line(after.Injection, "").Text)
	again := r.line(after.Injection, "another injection")
	assert.Equal(t, after.Locked, again.State, "one order is one dose")
	assert.Contains(t, again.Why, "Dr Vale ordered one dose of Vaccine A. 1 mL was given at 09:07 on 2 Mar 2026.")
	assert.Equal(t, "start it, or decline it with a reason; the practice sets 20 minutes", r.line(after.Watch, "not started").Why)
	assert.Equal(t, r.line(after.Watch, "not started"), r.next(), "the watch that nobody began, and no second dose")

	r.add(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	assert.Equal(t, "20 min left", r.line(after.Watch, "until 09:28").Why)
	assert.Contains(t, r.line(after.Close, "").Why, "under observation until 09:28")
	r.at = r.at.Add(20 * time.Minute)
	assert.Contains(t, r.next().Why, "time is up: record what was seen")
	r.add(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchQuiet}})
	r.add(exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-09", What: "look at the neck"}})
	assert.Equal(t, after.Done, r.line(after.Recheck, "9 Mar 2026: look at the neck").State)
	assert.Equal(t, after.Draw, r.next().Kind, "decided, and not drawn yet")
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "a count"}}})
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}})
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3}}})
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawDone, VolumeML: 3}})
	assert.Equal(t, after.Open, r.line(after.Draw, "draw blood again").State)
	assert.Equal(t, after.HandOff, r.next().Kind, "nothing leads to one more by itself, and nothing to closing")

	r.add(exam.Entry{Kind: exam.EntryClosed})
	assert.Equal(t, "closed 09:35", r.line(after.Close, "").Text)
	closed := begin(t)
	closed.add(exam.Entry{Kind: exam.EntryClosed})
	assert.Contains(t, closed.line(after.Draw, "").Why, "visit is closed")
}

// After a dose the watch is to do until it was begun, declined or over, whatever
// minutes the practice has set; of a dose of which nothing went in it is not.
func TestAWatchIsToDoAfterEveryDose(t *testing.T) {
	given := exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}
	watch := func(phase exam.WatchPhase, why exam.StopReason) exam.Entry {
		return exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: phase, Minutes: 20, Why: why}}
	}
	for name, c := range map[string]struct {
		end   exam.InjectionLine
		then  []exam.Entry
		state after.Status // of the line of the watch; empty for no line
		text  string
	}{
		"given":                     {given, nil, after.Open, "not started"},
		"a part went in":            {exam.InjectionLine{Phase: exam.InjectionStopped, Why: "w", VolumeML: 0.4}, nil, after.Open, "not started"},
		"not known":                 {exam.InjectionLine{Phase: exam.InjectionStopped, Why: "w", NotKnown: true}, nil, after.Open, "not started"},
		"nothing went in":           {exam.InjectionLine{Phase: exam.InjectionStopped, Why: "w"}, nil, "", ""},
		"begun":                     {given, []exam.Entry{watch(exam.WatchBegun, "")}, after.Open, "until 09:"},
		"declined":                  {given, []exam.Entry{watch(exam.WatchDeclined, "the owner observes, and knows what to look for")}, after.Done, "declined, the owner observes, and knows what to look for, 09:"},
		"begun after all":           {given, []exam.Entry{watch(exam.WatchDeclined, "x"), watch(exam.WatchBegun, "")}, after.Done, "declined, x"},
		"left before the end":       {given, []exam.Entry{watch(exam.WatchBegun, ""), watch(exam.WatchLeftEarly, "called away")}, after.Done, "called away"},
		"a reaction, never begun":   {given, []exam.Entry{watch(exam.WatchReaction, "")}, after.Done, "reaction"},
		"over, with nothing to see": {given, []exam.Entry{watch(exam.WatchBegun, ""), watch(exam.WatchQuiet, "")}, after.Done, "ended, no reaction"},
	} {
		for _, minutes := range []int{0, 20} {
			r := begin(t)
			r.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: &exam.Order{Product: "P", Route: exam.RouteMouth}})
			r.inject(c.end)
			for _, e := range c.then {
				r.add(e)
			}
			lines := after.Lines(after.Input{Visit: r.v, WatchMinutes: minutes, Now: r.at})
			var found []after.Task
			for _, l := range lines {
				if l.Kind == after.Watch {
					found = append(found, l)
				}
			}
			if c.state == "" {
				assert.Empty(t, found, name)
				continue
			}
			require.NotEmpty(t, found, name)
			assert.Equal(t, c.state, found[0].State, name)
			assert.Contains(t, found[0].Text, c.text, name)
			if c.text == "not started" {
				assert.Equal(t, after.Watch, lines[after.Next(lines)].Kind, name)
			}
			assert.NotEqual(t, after.Close, lines[after.Next(lines)].Kind, name)
		}
	}
}

func TestLockedAgainAndWhy(t *testing.T) {
	r := begin(t)
	r.handOff()
	first := r.decide(exam.GoAhead, vaccine())
	r.fever()
	assert.Equal(t, "new since then: 39.9 C, above every adult range", r.line(after.HandOff, "").Why)
	assert.Equal(t, after.HandOff, r.next().Kind, "the veterinarian is told first")
	for _, l := range []after.Task{r.line(after.Injection, "give Vaccine A"), r.line(after.Decision, "go ahead")} {
		assert.Equal(t, after.Locked, l.State)
		assert.Contains(t, l.Why, "something new for the veterinarian: 39.9 C")
	}
	right := decision(exam.GoAhead, vaccine())
	r.add(exam.Entry{Kind: exam.EntryDecision, Decision: right, Corrects: first, Reason: "a slip"})
	assert.Equal(t, after.Locked, r.line(after.Decision, "corrected").State, "a correction unlocks nothing")
	told := *r
	told.t = t
	told.decide(exam.GoAhead, vaccine())
	assert.Equal(t, after.Injection, told.next().Kind, "who decides after it knows of it")
	r.handOff()
	next := r.next()
	assert.Equal(t, after.Decision, next.Kind)
	assert.Contains(t, next.Why, "no longer valid")

	r.decide(exam.GoAhead, vaccine())
	assert.Equal(t, after.Open, r.line(after.Injection, "give Vaccine A").State)
	assert.Equal(t, "a later decision replaces it", r.line(after.Decision, "corrected").Why)
	r.decide(exam.Wait, exam.CoveredProcedure{Kind: exam.Injecting, Product: "vaccine a"})
	assert.Contains(t, r.line(after.Injection, "give vaccine a").Why, `Dr Vale said wait: "so be it"`)
	r.at = r.at.Add(-2 * time.Hour)
	assert.Equal(t, after.Locked, r.line(after.Draw, "").State)
}

func TestAClockSetBackIsSaid(t *testing.T) {
	r := begin(t)
	r.decide(exam.GoAhead, vaccine())
	r.at = r.at.Add(-time.Hour)
	assert.Contains(t, r.line(after.Injection, "give").Why, "the clock was set back")
	r.at = r.at.Add(26 * time.Hour)
	assert.Contains(t, r.line(after.Injection, "give").Why, "was valid until")
}

// A running observation that is later than the clock stands first, and says why.
func TestAnObservationAheadOfTheClockIsSaid(t *testing.T) {
	r := begin(t)
	r.decide(exam.GoAhead, vaccine())
	r.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: &exam.Order{Product: "P", Route: exam.RouteMouth}})
	r.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1})
	r.add(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	r.at = r.at.Add(-2 * time.Hour)
	l := r.line(after.Watch, "after injection 1: until")
	assert.Equal(t, "By the record the observation began at 09:05, but this laptop's clock said 07:05.", l.Why)
	assert.True(t, l.Urgent)
}

func TestAReactionLocksAndADrawIsListed(t *testing.T) {
	r := begin(t)
	r.decide(exam.GoAhead, draw(), vaccine())
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "a count"}}})
	assert.Equal(t, "not drawn yet", r.line(after.Draw, "1: blood for a count: order").Why)
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}})
	assert.True(t, r.line(after.Draw, "needle inserted").Urgent)
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3}}})
	r.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawStopped, VolumeML: 3, Sign: "outside the vein", SignWords: "a swelling"}})
	assert.Contains(t, r.line(after.Draw, "1: blood").Text, "stopped 3 mL, 1 tube")
	assert.Contains(t, r.line(after.Draw, "draw blood again").Why, "a swelling")
	assert.Contains(t, r.line(after.Injection, "give").Why, "the blood draw was stopped")
}

func TestHostileTextIsClean(t *testing.T) {
	r := begin(t)
	bad := "\x1b[2J\u202eevil\u009b31m"
	r.v.HandOffs = []exam.HandOff{{HandOffLine: exam.HandOffLine{To: bad, How: exam.Means(bad)}}}
	r.v.Decisions = []exam.Decided{{Decision: exam.Decision{Vet: bad, Words: bad, Ruling: exam.Ruling(bad), Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: bad}}}, Signed: exam.Signed{Seq: 1}}}
	r.v.Injections = []exam.Injection{{Number: 1, Order: exam.Order{Product: bad}, Sign: bad, SignWords: bad, State: exam.InjectionStopped}}
	r.v.Rechecks = []exam.Recheck{{RecheckLine: exam.RecheckLine{On: bad, What: bad}}}
	for _, l := range r.lines() {
		assert.NotContains(t, l.Text+l.Why, "\x1b")
		assert.NotContains(t, l.Text+l.Why, "\u202e")
		assert.NotContains(t, l.Text+l.Why, "\u009b")
	}
}
