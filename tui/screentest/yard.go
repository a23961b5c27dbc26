package screentest

import (
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/due"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// Now is the time of the clock of Deps.
func Now() time.Time { return time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC) }

// Deps are deps for a test, and their store: the store is empty, the steps are the pinned ones, ranges and judge the real
// ones; the clock always says Now, and there are no ticks and no colours.
func Deps(t testing.TB) (*nav.Deps, *examtest.Store) {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	store, all := examtest.NewStore(), examtest.Steps()
	d := &nav.Deps{
		Desk:       desk.Desk{Store: store, Steps: all, Routines: examtest.Routines(), Judge: judge.New(table, all), Waits: new(exam.Waits)},
		Rehearsals: examtest.NewRehearsals(), Ranges: table,
		Schedule: func() (*due.Table, string, error) {
			table, err := due.BuiltIn()
			return table, "", err
		},
		Now: Now, Theme: theme.New(theme.Plain, false), Settings: exam.Settings{Person: "Ann Bell"}, Rounds: new(round.Reader),
		After: func(time.Duration, tea.Msg) tea.Cmd { return nil }, // a tick would be the next one's cause
	}
	d.Cases = Cases(t, d)
	return d, store
}

// Yard fills a store with a few invented horses and returns them by name: Bracken has four closed visits and an open one,
// Thistle kicks, Pip is two days old.
func Yard(t testing.TB, s exam.Store) map[string]exam.Horse {
	t.Helper()
	horses := map[string]exam.Horse{}
	for _, h := range []exam.Horse{
		{
			Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born("2017-05-04", "papers"), Breed: "cob",
			Colour: "bay", Markings: "star, white coronet LH", Chip: "001012345678901", UELN: "990001001234567",
			Owner: "J. Marlowe", Place: "Mill Farm", Cautions: []string{"needle-shy", "crowds"},
			Reactions: []string{"swelling at a neck injection, 2024"},
		},
		{
			Name: "Thistle", Kind: exam.AnimalPony, Sex: exam.Gelding, Birth: born("about 2012", "teeth"), Colour: "grey",
			Owner: "P. Duarte", Place: "Long Meadow", Cautions: []string{"kicks", "bites"},
		},
		{Name: "Pip", Kind: exam.AnimalHorse, Sex: exam.SexUnknown, Birth: born("2026-02-28 03:20", "seen"), Owner: "J. Marlowe", Place: "Mill Farm"},
		{Name: "Barley", Kind: exam.AnimalDonkey, Sex: exam.Stallion, Birth: born("adult", ""), Place: "Orchard"},
	} {
		h.Revision = 1
		saved, err := s.SaveHorse(h, "Ann Bell", Now())
		require.NoError(t, err)
		horses[h.Name] = saved
	}
	for i, temp := range []float64{37.8, 38.0, 37.6, 39.4} {
		at := Now().AddDate(0, -4+i, -3).Add(-90 * time.Minute)
		v := Visit(t, s, horses["Bracken"], at, temp, float64(36+2*i))
		if i == 3 {
			add(t, s, v, exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: string(exam.ReasonRefused)})
			pick(t, s, v, "gum.colour", exam.NoSite, "pale pink")
		} else {
			pick(t, s, v, "gum.colour", exam.NoSite, "pink")
		}
		add(t, s, v, exam.Entry{Kind: exam.EntryClosed})
	}
	Visit(t, s, horses["Bracken"], Now().Add(-85*time.Minute), 38.1, 40)
	return horses
}

// Visit begins a visit with a temperature and a heart rate and leaves it open.
func Visit(t testing.TB, s exam.Store, h exam.Horse, at time.Time, tempC, heart float64) exam.Visit {
	t.Helper()
	v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: steps.Default, Reason: "off her feed"}})
	require.NoError(t, err)
	add(t, s, v, exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateRest}}})
	Number(t, s, v, "temp.rectal", exam.NoSite, tempC, notation.Celsius)
	Number(t, s, v, "heart.rate", exam.NoSite, heart, notation.PerMinute)
	return v
}

// Number adds a number to a visit.
func Number(t testing.TB, s exam.Store, v exam.Visit, step exam.StepID, site exam.Site, n float64, u notation.Unit) {
	t.Helper()
	kind := exam.KindNumber
	if u == notation.PerMinute {
		kind = exam.KindCount
	}
	add(t, s, v, exam.Entry{Kind: exam.EntryFinding, Step: step, Site: site, Value: &exam.Value{Kind: kind, Number: &notation.Quantity{Value: n, Unit: u}}})
}

func pick(t testing.TB, s exam.Store, v exam.Visit, step exam.StepID, site exam.Site, key string) {
	t.Helper()
	add(t, s, v, exam.Entry{Kind: exam.EntryFinding, Step: step, Site: site, Value: &exam.Value{Kind: exam.KindPick, Words: []string{key}}})
}

func add(t testing.TB, s exam.Store, v exam.Visit, e exam.Entry) {
	t.Helper()
	e.Visit, e.By, e.At = v.ID, "Ann Bell", v.OpenedAt.Add(10*time.Minute)
	_, err := s.Append(e)
	require.NoError(t, err)
}

func born(text, basis string) exam.Birth {
	b, err := exam.ReadBirth(text, basis)
	if err != nil {
		panic(fmt.Sprintf("birth %q of the yard: %v", text, err))
	}
	return b
}

// Hostile are texts with control characters and other content that must not move the cursor or break the layout.
func Hostile() []string {
	long, wide := make([]rune, 10000), make([]rune, 300)
	for i := range long {
		long[i] = 'W'
	}
	for i := range wide {
		wide[i] = '馬'
	}
	return []string{
		"\x1b[2J\x1b[31mred\x1b]0;title\x07", "\u202eabc\u2066def\u2069", string(long), string(wide), "a\rb\nc\td",
		"\u009b31mred", "e\u0301e\u0301e\u0301 \u0e19\u0e33 \u200d\u200d", "\xff\xfe broken", "\U0001F40E\U000E0041",
	}
}
