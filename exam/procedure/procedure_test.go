package procedure_test

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func noon() time.Time { return time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC) }

func sure(t *testing.T, what, source string, e exam.Evidence) {
	t.Helper()
	assert.NotEmpty(t, source, what)
	assert.Contains(t, ranges.Tiers(), e, what)
	if strings.Contains(source, "from memory") && !strings.Contains(source, ";") {
		assert.Equal(t, ranges.FromMemory, e, what)
	}
}

func TestEverySiteIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range procedure.Sites() {
		assert.False(t, seen[s.Key], s.Key)
		seen[s.Key] = true
		for _, text := range []string{s.Find, s.Stand, s.For, s.Against} {
			assert.NotEmpty(t, text, s.Key)
		}
		assert.True(t, len(s.Routes) > 0 || s.Draw, s.Key)
		assert.NotEmpty(t, s.Sides, s.Key)
		assert.Equal(t, s.Last, s.Warning != "", "a site that is never proposed says why: %s", s.Key)
		sure(t, s.Key, s.Source, s.Evidence)
	}
	// The common order of the trade (AAEP, ask the vet), the croup last.
	var im []string
	for _, s := range procedure.For(exam.RouteIM) {
		im = append(im, s.Key)
	}
	assert.Equal(t, []string{procedure.Neck, procedure.Thigh, procedure.Pectoral, procedure.Gluteal}, im)
	for _, r := range exam.Routes() {
		assert.Equal(t, r.Needled(), len(procedure.For(r)) > 0, r)
	}
	assert.Equal(t, procedure.Jugular, procedure.ForBlood()[0].Key)
}

func use(visit string, daysAgo int, site string, side exam.Site, seen exam.InjectionPhase, state exam.InjectionPhase) exam.Visit {
	at := noon().AddDate(0, 0, -daysAgo)
	a := exam.NeedleAttempt{Place: exam.NeedlePlace{Site: site, Side: side}, Seen: seen, Signed: exam.Signed{At: at, By: "Ann"}}
	i := exam.Injection{Number: 1, State: state, Attempts: []exam.NeedleAttempt{a}, EndAt: &at, GivenML: 1, Order: exam.Order{Product: "P"}}
	return exam.Visit{ID: exam.VisitID(visit), OpenedAt: at, Injections: []exam.Injection{i}}
}

func TestTheLeastRecentlyUsedSiteIsProposed(t *testing.T) {
	propose := func(visits ...exam.Visit) string {
		c, ok := procedure.Propose(exam.RouteIM, procedure.Uses(visits), "today", noon())
		require.True(t, ok)
		return c.Place().String()
	}
	clear, given := exam.InjectionClear, exam.InjectionGiven
	assert.Equal(t, "neck triangle, left", propose(), "nothing used: the trade's first")
	left := use("a", 30, procedure.Neck, exam.Left, clear, given)
	assert.Equal(t, "neck triangle, right", propose(left))
	all := []exam.Visit{
		left, use("b", 20, procedure.Neck, exam.Right, clear, given), use("c", 90, procedure.Thigh, exam.Left, clear, given),
		use("d", 10, procedure.Thigh, exam.Right, clear, given), use("e", 11, procedure.Pectoral, exam.Left, clear, given),
		use("f", 12, procedure.Pectoral, exam.Right, clear, given),
	}
	assert.Equal(t, "back of the thigh, left", propose(all...), "the longest ago, and never the croup")
	list := procedure.Places(exam.RouteIM, procedure.Uses(all), "today", noon())
	assert.Equal(t, "3 months ago", list[0].Ago)
	assert.Equal(t, procedure.Gluteal, list[len(list)-1].Site.Key)
	assert.NotEmpty(t, list[len(list)-1].Warning)

	// Blood in this visit: another site.
	blood := use("today", 0, procedure.Neck, exam.Left, exam.InjectionBlood, exam.InjectionBlood)
	assert.Equal(t, "neck triangle, right", propose(blood))
	list = procedure.Places(exam.RouteIM, procedure.Uses([]exam.Visit{blood}), "today", noon())
	last := list[len(list)-1]
	assert.Equal(t, "neck triangle, left", last.Place().String())
	assert.Contains(t, last.Warning, "Blood came here today")
	// A place that reacted is not proposed again.
	bad := use("x", 400, procedure.Neck, exam.Left, clear, exam.InjectionStopped)
	bad.Injections[0].SignWords = "swelling"
	assert.Equal(t, "neck triangle, right", propose(bad))
	_, ok := procedure.Propose(exam.RouteMouth, nil, "today", noon())
	assert.False(t, ok)
}

func TestProposalHoldsForAnyPast(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var visits []exam.Visit
		for range rapid.IntRange(0, 12).Draw(rt, "uses") {
			s := rapid.SampledFrom(procedure.For(exam.RouteIM)).Draw(rt, "site")
			seen := rapid.SampledFrom([]exam.InjectionPhase{exam.InjectionClear, exam.InjectionBlood, ""}).Draw(rt, "seen")
			visits = append(visits, use(rapid.SampledFrom([]string{"today", "a", "b"}).Draw(rt, "visit"), rapid.IntRange(0, 900).Draw(rt, "ago"),
				s.Key, rapid.SampledFrom(s.Sides).Draw(rt, "side"), seen, exam.InjectionGiven))
		}
		uses := procedure.Uses(visits)
		list := procedure.Places(exam.RouteIM, uses, "today", noon())
		require.Len(rt, list, 8, "every place is on offer, once")
		c, ok := procedure.Propose(exam.RouteIM, uses, "today", noon())
		if !ok {
			return
		}
		require.False(rt, c.Site.Last)
		for _, other := range list {
			if !other.Site.Last && other.Last == nil {
				require.Nil(rt, c.Last, "a place never used comes before a used one")
			}
		}
	})
}

func TestVolumeASite(t *testing.T) {
	var none procedure.Rules
	_, over := none.OverLimit(exam.RouteIM, 10)
	assert.False(t, over, "10 mL a site: labels in the USA (drugs.com/vet)")
	text, over := none.OverLimit(exam.RouteIM, 22)
	assert.True(t, over)
	assert.Contains(t, text, "22 mL is more than 10 mL in one site")
	assert.Contains(t, text, "3 sites")
	_, over = none.OverLimit(exam.RouteIV, 60)
	assert.False(t, over)
	own := procedure.RulesOf(exam.Settings{Common: exam.Common{SiteML: 5, WatchMinutes: 20}})
	assert.Equal(t, procedure.Rules{SiteML: 5, WatchMinutes: 20}, own)
	assert.Equal(t, procedure.Rules{}, procedure.RulesOf(exam.Settings{Common: exam.Common{SiteML: -1, WatchMinutes: 1e6}}))
	text, over = own.OverLimit(exam.RouteIM, 6)
	assert.True(t, over)
	assert.Contains(t, text, "the practice's own setting")
	assert.Equal(t, ranges.PracticeOwn, own.SiteLimit().Evidence)
}

// The ten points of the check list (calculations and procedures, 3.4).
func TestCheckListHasEveryPoint(t *testing.T) {
	h := exam.Horse{Name: "Bracken", Chip: "001164000123456", Colour: "bay", Reactions: []string{"hives after X"}, Cautions: []string{"kicks"}}
	o := exam.Order{Product: "P", Dose: "1 dose", VolumeML: 1, Lot: "L1", Expiry: notation.Expiry{Last: "2027-02-28"}, Route: exam.RouteIM}
	d := exam.Decided{Decision: exam.Decision{Vet: "Dr Vale", How: exam.ByTelephone, Words: "give it"}}
	var keys []string
	var all strings.Builder
	for _, p := range procedure.CheckList(h, o, d, noon()) {
		keys = append(keys, p.Key)
		all.WriteString(p.Shown + "\n")
		assert.NotEmpty(t, p.Asks)
	}
	assert.Equal(t, []string{"horse", "product", "dose", procedure.SecondPerson, "route", "time", "expiry", "decision", "reactions", "food", "handler"}, keys)
	for _, want := range []string{"chip 001164000123456", "1 dose, 1 mL", "lot L1, to 28 Feb 2027", `Dr Vale, by telephone, "give it"`, "hives after X", "kicks", "IM"} {
		assert.Contains(t, all.String(), want)
	}
	empty := procedure.CheckList(exam.Horse{}, exam.Order{}, exam.Decided{}, noon())
	assert.Equal(t, "nothing is recorded to identify it", empty[0].Shown)
	for want, h := range map[string]exam.Horse{
		"Bella, nothing is recorded to identify it":            {Name: "Bella"}, // a name stands on no horse
		"Bella, bay; no chip number is in the record":          {Name: "Bella", Colour: "bay"},
		"Bella, chip 001164000123456, bay, star and left sock": {Name: "Bella", Chip: "001164000123456", Colour: "bay", Markings: "star and left sock"},
	} {
		assert.Equal(t, want, procedure.CheckList(h, exam.Order{}, exam.Decided{}, noon())[0].Shown)
	}
}

func TestSignsOfDangerSayWhatToDoFirst(t *testing.T) {
	for _, d := range procedure.Dangers() {
		assert.NotEmpty(t, d.Seen, d.Key)
		assert.GreaterOrEqual(t, len(d.First), 1, d.Key)
		sure(t, d.Key, d.Sources, d.Evidence)
		all := strings.ToLower(strings.Join(d.First, " "))
		if d.Key != procedure.Vein {
			assert.Regexp(t, "call the veterinarian now|tell the veterinarian", all, d.Key)
			assert.Contains(t, all, "record", d.Key)
		}
		assert.NotRegexp(t, `\d`, all, "no dose")
		assert.NotRegexp(t, `\b(give|inject|apply)\b`, all, "nothing is given before the veterinarian is asked")
		back, ok := procedure.FindDanger(d.Key)
		require.True(t, ok)
		line := procedure.Stopped(1, back, "twitches", 2, true)
		assert.Equal(t, d.Key, line.Sign)
		assert.Contains(t, line.SignWords, "twitches")
	}
	for _, key := range []string{procedure.Artery, procedure.Beside, procedure.Reaction} {
		d, _ := procedure.FindDanger(key)
		assert.True(t, d.Now, key)
	}
}

func TestVeinQuestionsEndInADanger(t *testing.T) {
	all := ""
	for _, q := range procedure.VeinQuestions() {
		all += q.Asks + q.Good + q.Otherwise
		sure(t, q.Asks, q.Source, q.Evidence)
		assert.NotEmpty(t, q.Otherwise)
	}
	for _, want := range []string{"Upper third", "seated", "drips", "does not pulse", "tell the vet"} {
		assert.Contains(t, all, want)
	}
}

func TestOfficialSample(t *testing.T) {
	for _, p := range []string{"EIA for travel", "coggins", "Equine infectious anaemia"} {
		text, official := procedure.OfficialSample(p)
		assert.True(t, official, p)
		assert.Contains(t, text, "accredited veterinarian")
	}
	for _, p := range []string{"blood count", "their own", "", "protein A"} {
		_, official := procedure.OfficialSample(p)
		assert.False(t, official, p)
	}
	_, many := procedure.Sticks(exam.Draw{Sticks: make([]exam.Stick, 5)})
	assert.True(t, many)
	_, many = procedure.Sticks(exam.Draw{Sticks: make([]exam.Stick, 4)})
	assert.False(t, many)
}

func TestCautionsAreShortAndBelongSomewhere(t *testing.T) {
	table := steps.Table()
	want := map[string]bool{"approach": true, "behind": true, "handler": true, "limbs": true, "mouth": true, "nervous signs": true, "needles": true}
	for _, c := range procedure.Cautions() {
		delete(want, c.Key)
		assert.True(t, len(c.Full) == 1 || len(c.Full) == 2, c.Key)
		for _, l := range append(append([]string{}, c.Full...), c.Line) {
			assert.LessOrEqual(t, utf8.RuneCountInString(l), 72, l)
			assert.NotEmpty(t, l)
		}
		assert.NotEmpty(t, len(c.Steps)+len(c.Stages), c.Key)
		for _, id := range c.Steps {
			_, ok := table.ByID(id)
			assert.True(t, ok, "%s: no step %s", c.Key, id)
		}
		sure(t, c.Key, c.Source, c.Evidence)
	}
	assert.Empty(t, want, "every caution of the trade is there")

	v := exam.Visit{Horse: exam.Horse{Birth: exam.Birth{Precision: exam.BornAdult}}}
	shown := procedure.Shown{}
	first := shown.Lines(procedure.AtStep(v, "limb.look"))
	assert.Len(t, first, 2)
	assert.Equal(t, []string{"Stay on your feet; never crouch, kneel or sit."}, shown.Lines(procedure.AtStep(v, "hoof.heat")), "in full once a visit")
	for range 20 {
		assert.LessOrEqual(t, len(shown.Lines(procedure.At(v, procedure.AtInjection))), 2)
	}
	key := func(list []procedure.Caution) string {
		if len(list) == 0 {
			return ""
		}
		return list[0].Key
	}
	assert.NotEqual(t, "nervous signs", key(procedure.AtStep(v, "mouth.look")))
	v.Findings = []exam.Finding{{Step: "demeanour", Value: exam.Value{Kind: exam.KindPick, Words: []string{"seizure"}}}}
	assert.Equal(t, "nervous signs", key(procedure.AtStep(v, "mouth.look")))
	_, ok := table.ByID("demeanour")
	require.True(t, ok)
	for id, keys := range map[exam.StepID][]string{"demeanour": {"seizure", "unresponsive"}, "gait.look": {"sways"}} {
		s, ok := table.ByID(id)
		require.True(t, ok, id)
		for _, k := range keys {
			_, ok := s.Choice(k)
			assert.True(t, ok, "%s %s", id, k)
		}
	}
}
