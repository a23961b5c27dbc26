package after_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/after"
	"loosebox/tui/screentest"
)

// hub opens the hub of Bracken's open visit after something was written into it.
func hub(t testing.TB, size layout.Size, first ...func(testing.TB, exam.Store, exam.VisitID)) (*screentest.Driver, *examtest.Store, exam.Visit) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	for _, write := range first {
		write(t, store, v.ID)
	}
	return screentest.New(t, deps, after.New, nav.Address{Visit: v.ID}, size), store, v
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func handedOff(t testing.TB, s exam.Store, id exam.VisitID) { screentest.HandOff(t, s, id) }

func decided(t testing.TB, s exam.Store, id exam.VisitID) {
	screentest.Rule(t, s, id, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
}

// to moves the cursor to the line that holds a text.
func to(t *testing.T, d *screentest.Driver, text string) {
	t.Helper()
	d.Press("home")
	for range 40 {
		for _, line := range d.Lines() {
			if strings.HasPrefix(line, ">") && strings.Contains(line, text) {
				return
			}
		}
		d.Press("down")
	}
	require.Fail(t, "no line holds "+text, d.View())
}

func here(d *screentest.Driver) string { return d.Row("> ") }

func TestEveryLineLeadsToItsScreen(t *testing.T) {
	d, _, v := hub(t, wide(), handedOff, decided)
	address := func(name nav.Name, number int) nav.Address {
		return nav.Address{Screen: name, Horse: v.Horse.ID, Visit: v.ID, Number: number}
	}
	given := address(nav.Injection, 0)
	given.Procedure = screentest.Vaccine() // what the line says, and not the first of all that is decided
	for text, want := range map[string]nav.Address{
		"handed off": address(nav.HandOff, 0), "go ahead, Dr Vale": address(nav.Decision, 6), "save a decision of the veterinarian": address(nav.Decision, 0),
		"give Vaccine A": given, "draw blood": address(nav.Draw, 0), "save a past dose": address(nav.Dose, 0),
		"due by the schedule": address(nav.Due, 0), "close the visit": {Screen: nav.Review, Visit: v.ID, Finish: true},
	} {
		to(t, d, text)
		d.Press("enter")
		assert.Equal(t, want, d.Last(), text)
		d.Press("esc")
	}
	d.Press("r")
	assert.Equal(t, nav.Address{Screen: nav.Review, Visit: v.ID}, d.Last())
}

// Whatever locks a procedure, the hub says so in words and opens nothing.
func TestLockedPathsSayWhy(t *testing.T) {
	fever := func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.Fever(t, s, id) }
	ruling := func(r exam.Ruling) func(testing.TB, exam.Store, exam.VisitID) {
		return func(t testing.TB, s exam.Store, id exam.VisitID) {
			screentest.Rule(t, s, id, r, screentest.Vaccine())
		}
	}
	other := func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Rule(t, s, id, exam.GoAhead, screentest.Vaccine())
	}
	closed := func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryClosed})
	}
	ended := func(t testing.TB, s exam.Store, id exam.VisitID) {
		until := screentest.Now().Add(-time.Minute)
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
			Words: "now", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Vaccine(), screentest.Blood()}, Until: &until,
		}})
	}
	setBack := func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryDecision, At: screentest.Now().Add(2 * time.Hour), Decision: &exam.Decision{
			Words: "now", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Vaccine(), screentest.Blood()},
		}})
	}
	type writes = []func(testing.TB, exam.Store, exam.VisitID)
	for name, c := range map[string]struct {
		first      writes
		line, says string
	}{
		"nothing decided":        {nil, "an injection", "The veterinarian has not decided yet. Hand off, then save the decision"},
		"no draw decided":        {writes{other}, "draw blood", "No decision covers a blood draw. Decided so far: go ahead for injection of Vaccine A, IM."},
		"wait":                   {writes{ruling(exam.Wait)}, "give Vaccine A", "Dr Vale said wait"},
		"stop":                   {writes{decided, ruling(exam.Stop)}, "give Vaccine A", "Dr Vale said stop"},
		"a new finding":          {writes{handedOff, decided, fever}, "give Vaccine A", "something new for the veterinarian: 40.2 C"},
		"a new finding, draw":    {writes{handedOff, decided, fever}, "draw blood", "something new for the veterinarian: 40.2 C"},
		"the decision ended":     {writes{ended}, "draw blood", "was valid until 2 Mar 2026 11:04"},
		"the clock was set back": {writes{setBack}, "give Vaccine A", "the clock was set back"},
		"closed":                 {writes{decided, closed}, "give Vaccine A", "The visit is closed"},
		"a needle is in":         {writes{decided, func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.NeedleIn(t, s, id) }}, "draw blood", "is recorded as inserted, not as removed"},
	} {
		for _, size := range screentest.Sizes() {
			d, store, v := hub(t, size, c.first...)
			before, err := store.Visit(v.ID)
			require.NoError(t, err)
			to(t, d, c.line)
			assert.Contains(t, here(d), "locked", name)
			assert.True(t, d.Reads(c.says), "%s: %s", name, d.View())
			d.Press("enter")
			assert.Empty(t, d.Opened(), name)
			assert.True(t, d.Reads("Locked"), name)
			after, err := store.Visit(v.ID)
			require.NoError(t, err)
			assert.Equal(t, before.Entries, after.Entries, "%s; nothing was saved", name)
		}
	}
}

func TestTheHubLeadsOn(t *testing.T) {
	d, store, v := hub(t, wide())
	assert.Contains(t, here(d), "not handed off yet")
	d.Press("enter")
	require.Equal(t, nav.HandOff, d.Last().Screen)
	screentest.HandOff(t, store, v.ID)
	d.Press("esc")
	assert.Contains(t, here(d), "save a decision of the veterinarian", "after the hand-off the decision is next")
	d.Press("enter")
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	d.Press("esc")
	assert.Contains(t, here(d), "give Vaccine A", "a decision unlocks")
	assert.Contains(t, here(d), "to do")
	screentest.Fever(t, store, v.ID)
	d.Press("r", "esc")
	assert.Contains(t, here(d), "handed off", "a new finding leads to the hand-off again")
	assert.True(t, d.Reads("new since then: 40.2 C"))
	to(t, d, "give Vaccine A")
	assert.Contains(t, here(d), "locked")
}

func TestANeedleOfWhichNothingIsSaidComesFirst(t *testing.T) {
	d, _, v := hub(t, wide(), decided, func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.NeedleIn(t, s, id) })
	assert.True(t, d.Reads("Needle inserted at 10:50 (injection of Vaccine A, neck triangle, left) and not recorded as removed. First record what happened: enter."))
	d.Press("enter")
	want := nav.Address{Screen: nav.Injection, Horse: v.Horse.ID, Visit: v.ID, Number: 1}
	assert.Equal(t, want, d.Last())
	d.Press("esc")
	to(t, d, "close the visit")
	assert.Contains(t, here(d), "locked")
	d.Press("enter")
	assert.Equal(t, want, d.Last(), "the way to what keeps it open")
}

// The cursor rests on the watch that is to do, and never on closing by itself.
func TestTheCursorNeverRestsOnClosing(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	screentest.Decide(t, store, id, screentest.Tetanus())
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr. R. Sommer"}})
	screentest.Given(t, store, id)
	d := screentest.New(t, deps, after.New, nav.Address{Screen: nav.After, Visit: id}, layout.Size{W: 80, H: 24})
	cursor := func() string {
		for _, l := range d.Lines() {
			if strings.HasPrefix(l, ">") {
				return l
			}
		}
		return ""
	}
	assert.Contains(t, cursor(), "after injection 1: not started", d.View())
	screentest.Write(t, store, id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchDeclined, Why: "the owner observes, and knows what to look for"}})
	d.Send(nav.ShownMsg{})
	assert.NotContains(t, cursor(), "close", d.View())
	assert.True(t, d.Reads("declined, the owner obser"), d.View())
}

func TestARecheckIsSetAndPutRight(t *testing.T) {
	d, store, v := hub(t, wide())
	to(t, d, "set a follow-up")
	d.Press("enter")
	d.Type("2026-02-01")
	d.Press("enter")
	assert.True(t, d.Shows("is not a day to come"))
	for range 10 {
		d.Press("backspace")
	}
	d.Type("2026-03-09")
	d.Press("enter")
	d.Type("look at the neck? r p")
	d.Press("enter", "enter")
	now, err := store.Visit(v.ID)
	require.NoError(t, err)
	require.Len(t, now.Rechecks, 1)
	assert.Equal(t, exam.RecheckLine{On: "2026-03-09", What: "look at the neck? r p"}, now.Rechecks[0].RecheckLine)

	to(t, d, "9 Mar 2026: look")
	d.Press("enter")
	assert.True(t, d.Shows("9 Mar 2026"), "what stands is shown in words, and read again")
	d.Press("ctrl+u")
	d.Type("8 Mar 2026")
	d.Press("ctrl+s")
	now, err = store.Visit(v.ID)
	require.NoError(t, err)
	require.Len(t, now.Rechecks, 1, "the old one is put right, and stays in the entries")
	assert.Equal(t, "2026-03-08", now.Rechecks[0].On)

	store.FailWith(assert.AnError)
	to(t, d, "set a follow-up")
	d.Press("enter")
	d.Type("2026-03-10")
	d.Press("enter")
	d.Type("weight")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("2026-03-10"), "what was typed stays")
	store.FailWith(nil)
	d.Press("ctrl+s")
	now, err = store.Visit(v.ID)
	require.NoError(t, err)
	assert.Len(t, now.Rechecks, 2)
}

func TestARecheckInAClosedVisitIsAddedLater(t *testing.T) {
	d, store, v := hub(t, wide(), func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryClosed})
	})
	to(t, d, "set a follow-up")
	d.Press("enter")
	d.Type("2026-03-09")
	d.Press("enter")
	d.Type("weight")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("the visit is closed: type why this is added"))
	d.Type("the owner rang")
	d.Press("ctrl+s")
	entries, err := store.Entries(v.ID)
	require.NoError(t, err)
	assert.Equal(t, exam.EntryAdded, entries[len(entries)-1].Kind)
}

func TestGoldenHub(t *testing.T) {
	for name, first := range map[string][]func(testing.TB, exam.Store, exam.VisitID){
		"after-begin":   nil,
		"after-decided": {handedOff, decided},
		"after-locked":  {handedOff, decided, func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.Fever(t, s, id) }},
		"after-needle":  {handedOff, decided, func(t testing.TB, s exam.Store, id exam.VisitID) { screentest.NeedleIn(t, s, id) }},
	} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			d, _, _ := hub(t, size, first...)
			return d
		})
	}
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			screentest.Yard(t, store)
			id := screentest.Open(t, store).ID
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: text, How: exam.Means(text), Asked: text}})
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDecision, Recheck: &exam.RecheckLine{On: text, What: text}, Decision: &exam.Decision{
				Words: text, Vet: text, How: exam.Means(text), Ruling: exam.Wait, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: text, Route: exam.Route(text), Dose: text}},
			}})
			d := screentest.New(t, deps, after.New, nav.Address{Visit: id}, size)
			for range 12 {
				d.Press("down")
			}
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := hub(b, wide(), handedOff, decided)
	for b.Loop() {
		d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

func TestForTheRecordIsOneKeyAway(t *testing.T) {
	d, _, _ := hub(t, wide(), decided)
	d.Press("n")
	assert.Equal(t, nav.Record, d.Last().Screen)
}
