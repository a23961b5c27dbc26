package authorization_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// line builds the next entry of a visit, one minute after the last.
type visitLines struct {
	t    require.TestingT
	list []exam.Entry
	at   time.Time
}

func newVisit(t require.TestingT) *visitLines {
	v := &visitLines{t: t, at: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	v.add(exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{Horse: exam.Horse{ID: "h", Name: "Bracken"}, Routine: "full"}})
	return v
}

func (v *visitLines) add(e exam.Entry) int {
	v.at = v.at.Add(time.Minute)
	e.Visit, e.By, e.Seq = "v", "Ann", len(v.list)+1
	if e.At.IsZero() {
		e.At = v.at
	}
	if n := len(v.list); n > 0 {
		e.Prev = v.list[n-1].Hash
	}
	require.NoError(v.t, exam.Seal(&e))
	v.list = append(v.list, e)
	return e.Seq
}

func (v *visitLines) fold() exam.Visit {
	folded, err := exam.Fold(v.list)
	require.NoError(v.t, err)
	return folded
}

func (v *visitLines) decide(d exam.Decision) int {
	require.NoError(v.t, d.Check())
	return v.add(exam.Entry{Kind: exam.EntryDecision, Decision: &d})
}

func (v *visitLines) temperature(c float64) {
	v.add(exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: c, Unit: notation.Celsius}}})
}

func goAhead(product string) exam.Decision {
	return exam.Decision{
		Words: "give the vaccine", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead,
		Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: product, Route: exam.RouteIM, Dose: "1 dose"}, {Kind: exam.Drawing}},
	}
}

func telling() []exam.Remark {
	return []exam.Remark{{Step: "temp.rectal", Level: ranges.LevelTell, Value: "39.6 C", Why: "far above."}}
}

func refuses(t *testing.T, v exam.Visit, remarks []exam.Remark, p exam.Procedure, says string) {
	t.Helper()
	err := authorization.CheckProcedure(v, remarks, p)
	require.ErrorIs(t, err, exam.ErrRefused)
	assert.Contains(t, err.Error(), says)
}

func TestNothingIsEnteredWithoutADecision(t *testing.T) {
	v := newVisit(t)
	p := exam.Procedure{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, At: v.at}
	draw := exam.Procedure{Kind: exam.Drawing, At: v.at}
	refuses(t, v.fold(), nil, p, "has not decided yet")
	refuses(t, v.fold(), nil, draw, "has not decided yet")

	v.temperature(39.6)
	v.decide(goAhead("vaccine  A"))
	p.At, draw.At = v.at, v.at
	require.NoError(t, authorization.CheckProcedure(v.fold(), telling(), p), "what the veterinarian knew does not lock; names differ by case and space only")
	require.NoError(t, authorization.CheckProcedure(v.fold(), telling(), draw))

	other := p
	other.Product = "Something else"
	refuses(t, v.fold(), nil, other, "No decision covers an injection of Something else, IM. Decided so far: go ahead for injection of vaccine  A")
	vein := p
	vein.Route = exam.RouteIV
	refuses(t, v.fold(), nil, vein, "No decision covers")

	v.temperature(39.7)
	p.At, draw.At = v.at, v.at
	refuses(t, v.fold(), telling(), p, "something new for the veterinarian: 39.6 C, far above.")
	refuses(t, v.fold(), telling(), draw, "something new")
	require.NoError(t, authorization.CheckProcedure(v.fold(), nil, p), "a new finding that is not for the vet locks nothing")
	v.decide(goAhead("Vaccine A"))
	p.At = v.at
	require.NoError(t, authorization.CheckProcedure(v.fold(), telling(), p), "the new decision unlocks it")

	v.decide(exam.Decision{Words: "not today", Vet: "Dr Vale", How: exam.Here, Ruling: exam.Wait})
	refuses(t, v.fold(), nil, p, `Dr Vale said wait: "not today"`)
	v.decide(goAhead("Vaccine A"))
	stop := exam.Decision{Words: "no", Vet: "Dr Vale", How: exam.Here, Ruling: exam.Stop, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Other"}}}
	v.decide(stop)
	p.At = v.at
	require.NoError(t, authorization.CheckProcedure(v.fold(), nil, p), "a stop for another product does not concern this one")
	refuses(t, v.fold(), nil, exam.Procedure{Kind: exam.Injecting, Product: "other", At: v.at}, "said stop")

	v.add(exam.Entry{Kind: exam.EntryClosed})
	refuses(t, v.fold(), nil, p, "closed")
}

func TestADecisionEndsAndTheClockIsAskedAbout(t *testing.T) {
	v := newVisit(t)
	v.decide(goAhead("X"))
	p := exam.Procedure{Kind: exam.Injecting, Product: "X"}
	for _, c := range []struct {
		after time.Duration
		says  string
	}{{0, ""}, {exam.DecisionLasts, ""}, {exam.DecisionLasts + time.Second, "was valid until"}, {-30 * time.Second, ""}, {-2 * time.Hour, "the clock was set back"}} {
		p.At = v.at.Add(c.after)
		if c.says == "" {
			require.NoError(t, authorization.CheckProcedure(v.fold(), nil, p), c.after)
			continue
		}
		refuses(t, v.fold(), nil, p, c.says)
	}
	d := goAhead("X")
	until := v.at.Add(time.Hour)
	d.Until = &until
	v.decide(d)
	p.At = until.Add(time.Second)
	refuses(t, v.fold(), nil, p, "was valid until 2 Mar 2026 10:02")
}

func TestACorrectedDecisionCoversNothing(t *testing.T) {
	v := newVisit(t)
	seq := v.decide(goAhead("X"))
	right := goAhead("Y")
	v.add(exam.Entry{Kind: exam.EntryDecision, Decision: &right, Corrects: seq, Reason: "wrong product"})
	folded := v.fold()
	require.Len(t, folded.Decisions, 2, "both stay readable")
	refuses(t, folded, nil, exam.Procedure{Kind: exam.Injecting, Product: "X", At: v.at}, "No decision covers")
	require.NoError(t, authorization.CheckProcedure(folded, nil, exam.Procedure{Kind: exam.Injecting, Product: "Y", At: v.at}))
}

func TestDangerLocksAgain(t *testing.T) {
	for name, e := range map[string]exam.Entry{
		"stopped":  {Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionStopped, Sign: "artery", SignWords: "it reared"}},
		"pulsing":  {Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionPulsing}},
		"draw":     {Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawStopped, Sign: "beside", SignWords: "a swelling"}},
		"reaction": {Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchReaction, SignWords: "hives"}},
	} {
		v := newVisit(t)
		v.decide(goAhead("X"))
		v.add(e)
		p := exam.Procedure{Kind: exam.Injecting, Product: "X", At: v.at}
		require.ErrorIs(t, authorization.CheckProcedure(v.fold(), nil, p), exam.ErrRefused, name)
		v.decide(goAhead("X"))
		p.At = v.at
		require.NoError(t, authorization.CheckProcedure(v.fold(), nil, p), name)
	}
}

func TestACombinationLocksWhenOneOfItsFindingsIsNew(t *testing.T) {
	v := newVisit(t)
	v.temperature(39.6)
	v.decide(goAhead("X"))
	v.add(exam.Entry{Kind: exam.EntryFinding, Step: "cough", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"fits"}}})
	p := exam.Procedure{Kind: exam.Injecting, Product: "X", At: v.at}
	r := exam.Remark{Step: "temp.rectal", Level: ranges.LevelTell, Combination: true, Why: "together"}
	r.Of = []exam.Key{{Step: "temp.rectal"}, {Step: "cough"}}
	refuses(t, v.fold(), []exam.Remark{r}, p, "together")
	r.Of = []exam.Key{{Step: "temp.rectal"}}
	require.NoError(t, authorization.CheckProcedure(v.fold(), []exam.Remark{r}, p))
	r.Of = nil
	refuses(t, v.fold(), []exam.Remark{r}, p, "together")
}

func TestADecisionLacksNothing(t *testing.T) {
	for name, spoil := range map[string]func(*exam.Decision){
		"words": func(d *exam.Decision) { d.Words = " \x1b[31m " }, "name": func(d *exam.Decision) { d.Vet = "" },
		"ruling": func(d *exam.Decision) { d.Ruling = "maybe" }, "how": func(d *exam.Decision) { d.How = "by pigeon" },
		"covers": func(d *exam.Decision) { d.Covers = nil }, "product": func(d *exam.Decision) { d.Covers[0].Product = "" },
		"kind": func(d *exam.Decision) { d.Covers[0].Kind = "surgery" },
	} {
		d := goAhead("X")
		spoil(&d)
		var refusal *notation.Refusal
		require.ErrorAs(t, d.Check(), &refusal, name)
	}
}

// Whatever was decided and found: with no go-ahead for the product in the visit,
// or with something for the vet found after the last decision, it stays locked.
func TestLockedIsNeverOpenedByAccident(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := newVisit(rt)
		open := false
		for range rapid.IntRange(0, 8).Draw(rt, "lines") {
			switch rapid.IntRange(0, 4).Draw(rt, "what") {
			case 0:
				v.decide(goAhead("X"))
				open = true
			case 1:
				v.decide(goAhead("Y"))
			case 2:
				v.decide(exam.Decision{Words: "no", Vet: "Dr Vale", How: exam.Here, Ruling: rapid.SampledFrom([]exam.Ruling{exam.Wait, exam.Stop}).Draw(rt, "r")})
				open = false
			case 3:
				v.temperature(39.6)
				open = false
			case 4:
				v.add(exam.Entry{Kind: exam.EntryNote, Note: "quiet"})
			}
		}
		err := authorization.CheckProcedure(v.fold(), telling(), exam.Procedure{Kind: exam.Injecting, Product: "X", Route: exam.RouteIM, At: v.at})
		require.Equal(rt, open, err == nil, "%v", err)
	})
}

// A correction puts right what was written: it opens nothing that is locked since,
// passes no later word of the veterinarian, and lasts no longer.
func TestACorrectionRenewsNothing(t *testing.T) {
	v := newVisit(t)
	v.temperature(39.6)
	seq := v.decide(goAhead("X"))
	first := v.at
	correct := func(of int) int {
		d := goAhead("X")
		return v.add(exam.Entry{Kind: exam.EntryDecision, Decision: &d, Corrects: of, Reason: "a slip"})
	}
	p := func(at time.Time) exam.Procedure { return exam.Procedure{Kind: exam.Injecting, Product: "X", At: at} }
	again := correct(correct(seq))
	folded := v.fold()
	last := folded.Decisions[len(folded.Decisions)-1]
	assert.Equal(t, seq, last.Since().Seq, "through two corrections")
	assert.Equal(t, again, last.Seq)
	require.NoError(t, authorization.CheckProcedure(folded, telling(), p(v.at)))
	refuses(t, folded, telling(), p(first.Add(exam.DecisionLasts+time.Second)), "was valid until")

	v.temperature(39.8)
	again = correct(again)
	refuses(t, v.fold(), telling(), p(v.at), "something new for the veterinarian")
	v.decide(exam.Decision{Words: "leave it", Vet: "Dr Vale", How: exam.Here, Ruling: exam.Stop})
	correct(again)
	refuses(t, v.fold(), nil, p(v.at), "said stop")
}

func TestAnEndOfADecisionIsRead(t *testing.T) {
	now := time.Date(2026, 3, 2, 11, 5, 30, 0, time.FixedZone("", -5*3600))
	for text, want := range map[string]string{
		"18:00": "2026-03-02T18:00:00-05:00", "2026-03-04": "2026-03-04T23:59:00-05:00", "2026-03-04 08:30": "2026-03-04T08:30:00-05:00",
		"2026-03-04T08:30": "2026-03-04T08:30:00-05:00", "6h": "2026-03-02T17:05:00-05:00", "3 d": "2026-03-05T11:05:00-05:00", "": "",
	} {
		at, err := notation.ReadUntil(text, now)
		require.NoError(t, err, text)
		if want == "" {
			assert.Nil(t, at)
			continue
		}
		assert.Equal(t, want, at.Format(time.RFC3339), text)
	}
	for text, says := range map[string]string{
		"10:00": "is over today", "2026-03-01": "not a day to come", "2028-01-01": "a year at most", "999d": "a year at most", "soon": "no time to come", "25:00": "no time 25:00",
		"2026-02-30": "no time to come", "0h": "a minute away", "-3h": "no time to come", "\x1b[2J": "", "99999999999999999999h": "no time to come",
	} {
		_, err := notation.ReadUntil(text, now)
		if says == "" {
			require.NoError(t, err, "nothing is left of it")
			continue
		}
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, text)
		assert.Contains(t, refusal.Why, says, text)
	}
}

func TestACoverIsRead(t *testing.T) {
	for text, want := range map[string]exam.CoveredProcedure{
		"draw": {Kind: exam.Drawing}, "Blood draw": {Kind: exam.Drawing},
		"injection:Vaccine R:IM": {Kind: exam.Injecting, Product: "Vaccine R", Route: exam.RouteIM},
		"injection: X ":          {Kind: exam.Injecting, Product: "X"},
		"draw: blood count":      {Kind: exam.Drawing, For: "blood count"},
		"injection:X:IM:2mL:3x 12h": {
			Kind: exam.Injecting, Product: "X", Route: exam.RouteIM, Dose: "2 mL", Times: 3, HoursApart: 12,
		},
		"injection:X::2 mL": {Kind: exam.Injecting, Product: "X", Dose: "2 mL"},
		`injection:A\:B\C:by mouth:1 dose`: {
			Kind: exam.Injecting, Product: `A:B\C`, Route: exam.RouteMouth, Dose: "1 dose",
		},
		"injection": {Kind: exam.Injecting}, // a wait or a stop may speak of every injection
	} {
		got, err := exam.ReadCover(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "surgery", "draw:X:Y", "injection:X:up", "injection:a:IM:b:c", "injection:a:IM:2 mL:often", "injection:a:IM:2 mL:2x 1h:d"} {
		var refusal *notation.Refusal
		_, err := exam.ReadCover(text)
		require.ErrorAs(t, err, &refusal, text)
	}
}

func TestARecheckIsPutRight(t *testing.T) {
	v := newVisit(t)
	seq := v.add(exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-09", What: "neck"}})
	v.add(exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-10", What: "weight"}})
	v.add(exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-05", What: "neck"}, Corrects: seq})
	var days []string
	for _, r := range v.fold().Rechecks {
		days = append(days, r.On)
	}
	assert.Equal(t, []string{"2026-03-10", "2026-03-05"}, days)
}
