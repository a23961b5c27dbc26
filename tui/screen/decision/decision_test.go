package decision_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/decision"
	"loosebox/tui/screentest"
)

func open(t testing.TB, size layout.Size, number int, first ...func(testing.TB, exam.Store, exam.VisitID)) (*screentest.Driver, *nav.Deps, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	for _, write := range first {
		write(t, store, id)
	}
	return screentest.New(t, deps, decision.New, nav.Address{Visit: id, Number: number}, size), deps, id
}

func handedOff(t testing.TB, s exam.Store, id exam.VisitID) { screentest.HandOff(t, s, id) }

func decided(t testing.TB, s exam.Store, id exam.VisitID) {
	screentest.Rule(t, s, id, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func visit(t testing.TB, deps *nav.Deps, id exam.VisitID) exam.Visit {
	t.Helper()
	v, err := deps.Store.Visit(id)
	require.NoError(t, err)
	return v
}

func TestADecisionIsWrittenDownAndUnlocks(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, deps, id := open(t, wide(), 0, handedOff)
		assert.True(t, d.Shows("Dr Vale"), "who was told is offered")
		d.Type("Give Vaccine A in the neck, one dose? u x p")
		d.Press("enter", "1", "enter")
		d.Type("Vaccine A")
		d.Press("enter", "2", "enter")
		d.Type("2 doses of something")
		d.Press("enter")
		assert.True(t, d.Reads("2 doses of something"), "a dose without a unit that is known stays on its line")
		d.Press("ctrl+u")
		d.Type("1 dose")
		d.Press("enter", "enter", "enter", space, "enter")
		d.Type("18:00")
		d.Press("enter", space, "enter")
		d.Type("2026-03-09")
		d.Press("enter")
		d.Type("look at the neck")
		d.Press("enter", "enter", "enter")
		require.True(t, d.Left(), d.View())
		v := visit(t, deps, id)
		require.Len(t, v.Decisions, 1)
		until := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
		assert.Equal(t, exam.Decision{
			Words: "Give Vaccine A in the neck, one dose? u x p", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Until: &until, ReadBack: true,
			Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, Dose: "1 dose"}, {Kind: exam.Drawing}},
		}, v.Decisions[0].Decision)
		assert.Equal(t, "look at the neck", v.Rechecks[0].What)
		require.NoError(t, authorization.CheckProcedure(v, nil, exam.Procedure{Kind: exam.Injecting, Product: "vaccine a", Route: exam.RouteIM, At: screentest.Now()}))
	}
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	d, deps, id := open(t, wide(), 0)
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type the veterinarian's name"))
	d.Type("Dr Vale")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type the veterinarian's own words"), d.View())
	d.Type("go ahead")
	d.Press("enter", "1", "ctrl+s")
	assert.True(t, d.Reads("go ahead with what? Name the procedure"))
	assert.Empty(t, visit(t, deps, id).Decisions)
	d.Press("enter")
	d.Type("X")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("a number and its unit"), "an injection is decided with its dose")
	assert.Empty(t, visit(t, deps, id).Decisions)
	d.Type("2 mL")
	d.Press("ctrl+s")
	assert.Len(t, visit(t, deps, id).Decisions, 1)
}

// What is typed beside the mark of the blood draw stays, and how often a dose is
// given is said in the same form.
func TestHowOftenAndWhatTheBloodIsForAreKept(t *testing.T) {
	d, deps, id := open(t, wide(), 0, handedOff)
	d.Type("twice, half a day apart, and blood for a count")
	d.Press("enter", "1", "enter")
	d.Type("Vaccine A")
	d.Press("enter", "2", "enter")
	d.Type("10 mL")
	d.Press("enter")
	d.Type("2 times")
	d.Press("enter")
	assert.True(t, d.Reads("say how far apart as well"), d.View())
	d.Type(", 12 h apart")
	d.Press("enter", "enter")
	d.Type("blood count")
	d.Press("ctrl+s")
	require.True(t, d.Left(), d.View())
	covers := visit(t, deps, id).Decisions[0].Covers
	require.Len(t, covers, 2)
	assert.Equal(t, "injection of Vaccine A, IM, 10 mL, 2 times, at least 12 h apart", covers[0].Text())
	assert.Equal(t, exam.CoveredProcedure{Kind: exam.Drawing, For: "blood count"}, covers[1])
}

func TestWithNothingNamedAWaitHoldsForEverything(t *testing.T) {
	d, deps, id := open(t, wide(), 0, handedOff, decided)
	d.Type("leave her until I am there")
	d.Press("ctrl+s")
	require.True(t, d.Left())
	v := visit(t, deps, id)
	assert.Equal(t, exam.Wait, v.Decisions[1].Ruling, "the safe answer stands first")
	for _, p := range []exam.Procedure{{Kind: exam.Drawing}, {Kind: exam.Injecting, Product: "Vaccine A"}} {
		p.At = screentest.Now()
		require.ErrorIs(t, authorization.CheckProcedure(v, nil, p), exam.ErrRefused)
	}
}

func TestACorrectionKeepsBothAndUnlocksNothingNew(t *testing.T) {
	fever := func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.Fever(t, s, id) }
	d, deps, id := open(t, wide(), 6, handedOff, decided, fever)
	assert.True(t, d.Reads("It unlocks nothing new. A new order from"))
	assert.True(t, d.Shows("Vaccine A"), "what stands is filled in")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("say why it is corrected"))
	d.Type("the name was wrong")
	d.Press("up", "up", "up", "up", "up", "up", "up", "up", "up", "up", "up", "up", "up", "up", "ctrl+u")
	d.Type("Dr Quist")
	d.Press("ctrl+s")
	require.True(t, d.Left(), d.View())
	v := visit(t, deps, id)
	require.Len(t, v.Decisions, 2)
	assert.True(t, v.Decisions[0].Corrected)
	assert.Equal(t, "Dr Quist", v.Decisions[1].Vet)
	assert.Equal(t, v.Decisions[0].Covers, v.Decisions[1].Covers)
	entries, err := deps.Store.Entries(id)
	require.NoError(t, err)
	last := entries[len(entries)-1]
	assert.Equal(t, 6, last.Corrects)
	assert.Equal(t, "the name was wrong", last.Reason)
	seen, err := deps.Read(id)
	require.NoError(t, err)
	err = authorization.CheckProcedure(seen.Visit, seen.Verdict.Remarks, exam.Procedure{Kind: exam.Drawing, At: screentest.Now()})
	require.ErrorIs(t, err, exam.ErrRefused, "the new finding still locks")
}

func TestAnEndThatIsOverStaysInACorrection(t *testing.T) {
	until := screentest.Now().Add(-time.Minute)
	ended := func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryDecision, Recheck: &exam.RecheckLine{On: "2026-03-01", What: "neck"}, Decision: &exam.Decision{
			Words: "now", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Blood()}, Until: &until,
		}})
	}
	d, deps, id := open(t, wide(), 5, ended)
	d.Press("ctrl+s")
	d.Type("a slip")
	d.Press("ctrl+s")
	require.True(t, d.Left(), d.View())
	v := visit(t, deps, id)
	assert.Equal(t, until, *v.Decisions[1].Until)
	require.Len(t, v.Rechecks, 1, "the recheck goes with its decision")
	assert.Equal(t, v.Decisions[1].Seq, v.Rechecks[0].Seq)
}

func TestLeavingWithWordsIsAskedOnce(t *testing.T) {
	d, _, _ := open(t, wide(), 0, handedOff)
	d.Type("give")
	d.Press("esc")
	assert.False(t, d.Left())
	assert.True(t, d.Shows("Not saved yet. esc again leaves; what was"))
	d.Press("esc")
	assert.True(t, d.Left())
}

func TestARefusedWriteKeepsWhatWasTyped(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	d := screentest.New(t, deps, decision.New, nav.Address{Visit: id}, wide())
	d.Type("Dr Vale")
	d.Press("enter", "enter")
	d.Type("wait for me")
	store.FailWith(assert.AnError)
	d.Press("ctrl+s")
	assert.True(t, d.Shows("wait for me"))
	store.FailWith(nil)
	d.Press("ctrl+s")
	assert.True(t, d.Left())
}

func TestAfterClosingItIsAddedLaterAndHoldsForTheDay(t *testing.T) {
	d, deps, id := open(t, wide(), 0, handedOff, func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryClosed})
	})
	assert.True(t, d.Reads("What it covers can be done in this visit today"), d.View())
	d.Type("go ahead")
	d.Press("enter", "1", "enter")
	d.Type("Vaccine A")
	d.Press("ctrl+s")
	d.Type("1 dose")
	d.Press("ctrl+s")
	d.Type("she rang back at night")
	d.Press("ctrl+s")
	entries, err := deps.Store.Entries(id)
	require.NoError(t, err)
	last := entries[len(entries)-1]
	assert.Equal(t, exam.EntryAdded, last.Kind)
	assert.Equal(t, &exam.Amendment{Why: "she rang back at night"}, last.Amend)
	p := exam.Procedure{Kind: exam.Injecting, Product: "Vaccine A", At: screentest.Now()}
	require.NoError(t, authorization.CheckProcedure(visit(t, deps, id), nil, p))
	p.At = p.At.Add(20 * time.Hour) // the decision still holds, the day is over
	require.ErrorIs(t, authorization.CheckProcedure(visit(t, deps, id), nil, p), exam.ErrRefused)
	deps.Now = func() time.Time { return p.At }
	d = screentest.New(t, deps, decision.New, nav.Address{Screen: nav.Decision, Visit: id}, wide())
	assert.True(t, d.Reads("The visit is closed; this is added later"), d.View())
}

func TestGoldenDecision(t *testing.T) {
	screentest.Goldens(t, "decision", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, 0, handedOff)
		d.Type("Give Vaccine A in the neck, one dose.")
		d.Press("enter", "1", "enter")
		d.Type("Vaccine A")
		return d
	})
	screentest.Goldens(t, "decision-correct", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, 6, handedOff, decided)
		return d
	})
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			screentest.Yard(t, store)
			id := screentest.Open(t, store).ID
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
				Words: text, Vet: text, How: exam.Means(text), Ruling: exam.Ruling(text), Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: text, Dose: text}},
			}})
			d := screentest.New(t, deps, decision.New, nav.Address{Visit: id, Number: 5}, size)
			d.Press("down", "down", "ctrl+u")
			d.Paste(text)
			for range 12 {
				d.Press("down")
			}
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, wide(), 0, handedOff)
	for b.Loop() {
		d.Screen().View(layout.Size{W: 200, H: 60})
	}
}
