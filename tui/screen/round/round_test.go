package round_test

import (
	"errors"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/round"
	"loosebox/tui/screentest"
)

const today = "2026-03-02" // of screentest.Now

// yard is the yard with a recheck for Thistle, who had a fever with a cough, and
// with Pip picked; Bracken's exam of today is open.
func yard(t testing.TB, s exam.Store) map[string]exam.Horse {
	t.Helper()
	horses := screentest.Yard(t, s)
	v := screentest.Visit(t, s, horses["Thistle"], screentest.Now().AddDate(0, 0, -3), 39.6, 44)
	for _, e := range []exam.Entry{
		{Kind: exam.EntryFinding, Step: "cough", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"fits"}}},
		{Kind: exam.EntryNote, Note: "x", Recheck: &exam.RecheckLine{On: today, What: "temperature"}},
		{Kind: exam.EntryClosed},
	} {
		e.Visit, e.By, e.At = v.ID, "Ann Bell", v.OpenedAt.Add(time.Hour)
		_, err := s.Append(e)
		require.NoError(t, err)
	}
	require.NoError(t, s.AddToRound(exam.RoundLine{Day: today, At: screentest.Now(), By: "Ann Bell", Horse: horses["Pip"].ID, Act: exam.RoundPicked, Words: "does it suck?"}))
	return horses
}

func open(t testing.TB, size layout.Size) (*screentest.Driver, *examtest.Store, map[string]exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := yard(t, store)
	return screentest.New(t, deps, round.New, nav.Address{Screen: nav.Round}, size), store, horses
}

func written(t testing.TB, s exam.Store) []exam.RoundLine {
	t.Helper()
	lines, err := s.RoundLines("2026-01-01", "2026-12-31")
	require.NoError(t, err)
	return lines
}

func last(t testing.TB, s exam.Store) exam.RoundLine {
	t.Helper()
	lines := written(t, s)
	l := lines[len(lines)-1]
	l.Seq, l.At = 0, time.Time{}
	return l
}

func TestRoundIsDrawnInEverySize(t *testing.T) {
	for name, keys := range map[string][]string{
		"round": nil, "round-last": {"end"}, "round-order": {"s"}, "round-hand-over": {"m", "3"}, "round-pick": {"/"},
	} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			d, _, _ := open(t, size)
			d.Press(keys...)
			return d
		})
	}
	screentest.Goldens(t, "round-empty", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _ := screentest.Deps(t)
		return screentest.New(t, deps, round.New, nav.Address{}, size)
	})
}

func TestTheRoundSaysWhoInWhichOrderAndWhy(t *testing.T) {
	d, _, horses := open(t, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Round of 2 Mar 2026, today"))
	assert.True(t, d.Shows("0 of 3 done"))
	assert.True(t, d.Shows("first: under a month"))
	assert.Contains(t, d.Row("> "), "- waiting      Pip") // the cursor is on the first horse
	assert.True(t, d.Reads("why: picked by Ann Bell: does it suck?"))
	assert.True(t, d.Reads("its order: 2 days old: the very young before all others"))
	d.Press("down", "down")
	assert.True(t, d.Reads("why: follow-up due 2 Mar 2026: temperature"))
	assert.True(t, d.Reads("fever 39.6 C on 27 Feb 2026, with cough on 27 Feb 2026: last, hands off, gloves"))
	assert.True(t, d.Shows("▴ kicks, bites"))
	d.Press("s")
	assert.True(t, d.Reads("healthy first, sick last"))
	d.Press("esc", "enter")
	assert.Equal(t, nav.Address{Screen: nav.Horse, Horse: horses["Thistle"].ID}, d.Last())
	d.Press("esc", "b")
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: horses["Thistle"].ID}, d.Last())
	d.Press("esc", "up", "b")
	assert.Equal(t, nav.Exam, d.Last().Screen, "Bracken's exam is open")
	assert.NotEmpty(t, d.Last().Visit)
}

func TestAHorseIsPicked(t *testing.T) {
	d, store, horses := open(t, layout.Size{W: 80, H: 24})
	d.Press("/")
	d.Type("orch")
	assert.True(t, d.Shows("Barley"))
	assert.False(t, d.Shows("Thistle"))
	d.Press("enter")
	d.Type("owner rang?")
	assert.Empty(t, d.Opened(), "letters are text")
	d.Press("enter")
	assert.Equal(t, exam.RoundLine{Day: today, By: "Ann Bell", Horse: horses["Barley"].ID, Act: exam.RoundPicked, Words: "owner rang?"}, last(t, store))
	assert.Contains(t, d.Row("> "), "Barley", "the cursor is on it")
	assert.True(t, d.Shows("0 of 4 done"))
	d.Press("/")
	assert.Contains(t, d.Row("Barley"), "on the round, waiting")
	d.Press("esc")
	assert.False(t, d.Left(), "esc closes the search")
}

func TestLeftOutSeenAndPutBack(t *testing.T) {
	d, store, horses := open(t, layout.Size{W: 80, H: 24})
	d.Press("end", "x")
	d.Type("with the farrier")
	d.Press("enter")
	assert.Equal(t, exam.RoundLine{Day: today, By: "Ann Bell", Horse: horses["Thistle"].ID, Act: exam.RoundLeftOut, Words: "with the farrier"}, last(t, store))
	assert.Contains(t, d.Row("> "), "skipped")
	assert.True(t, d.Reads("skipped by Ann Bell: with the farrier"))
	assert.True(t, d.Shows("0 of 2 done"))
	d.Press("x")
	assert.Equal(t, exam.RoundBack, last(t, store).Act)
	assert.Contains(t, d.Row("> "), "waiting")
	d.Press("f", "enter")
	assert.Equal(t, exam.RoundSeen, last(t, store).Act, "words may stay empty")
	assert.Contains(t, d.Row("> "), "✓ done 11:05")
	assert.True(t, d.Shows("1 of 3 done"))
	writes := len(written(t, store))
	d.Press("f", "esc")
	assert.Len(t, written(t, store), writes, "esc writes nothing")
}

func TestHandedOverToAPersonNeedsWords(t *testing.T) {
	d, store, horses := open(t, layout.Size{W: 80, H: 24})
	d.Press("m", "3", "enter")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type who takes over"))
	d.Type("Bo Lind")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type what the other person needs to know"))
	d.Type("weigh it at six")
	d.Press("enter", "enter")
	assert.Equal(t, exam.RoundLine{Day: today, By: "Ann Bell", Horse: horses["Pip"].ID, Act: exam.RoundHanded, To: "Bo Lind", Words: "weigh it at six"}, last(t, store))
	assert.Contains(t, d.Row("> "), "reassigned")
	assert.True(t, d.Shows("0 of 2 done, 1 reassigned"))
}

func TestAllThatAreLeftAreCarriedOver(t *testing.T) {
	d, store, _ := open(t, layout.Size{W: 80, H: 24})
	before := len(written(t, store))
	d.Press("a")
	assert.True(t, d.Shows("Reassign: all 3 to do"))
	d.Press("ctrl+s")
	lines := written(t, store)
	require.Len(t, lines, before+3)
	assert.Equal(t, "2026-03-03", last(t, store).OnDay)
	assert.True(t, d.Shows("0 of 0 done, 3 reassigned"))
	d.Press("right")
	assert.True(t, d.Shows("Round of 3 Mar 2026"))
	assert.True(t, d.Shows("0 of 3 done"), "they stand on the round of that day")
	assert.True(t, d.Reads("moved from 2 Mar 2026 by Ann Bell"))
	d.Press("f")
	assert.False(t, d.Shows("Seen without"), "nobody is seen before the day")
	d.Press("m", "2", "enter")
	d.Type("2026-03-03")
	d.Press("ctrl+s")
	assert.True(t, d.Shows("choose a later day"))
	d.Press("esc", "left", "left")
	assert.True(t, d.Shows("Round of 1 Mar 2026"))
	d.Press("/", "x", "m", "o", "a")
	assert.False(t, d.Shows("pick a horse"), "a day that is over is only read")
}

func TestTheTurnIsDecidedInWords(t *testing.T) {
	d, store, horses := open(t, layout.Size{W: 80, H: 24})
	d.Press("end", "o", "ctrl+s")
	assert.True(t, d.Shows("type why, and on whose word"))
	d.Type("Dr Moss: not catching")
	d.Press("ctrl+s")
	assert.Equal(t, exam.RoundLine{Day: today, By: "Ann Bell", Horse: horses["Thistle"].ID, Act: exam.RoundTurn, Turn: exam.TurnOrdinary, Words: "Dr Moss: not catching"}, last(t, store))
	assert.False(t, d.Shows("last: fever and a sign that may be contagious"))
	assert.True(t, d.Reads("put back in order by Ann Bell on 2 Mar 2026: Dr Moss: not catching (the record has: fever"))
	d.Press("o", "3", "ctrl+s")
	assert.Equal(t, exam.TurnByRecord, last(t, store).Turn)
	assert.True(t, d.Shows("last: fever and a sign that may be contagious"))
}

func TestADiskThatRefusesLosesNothing(t *testing.T) {
	d, store, _ := open(t, layout.Size{W: 80, H: 24})
	d.Press("f")
	d.Type("bright")
	store.FailWith(errors.New("the disk is full"))
	d.Press("enter")
	assert.True(t, d.Reads("NOT saved; what you typed is still here: the disk is full"))
	assert.True(t, d.Shows("bright"))
	store.FailWith(nil)
	d.Press("enter")
	assert.Equal(t, "bright", last(t, store).Words)
}

func TestANamelessMachineIsToldWhereToWriteTheName(t *testing.T) {
	deps, store := screentest.Deps(t)
	yard(t, store)
	deps.Settings.Person = ""
	d := screentest.New(t, deps, round.New, nav.Address{}, layout.Size{W: 80, H: 24})
	before := store.Writes()
	for _, key := range []string{"x", "f", "m", "o", "a"} {
		d.Press(key)
		assert.True(t, d.Reads("set your name in the settings first (g on"), key)
	}
	assert.Equal(t, before, store.Writes())
}

// During a write no key does anything, and the answer to another screen changes nothing.
func TestOneWriteAtATime(t *testing.T) {
	deps, store := screentest.Deps(t)
	yard(t, store)
	one, two := round.New(deps, nav.Address{}), round.New(deps, nav.Address{})
	one.Update(one.Init()())
	two.Update(two.Init()())
	press := func(name string) func() any {
		cmd := one.Update(screentest.Press1(name, screentest.Now()))
		if cmd == nil {
			return nil
		}
		return func() any { return cmd() }
	}
	press("f")
	write := press("enter")
	require.NotNil(t, write)
	assert.Equal(t, "saving ..", one.Right())
	assert.Nil(t, press("x"))
	assert.True(t, one.(nav.Saver).Saving())
	m := write()
	two.Update(m)
	assert.Equal(t, "0 of 3 done", two.Right())
	one.Update(m)
	assert.Equal(t, "1 of 3 done", one.Right())
}

// A round that was read before a line was written does not hide that line.
func TestAnOldReadingDoesNotHideWhatWasWritten(t *testing.T) {
	deps, store := screentest.Deps(t)
	yard(t, store)
	s := round.New(deps, nav.Address{})
	s.Update(s.Init()())
	press := func(name string) tea.Cmd { return s.Update(screentest.Press1(name, screentest.Now())) }
	late := s.Update(nav.ShownMsg{})() // read now, told later
	press("f")
	s.Update(press("enter")())
	assert.Equal(t, "1 of 3 done", s.Right())
	again := s.Update(late)
	assert.Equal(t, "1 of 3 done", s.Right())
	require.NotNil(t, again, "it is read once more")
	s.Update(again())
	assert.Equal(t, "1 of 3 done", s.Right())
}

// The clock goes past midnight while the program stays open.
func TestMidnight(t *testing.T) {
	deps, store := screentest.Deps(t)
	yard(t, store)
	now := screentest.Now()
	deps.Now = func() time.Time { return now }
	d := screentest.New(t, deps, round.New, nav.Address{}, layout.Size{W: 80, H: 24})
	before := store.Writes()
	d.Press("f")
	now = now.Add(13 * time.Hour)
	d.Press("enter")
	assert.True(t, d.Reads("midnight has passed: this is yesterday's"))
	assert.Equal(t, before, store.Writes())
	assert.False(t, d.Shows(", today"))
	d.Press("x")
	assert.False(t, d.Shows("Not today"), "yesterday is only read")
	d.Press("right")
	assert.True(t, d.Shows("Round of 3 Mar 2026, today"))
	d.Press("enter")
	now = now.Add(24 * time.Hour)
	d.Press("esc")
	assert.True(t, d.Shows("Round of 4 Mar 2026, today"), "shown again on the next day")
}

func TestARecordThatCannotBeReadIsSaid(t *testing.T) {
	d, store, _ := open(t, layout.Size{W: 80, H: 24})
	store.FailWith(errors.New("torn"))
	d.Press("right")
	assert.True(t, d.Reads("cannot be read; nothing was changed: torn"), d.View())
	d.Press("enter", "b", "x", "f", "m", "o", "a", "/", "down")
	assert.Empty(t, d.Opened())
	store.FailWith(nil)
	d.Press("left")
	assert.True(t, d.Shows("Round of 2 Mar 2026, today"))
	assert.True(t, d.Shows("0 of 3 done"))
}

func TestHostileText(t *testing.T) {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			deps.Schedule = func() (*due.Table, string, error) { return table, "", nil }
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Place: text, Owner: text, OwnerPhone: text, Cautions: []string{text, "isolated"}}, text, screentest.Now())
			require.NoError(t, err)
			require.NoError(t, store.AddToRound(exam.RoundLine{Day: today, At: screentest.Now(), By: text + "x", Horse: h.ID, Act: exam.RoundPicked, Words: text}))
			d := screentest.New(t, deps, round.New, nav.Address{}, size)
			d.Squeeze()
			d.Press("down", "s", "esc", "/", "esc", "o", "esc", "m", "3", "enter")
			d.Paste(text)
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, layout.Size{W: 80, H: 24})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

// A horse with danger signs that nobody told stands first, and its signs are named under the cursor.
func TestHorsesToTellOfStandFirstWithTheirSigns(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := yard(t, store)
	v := screentest.Visit(t, store, horses["Barley"], screentest.Now().Add(-time.Hour), 37.2, 44)
	_, err := store.Append(exam.Entry{Kind: exam.EntryFinding, Visit: v.ID, By: "Ann Bell", At: v.OpenedAt, Step: "demeanour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"dull"}}})
	require.NoError(t, err)
	rook := horses["Bracken"]
	rook.ID, rook.Name, rook.Revision = "", "Rook", 1
	rook, err = store.SaveHorse(rook, "Ann Bell", screentest.Now())
	require.NoError(t, err)
	v = screentest.Visit(t, store, rook, screentest.Now().Add(-time.Hour), 37.8, 66)
	_, err = store.Append(exam.Entry{Kind: exam.EntryFinding, Visit: v.ID, By: "Ann Bell", At: v.OpenedAt, Step: "pain.signs", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"rolls"}}})
	require.NoError(t, err)
	d := screentest.New(t, deps, round.New, nav.Address{Screen: nav.Round}, layout.Size{W: 80, H: 24})
	assert.Regexp(t, "(?s)first of all: tell the vet.*Barley.*Rook.*first: under a month.*Pip", d.View())
	assert.True(t, d.Reads("A donkey that is dull or off its feed comes first"))
	d.Press("down")
	assert.True(t, d.Reads("Danger signs from published studies of colic: 2 of 4 seen, 2 not checked; seen: heart 60 or more, severe or constant pain; not checked: abnormal gum color, no gut sound in a quadrant"), d.View())
}
