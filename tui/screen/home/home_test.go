package home_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/home"
	"loosebox/tui/screentest"
)

func open(t *testing.T, size layout.Size) (*screentest.Driver, map[string]exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	return screentest.New(t, deps, home.New, nav.Address{Screen: nav.Home}, size), horses
}

func TestHomeIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "home", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		return d
	})
}

// TestDangerStandsBeforeTheAlphabet: a horse that the veterinarian has to be told of leads the list, with that word in place
// of its last visit, and goes back among the others once that is done.
func TestDangerStandsBeforeTheAlphabet(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v := screentest.Visit(t, store, horses["Thistle"], screentest.Now().Add(-time.Hour), 39.8, 72)
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	list := func() (names []string) {
		for i, line := range d.Lines() {
			if strings.Contains(line, "horse (4)") {
				for _, row := range d.Lines()[i+1 : i+5] {
					names = append(names, strings.Fields(strings.Trim(row, " >▴"))[0])
				}
			}
		}
		return names
	}
	assert.Equal(t, []string{"Thistle", "Barley", "Bracken", "Pip"}, list(), d.View())
	assert.Regexp(t, "Thistle .* tell the vet", strings.Join(d.Lines(), "\n"))
	screentest.HandOff(t, store, v.ID)
	d = screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.Equal(t, []string{"Barley", "Bracken", "Pip", "Thistle"}, list(), d.View())
}

// twoLaptops is a store in which visits are to be settled; one laptop alone has none.
type twoLaptops struct {
	exam.Store
	visits []exam.Visit
}

func (s twoLaptops) Unsettled() ([]exam.Visit, error) { return s.visits, nil }

// What two laptops wrote in two ways is said where everybody looks first.
func TestWhatIsToBeSettledIsSaid(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	for n, want := range map[int]string{0: "4 horses", 1: "1 to settle · 4 horses", 2: "2 to settle · 4 horses"} {
		visits := make([]exam.Visit, n)
		for i := range visits {
			visits[i].Injections = []exam.Injection{{Number: 1, Unaware: []int{2}}, {Number: 2, Unaware: []int{1}, Signed: exam.Signed{Seq: 4}}}
			visits[i].ID = exam.VisitID(fmt.Sprint(i))
		}
		deps.Store = twoLaptops{store, visits}
		d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
		assert.True(t, d.Shows(want), d.View())
		assert.Equal(t, n > 0, d.Shows("to settle"))
	}
}

// A clock that fell back a year is told before anybody examines by it.
func TestAClockThatIsBehindIsTold(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	for years, told := range map[int]bool{0: false, -1: true} {
		deps.Now = func() time.Time { return screentest.Now().AddDate(years, 0, 0) }
		d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
		assert.Equal(t, told, d.Shows("▴ The clock says 2 Mar 2025 11:05, but a visit is dated 2 Mar 2026"), d.View())
		d.Squeeze()
	}
}

func TestFirstRunSaysWhatTheProgramIsAndIsNot(t *testing.T) {
	screentest.Goldens(t, "home-first", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _ := screentest.Deps(t)
		deps.Demo, deps.Problem = true, "ranges.csv, line 7: the usual range is upside down; the built-in rows are used"
		return screentest.New(t, deps, home.New, nav.Address{}, size)
	})
}

func TestOpenVisitsComeFirstAndAreGoneOnWith(t *testing.T) {
	d, horses := open(t, layout.Size{W: 80, H: 24})
	assert.Contains(t, d.Row("go on with"), "go on with Bracken's exam, begun 09:40: 2 of ")
	d.Press("enter")
	assert.Equal(t, nav.Exam, d.Last().Screen)
	assert.NotEmpty(t, d.Last().Visit)
	d.Press("esc", "down", "enter") // Barley, the first horse by name
	assert.Equal(t, nav.Address{Screen: nav.Horse, Horse: horses["Barley"].ID}, d.Last())
	d.Press("esc", "b")
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: horses["Barley"].ID}, d.Last())
	d.Press("esc", "down", "b") // Bracken has an open visit
	assert.Equal(t, nav.Exam, d.Last().Screen)
	d.Press("esc", "n")
	assert.Equal(t, nav.Address{Screen: nav.NewForm}, d.Last())
	d.Press("esc", "g")
	assert.Equal(t, nav.Address{Screen: nav.Settings}, d.Last())
	d.Press("esc", "d")
	assert.Equal(t, nav.Address{Screen: nav.Due}, d.Last(), "of every horse")
}

// Today's round stands above the list: how far the day is and who comes next.
func TestTheNextHorsesOfTheRoundAreShown(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	for _, name := range []string{"Thistle", "Barley", "Pip"} {
		require.NoError(t, store.AddToRound(exam.RoundLine{Day: "2026-03-02", At: screentest.Now(), By: "Ann", Horse: horses[name].ID, Act: exam.RoundPicked, Words: "owner rang"}))
	}
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("today's round: 0 of 4 done; next"))
	assert.Contains(t, d.Lines()[3], "Pip              Mill Farm · picked by Ann: owner rang", "the very young first")
	assert.Contains(t, d.Lines()[4], "Thistle          Long Meadow", "place by place")
	assert.NotContains(t, d.Lines()[5], "Barley", "the list of horses keeps its room")
	d.Press("o")
	assert.Equal(t, nav.Address{Screen: nav.Round}, d.Last())
	require.NoError(t, store.AddToRound(exam.RoundLine{Day: "2026-03-02", At: screentest.Now(), By: "Ann", Horse: horses["Pip"].ID, Act: exam.RoundSeen}))
	d.Press("esc")
	assert.True(t, d.Shows("today's round: 1 of 4 done; next"), "read again when home is shown again")
	d.Press("/")
	assert.False(t, d.Shows("today's round"), "a search has the whole list")
	assert.True(t, d.Shows("esc every horse"), "the way out of the search is told")
	d.Press("x", "esc")
	assert.True(t, d.Shows("today's round"))
}

// A look of today at an hour stands on the first screen with its hour: of a horse
// whose exam is closed in the round, of an open one beside its exam. A narrow window
// does not cut it off.
func TestTheHourOfALookStandsOnTheFirstScreen(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		v := screentest.Open(t, store)
		hour := screentest.Now().Add(time.Hour)
		screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-02", Time: &hour, What: "heart rate"}})
		d := screentest.New(t, deps, home.New, nav.Address{}, size)
		assert.Contains(t, d.Row("go on with Bracken"), "follow-up 12:05", d.View())
		screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryClosed})
		d = screentest.New(t, deps, home.New, nav.Address{}, size)
		assert.Regexp(t, "at 12:05 +Bracken +heart rate", d.Row("Bracken "), d.View())
	}
}

func TestARefusedScheduleIsSaidOnTheFirstScreen(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	table, _, err := deps.Schedule()
	require.NoError(t, err)
	deps.Schedule = func() (*due.Table, string, error) { return table, "schedule.csv:3: soon is no span of time", nil }
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("x schedule.csv:3: soon is no span"))
	deps.Schedule = func() (*due.Table, string, error) { return nil, "", errors.New("torn") }
	d = screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Barley"), "the list of horses stands all the same")
}

func TestFindLooksAtNameOwnerPlaceAndChip(t *testing.T) {
	for text, want := range map[string]string{"thi": "Thistle", "duar": "Thistle", "ORCH": "Barley", "0010123": "Bracken", "mill pip": "Pip"} {
		d, horses := open(t, layout.Size{W: 80, H: 24})
		d.Press("/")
		d.Type(text)
		d.Press("enter")
		assert.Equal(t, nav.Address{Screen: nav.Horse, Horse: horses[want].ID}, d.Last(), text)
	}
}

func TestLettersAreTextWhileFindingAndEscClears(t *testing.T) {
	d, _ := open(t, layout.Size{W: 80, H: 24})
	d.Press("/")
	d.Type("nb?")
	d.Press("space", "windows space", "/")
	assert.Empty(t, d.Opened(), "no letter is a command")
	assert.True(t, d.Shows("find: nb?  /_"))
	assert.True(t, d.Shows("no horse has that"))
	d.Press("enter") // nothing is under the cursor
	assert.Empty(t, d.Opened())
	for range 10 {
		d.Press("backspace")
	}
	assert.True(t, d.Shows("find: _"))
	d.Paste("mill\x1b[2J farm")
	assert.True(t, d.Shows("find: mill farm_"))
	d.Press("esc")
	assert.False(t, d.Shows("find:"))
	assert.True(t, d.Shows("Barley"))
	d.Press("esc")
	assert.True(t, d.Left(), "the second esc is the frame's")
}

func TestListIsReadAgainWhenShownAgain(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	d.Press("end", "enter")
	_, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Adder", Kind: exam.AnimalPony}, "Ann", screentest.Now())
	require.NoError(t, err)
	d.Press("esc")
	assert.True(t, d.Shows("Adder"))
	assert.Contains(t, d.Row("> "), "Thistle", "the cursor stays on its horse")
	store.FailWith(errors.New("the disk went away"))
	d.Press("enter", "esc")
	assert.True(t, d.Shows("the list of horses cannot be read"), "of several that fail, always the same is said")
	assert.True(t, d.Shows("the disk went away"))
	assert.True(t, d.Shows("Adder"), "what was read stays in sight")
}

func TestHostileTextStaysInItsColumn(t *testing.T) {
	for i, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Owner: text, Place: text, Chip: text, Cautions: []string{text}}, text, screentest.Now())
			require.NoError(t, err)
			screentest.Visit(t, store, h, screentest.Now(), 38, 40)
			deps.Problem = text
			d := screentest.New(t, deps, home.New, nav.Address{}, size)
			d.Press("/")
			d.Type("x")
			d.Press("esc", "down")
			assert.NotContains(t, d.View(), "\x1b", "text %d", i)
			d.Squeeze()
		}
	}
}

func many(b *testing.B, horses, visits int) *screentest.Driver {
	b.Helper()
	deps, store := screentest.Deps(b)
	for i := range horses {
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: fmt.Sprintf("Horse %04d", i), Kind: exam.AnimalHorse, Owner: "A. Nyman", Place: "Long Meadow"}, "Ann", screentest.Now())
		require.NoError(b, err)
		for j := range visits / horses {
			_, err := store.Begin(exam.Entry{
				Kind: exam.EntryOpened, At: screentest.Now().AddDate(0, 0, -j), By: "Ann",
				Opening: &exam.Opening{Horse: h, Routine: "full-exam"},
			})
			require.NoError(b, err)
		}
	}
	return screentest.New(b, deps, home.New, nav.Address{}, layout.Size{W: 120, H: 40})
}

func BenchmarkViewOfAThousandHorses(b *testing.B) {
	d := many(b, 1000, 10000)
	size := layout.Size{W: 200, H: 60}
	b.ResetTimer()
	for b.Loop() {
		_ = d.Screen().View(size)
	}
}

func BenchmarkKeysOfASearch(b *testing.B) {
	for _, horses := range []int{1000, 100000} {
		b.Run(fmt.Sprintf("%d horses", horses), func(b *testing.B) {
			d := many(b, horses, 0)
			d.Press("/")
			letter, back := screentest.Press1("h", screentest.Now()), screentest.Press1("backspace", screentest.Now())
			b.ResetTimer()
			for b.Loop() {
				d.Screen().Update(letter)
				d.Screen().Update(back)
			}
		})
	}
}

func TestANeedleOfWhichNothingIsSaidStandsInTheList(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	screentest.NeedleIn(t, store, v.ID)
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("needle inserted 10:50: enter, and record what happened to Bracken"))
	small := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 60, H: 20})
	assert.Regexp(t, `needle inserted 10:50: enter, and record .* Bracken$`, strings.TrimRight(small.Row("> "), " "), "which horse it is stands whole")
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Exam, Horse: v.Horse.ID, Visit: v.ID}, d.Last(), "the exam asks what happened before it goes on")
}

// A needle of which nothing is said is the first line, under the cursor, however many exams were begun since; from the next
// day on its time has its day.
func TestANeedleStandsBeforeEveryExam(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v := screentest.Open(t, store)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	screentest.NeedleIn(t, store, v.ID)
	for _, name := range []string{"Thistle", "Pip", "Barley"} {
		colic(t, store, horses[name], "rolls")
	}
	first := func() string {
		d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
		return d.Row("> ")
	}
	assert.Contains(t, first(), "needle inserted 10:50: enter, and record what happened to Bracken")
	deps.Now = func() time.Time { return screentest.Now().AddDate(0, 0, 1) }
	assert.Contains(t, first(), "needle inserted 2 Mar 10:50: enter")
}

// After an injection an observation is started or declined: until then home says so, before everything but a needle, and enter
// leads there. The exam keeps its own line.
func TestAnObservationThatIsNotBegunStandsInTheList(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v := screentest.Open(t, store)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	screentest.NeedleIn(t, store, v.ID)
	shown := func() *screentest.Driver {
		return screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	}
	assert.False(t, shown().Shows("observation of"), "it may not have gone in")
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1}})
	colic(t, store, horses["Thistle"], "rolls")
	d := shown()
	assert.Contains(t, d.Row("> "), "observation of Bracken not started (Vaccine A, 10:50): enter")
	assert.True(t, d.Shows("go on with Bracken's exam"))
	small := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 60, H: 20})
	assert.Regexp(t, `observation of Bracken not started \(Vaccine A.*: enter$`, strings.TrimRight(small.Row("> "), " "), "what is to be pressed stands whole")
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Watch, Horse: v.Horse.ID, Visit: v.ID, Number: 1}, d.Last())
	d = shown()
	d.Press("b")
	assert.Equal(t, nav.Exam, d.Last().Screen)

	screentest.Fever(t, store, v.ID) // a horse that the veterinarian is told of stands before others, but not before a needle
	thistle, err := store.Unfinished()
	require.NoError(t, err)
	screentest.Rule(t, store, thistle[0].ID, exam.GoAhead, screentest.Vaccine())
	screentest.NeedleIn(t, store, thistle[0].ID)
	assert.Regexp(t, "(?s)needle inserted 10:50.*Thistle.*observation of Bracken not started", shown().View())

	there := *deps
	there.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	there.Desk.Store = there.Store
	assert.False(t, screentest.New(t, &there, home.New, nav.Address{}, layout.Size{W: 80, H: 24}).Shows("observation of"), "who has the visit begins it")

	deps.Now = func() time.Time { return screentest.Now().AddDate(0, 0, 1) }
	assert.True(t, shown().Shows("observation of Bracken not started (Vaccine A, 2 Mar 10:50)"))
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchDeclined, Why: "the owner stays"}})
	assert.False(t, shown().Shows("observation of"))
}

// Closing asks about an observation, and home asks no more; of what was ordered after closing it asks.
func TestAnObservationAfterClosing(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	shown := func() bool {
		return screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24}).Shows("observation of Bracken not started")
	}
	write := func(e exam.Entry) exam.Entry {
		e.Visit, e.By = v.ID, "Ann Bell"
		stored, err := deps.Write(e)
		require.NoError(t, err)
		return stored
	}
	give := func(number int, at time.Time, late string) {
		rule := write(exam.Entry{Kind: exam.EntryDecision, At: at, Reason: late, Decision: &exam.Decision{
			Words: "Give it.", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Tetanus()},
		}})
		order := screentest.Ordered()
		order.Decision = rule.Seq
		for _, l := range []exam.InjectionLine{
			{Number: number, Phase: exam.InjectionReady, Order: order},
			{Number: number, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}},
			{Number: number, Phase: exam.InjectionClear},
			{Number: number, Phase: exam.InjectionGiven, VolumeML: 1},
		} {
			write(exam.Entry{Kind: exam.EntryInjection, At: at, Injection: &l})
		}
	}
	give(1, screentest.Now().Add(-10*time.Minute), "")
	assert.True(t, shown())
	hour := screentest.Now().Add(time.Hour)
	write(exam.Entry{Kind: exam.EntryNote, At: screentest.Now().Add(-9 * time.Minute), Note: "again", Recheck: &exam.RecheckLine{On: "2026-03-02", What: "heart rate", Time: &hour}})
	write(exam.Entry{Kind: exam.EntryClosed, At: screentest.Now().Add(-9 * time.Minute)})
	assert.False(t, shown(), "closing asked")
	give(2, screentest.Now().Add(-5*time.Minute), "ordered on the way home")
	assert.True(t, shown())
	assert.True(t, screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24}).Shows("at 12:05    Bracken"), "its follow-up stays")
}

// What was saved in another time zone stands on the home screen by the clock of this one, with the day of this one.
func TestTimesAreThoseOfTheClockNow(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	shown := func(hours int) *screentest.Driver {
		deps.Now = func() time.Time { return screentest.Now().In(time.FixedZone("", hours*3600)) }
		return screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	}
	opened := v.OpenedAt.UTC()
	assert.Contains(t, shown(-5).Row("exam, begun"), "begun "+opened.Add(-5*time.Hour).Format("15:04"))
	assert.Contains(t, shown(-12).Row("exam, begun"), "begun "+opened.Add(-12*time.Hour).Format("15:04"), "begun today, though the day of then was another")
	screentest.NeedleIn(t, store, v.ID)
	assert.Contains(t, shown(-5).Row("> "), "needle inserted 05:50: enter")
	assert.Contains(t, shown(14).Row("> "), "needle inserted 00:50: enter", "and it is the 3rd of March here")
}

// Two horses of one name with open exams are two lines that say which is which.
func TestTwoOpenExamsOfOneNameAreTold(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	namesake := horses["Thistle"]
	namesake.Name, namesake.Revision = "Bracken", namesake.Revision+1
	_, err := store.SaveHorse(namesake, "Ann Bell", screentest.Now())
	require.NoError(t, err)
	namesake, err = store.Horse(namesake.ID)
	require.NoError(t, err)
	colic(t, store, namesake, "rolls")
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("go on with Bracken's exam (horse, 8 years)"), d.View())
	assert.True(t, d.Shows("go on with Bracken's exam (pony, about 13 years)"), d.View())
}

// colic begins a visit for colic: the level is tell the vet, and nobody told it.
func colic(t *testing.T, s exam.Store, h exam.Horse, words ...string) exam.Visit {
	t.Helper()
	v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now().Add(-time.Hour), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "full-exam", Reason: "colic"}})
	require.NoError(t, err)
	for _, e := range []exam.Entry{
		{Step: "heart.rate", Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 66, Unit: notation.PerMinute}}},
		{Step: "pain.signs", Value: &exam.Value{Kind: exam.KindPick, Words: words}},
	} {
		e.Kind, e.Visit, e.By, e.At = exam.EntryFinding, v.ID, "Ann Bell", v.OpenedAt.Add(time.Minute)
		_, err := s.Append(e)
		require.NoError(t, err)
	}
	return v
}

func urgentHome(t *testing.T, size layout.Size) (*screentest.Driver, [2]exam.Visit) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	deps.Schedule = func() (*due.Table, string, error) {
		table, err := due.BuiltIn()
		return table, "", err
	}
	rook := horses["Thistle"]
	rook.ID, rook.Name, rook.Revision = "", "Rook", 1
	rook, err := store.SaveHorse(rook, "Ann Bell", screentest.Now())
	require.NoError(t, err)
	visits := [2]exam.Visit{colic(t, store, rook, "rolls"), colic(t, store, horses["Thistle"], "flank")}
	return screentest.New(t, deps, home.New, nav.Address{Screen: nav.Home}, size), visits
}

func TestHomeWithHorsesToTellOfIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "home-urgent", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := urgentHome(t, size)
		return d
	})
}

// The horse with more danger signs stands first, here and among the visits that are not finished; the cursor stays on the
// row on which it was when the order is known.
func TestHorsesToTellOfStandFirst(t *testing.T) {
	d, visits := urgentHome(t, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("tell the vet"))
	assert.True(t, d.Shows("Danger signs from published studies of colic: 2 of 4 seen, 2 not checked"))
	assert.True(t, d.Shows("Danger signs from published studies of colic: 1 of 4 seen, 2 not checked"))
	assert.Regexp(t, "(?s)2 of 4 seen.*1 of 4 seen.*go on with Rook's.*go on with Thistle's.*go on with Bracken's", d.View())
	d.Press("home", "enter")
	assert.Equal(t, visits[0].ID, d.Last().Visit)
}

// Count and calculators are one key away; c sets the last two visits of the horse under
// the cursor side by side, and says why where there are none.
func TestWhatIsOneKeyAway(t *testing.T) {
	d, horses := open(t, layout.Size{W: 80, H: 24})
	d.Press("q")
	assert.Equal(t, nav.Address{Screen: nav.Tally, Heard: "heart"}, d.Last())
	d.Press("esc", "=")
	assert.Equal(t, nav.Address{Screen: nav.Sums}, d.Last())
	d.Press("esc", "c") // the open visit of Bracken
	assert.Equal(t, nav.Address{Screen: nav.Compare, Horse: horses["Bracken"].ID, Last: 2}, d.Last())
	d.Press("esc", "l")
	assert.True(t, d.Reads("Not now: its exam is not finished: go on with that."), d.View())
	d.Press("end", "c")
	assert.Equal(t, nav.Compare, d.Last().Screen)
	n := len(d.Opened())
	d.Press("esc", "/")
	d.Type("thi")
	d.Press("c")
	assert.Len(t, d.Opened(), n, "a letter of the search")
}

// checked closes a visit of Bracken that is looked at again at 12:05 and puts up home at
// that time and another; later is what the clock was asked for.
type checked struct {
	*screentest.Driver
	deps  *nav.Deps
	horse exam.Horse
	now   time.Time
	rings int
	later []tea.Msg
}

func withCheck(t *testing.T, size layout.Size, now time.Duration) *checked {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	hour := screentest.Now().Add(time.Hour)
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-02", Time: &hour, What: "five-minute check"}})
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryClosed})
	c := &checked{deps: deps, horse: v.Horse, now: screentest.Now().Add(now)}
	deps.Now = func() time.Time { return c.now }
	deps.Bell = func() tea.Msg { c.rings++; return nil }
	deps.After = func(_ time.Duration, msg tea.Msg) tea.Cmd {
		c.later = append(c.later, msg)
		return nil
	}
	c.Driver = screentest.New(t, deps, home.New, nav.Address{}, size)
	return c
}

// A check that is due stands first with its sign, and enter begins it.
func TestACheckThatIsDueStandsFirst(t *testing.T) {
	screentest.Goldens(t, "home-check", func(t *testing.T, size layout.Size) *screentest.Driver {
		return withCheck(t, size, 64*time.Minute).Driver
	})
	c := withCheck(t, layout.Size{W: 80, H: 24}, 64*time.Minute)
	assert.Contains(t, c.Row("DUE"), "[DUE 12:05] Bracken        five-minute check, 4 min late", c.View())
	c.Press("home", "enter")
	assert.Equal(t, nav.Address{Screen: nav.Again, Horse: c.horse.ID}, c.Last())
	c.Press("esc", "end", "l")
	assert.Equal(t, nav.Again, c.Last().Screen, "of any horse")
	assert.NotEqual(t, c.horse.ID, c.Last().Horse)
	c.Press("esc", "ctrl+e")
	assert.Equal(t, nav.Episode, c.Last().Screen)
}

// The bell rings once when the hour comes, whatever is on the screen, and the cursor stays
// on its horse.
func TestTheBellRingsWhenACheckIsDue(t *testing.T) {
	for _, silent := range []bool{false, true} {
		c := withCheck(t, layout.Size{W: 80, H: 24}, 0)
		c.deps.Settings.Silent = silent
		assert.Contains(t, c.Row("at 12:05"), "five-minute check")
		assert.False(t, c.Shows("DUE"))
		c.Press("end", "enter")
		c.now = c.now.Add(59 * time.Minute)
		tick := func() {
			last := c.later[len(c.later)-1]
			c.Send(last)
		}
		tick()
		assert.Zero(t, c.rings)
		c.now = c.now.Add(time.Minute)
		tick()
		assert.True(t, c.Shows("Check of Bracken is due (12:05)."), c.View())
		assert.Equal(t, map[bool]int{false: 1, true: 0}[silent], c.rings)
		n := len(c.later)
		c.Send(c.later[0])
		assert.Len(t, c.later, n, "nothing is to come")
		c.Press("esc")
		assert.Contains(t, c.Row("> "), "Thistle", "the cursor stays on its horse")
		assert.Contains(t, c.Lines()[3], "DUE")
	}
}

// A setting of the practice in two ways is to be settled as well.
func TestASettingInTwoWaysIsSaid(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	for _, v := range []string{"5", "9"} {
		require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Ann", At: screentest.Now()}))
	}
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("1 to settle · 4 horses"), d.View())
}

// A colleague has the horse open on another laptop: enter goes on with theirs, b begins an own
// exam, in the row of the visit and in that of the horse. Both open are to be settled.
func TestAnOwnExamBesideAColleagues(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	var err error
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.Contains(t, d.Row("Ann Bell has"), "Bracken: Ann Bell has it since 2 Mar 09:40, on truck, last seen 10:02")
	assert.False(t, d.Shows("to settle"))
	d.Press("b")
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: h.ID}, d.Last())
	d.Press("esc", "enter")
	assert.Equal(t, nav.Exam, d.Last().Screen)
	d.Press("esc", "down", "down", "b") // Barley, then Bracken
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: h.ID}, d.Last())
	own, err := deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Eva Holm", screentest.Now())
	require.NoError(t, err)
	d = screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("1 to settle"), d.View())
	d.Press("down", "b") // the colleague's row, which is older
	assert.Equal(t, own.Visit.ID, d.Last().Visit, "the own one is gone on with")
}

// Who has a horse open on another laptop and since when is whole in its row, however long the
// names are and however narrow the window.
func TestWhoHasAHorseIsWhole(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Kind: exam.AnimalHorse, Name: "Bartholomew the Third of Upper Hollow Farm"}, "Ann", screentest.Now())
		require.NoError(t, err)
		_, err = deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Henrietta Achterberg-Lindqvist of Ridge End", screentest.Now())
		require.NoError(t, err)
		deps.Store, err = screentest.OnAnother(store)
		require.NoError(t, err)
		deps.Desk.Store = deps.Store
		d := screentest.New(t, deps, home.New, nav.Address{}, size)
		assert.Regexp(t, `Bartholome.*: Henrietta .* has it since 2 Mar 11:05`, d.Row("has it"), d.View())
	}
}

// What waits stands at the bottom in the smallest window too, before what can be done any time.
func TestWhatWaitsIsAtTheBottom(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	for _, v := range []string{"5", "9"} {
		require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Ann", At: screentest.Now()}))
	}
	deps.Arrived = func(time.Time) ([]exam.Arrival, error) { return []exam.Arrival{{Visit: "v"}}, nil }
	for _, size := range screentest.Sizes() {
		d := screentest.New(t, deps, home.New, nav.Address{}, size)
		assert.True(t, d.Reads("ctrl+t settle"), d.View())
		assert.True(t, d.Reads("ctrl+a arrived"), d.View())
	}
}

// What was written since the last exchange waits, though the exchange had sent everything.
func TestWhatWasWrittenSinceWaits(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	waiting := []nav.Waits{{Place: "folder"}}
	deps.Unsent = func() ([]nav.Waits, error) { return waiting, nil }
	d := screentest.New(t, deps, home.New, nav.Address{}, layout.Size{W: 80, H: 24})
	d.Send(nav.SharedMsg{At: screentest.Now()})
	assert.True(t, d.Shows("all sent"), d.View())
	for text, now := range map[string][]nav.Waits{
		" 2 lines to send":                       {{Place: "folder", Lines: 2}},
		" folder 2 to send · 4 horses":           {{Place: "folder", Lines: 2}, {Place: "hub"}},
		" hub 1 to send · 4 horses":              {{Place: "folder"}, {Place: "hub", Lines: 1}},
		" folder 5041, hub 1 to send · 4 horses": {{Place: "folder", Lines: 5041}, {Place: "hub", Lines: 1}},
		" 3 lines to send":                       {{Place: "folder", Lines: 3}, {Place: "hub", Lines: 3}},
		" all sent":                              {{Place: "folder"}, {Place: "hub"}},
	} {
		waiting = now
		d.Press("n", "esc")
		assert.True(t, d.Shows(text), "%s: %s", text, d.View())
	}
	d.Send(nav.SharedMsg{At: screentest.Now(), Out: true})
	assert.True(t, d.Shows("out of the practice · 4 horses"), d.View())
	assert.False(t, d.Shows("to send"), d.View())
}
