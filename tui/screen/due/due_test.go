package due_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	schedule "loosebox/exam/due"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/due"
	"loosebox/tui/screentest"
)

// doses gives Bracken a tetanus dose from papers a year and ten days ago, rabies
// eleven months ago, one dose of West Nile virus and a recheck for tomorrow, and
// a wound in her open visit.
func doses(t testing.TB, s exam.Store, h exam.Horse) {
	t.Helper()
	v := screentest.Visit(t, s, h, screentest.Now().AddDate(0, 0, -2), 38, 40)
	add := func(e exam.Entry) {
		e.Visit, e.By, e.At = v.ID, "Ann Bell", v.OpenedAt.Add(1)
		_, err := s.Append(e)
		require.NoError(t, err)
	}
	for i, d := range []struct {
		day, against, product string
		whole                 bool
	}{
		{"2025-02-20", "tetanus", "Tetavac", true}, {"2025-04-01", "rabies", "Rabivet", true}, {"2026-02-10", "WNV", "Nilovac", false},
	} {
		add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
			Number: i + 1, Phase: exam.InjectionNoted, On: d.day, Basis: "passport", SeriesDone: d.whole,
			Order: &exam.Order{Product: d.product, Lot: "L" + d.day[:4], Against: []string{d.against}},
		}})
	}
	add(exam.Entry{Kind: exam.EntryNote, Note: "leg", Recheck: &exam.RecheckLine{On: "2026-03-03", What: "swelling of the left hind"}})
	add(exam.Entry{Kind: exam.EntryFinding, Step: "limb.look", Site: exam.LeftHind, Value: &exam.Value{Kind: exam.KindMarks, Words: []string{"wound"}}})
	add(exam.Entry{Kind: exam.EntryClosed})
}

func open(t testing.TB, name string, size layout.Size) (*screentest.Driver, *examtest.Store, map[string]exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	doses(t, store, horses["Bracken"])
	return screentest.New(t, deps, due.New, nav.Address{Screen: nav.Due, Horse: horses[name].ID}, size), store, horses
}

func TestDueIsDrawnInEverySize(t *testing.T) {
	for _, name := range []string{"Bracken", "Pip", ""} {
		title := "due-" + name
		if name == "" {
			title = "due-all"
		}
		screentest.Goldens(t, title, func(t *testing.T, size layout.Size) *screentest.Driver {
			d, _, _ := open(t, name, size)
			return d
		})
	}
	screentest.Goldens(t, "due-schedule", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Bracken", size)
		d.Press("down", "s")
		return d
	})
}

func TestOneHorseSaysWhatWhenWhyAndWhose(t *testing.T) {
	d, _, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("ask       A wound or surgery, and the last tetanus dose"), "a booster is a question for the veterinarian")
	assert.Contains(t, d.Row("  overdue  "), "tetanus")
	assert.Contains(t, d.Row("follow-up:"), "3 Mar 2026")
	assert.Contains(t, d.Row("West Nile"), "1 of 2, incomplete", "what is incomplete is said in the list")
	assert.True(t, d.Reads(schedule.Overrides), "the plan and the label override it")
	d.Press("down")
	assert.True(t, d.Reads("last dose 20 Feb 2025, every 12 months; overdue by 10 days."))
	assert.True(t, d.Reads("last dose: 20 Feb 2025, Tetavac, lot L2025, recorded from: passport"))
	d.Press("s")
	assert.True(t, d.Reads("schedule: AAEP charts (USA), as copied and read; the pages differ between versions"))
	assert.True(t, d.Reads("published: AAEP adult horse vaccination chart, read in a copy"))
	d.Press("esc")
	assert.False(t, d.Left(), "the first esc closes the source")
	assert.False(t, d.Shows("schedule: AAEP"))
	d.Press("esc")
	assert.True(t, d.Left())
}

func TestEveryLineLeadsToItsVisit(t *testing.T) {
	d, _, horses := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Press("enter", "s")
	assert.Empty(t, d.Opened(), "no visit and no schedule stand behind a question")
	d.Press("down", "enter")
	assert.Equal(t, nav.Review, d.Last().Screen)
	assert.Equal(t, horses["Bracken"].ID, d.Last().Horse)
	assert.NotEmpty(t, d.Last().Visit)
}

func TestEveryHorseIsListedTheMostPressingFirst(t *testing.T) {
	d, _, horses := open(t, "", layout.Size{W: 80, H: 24})
	assert.Contains(t, d.Lines()[3], "overdue   Bracken")
	assert.Contains(t, d.Lines()[3], "by 20 Feb 2026")
	assert.Contains(t, d.Row("Pip"), "next", "a foal of two days has time")
	assert.True(t, d.Shows("1 overdue, 2 due"))
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Due, Horse: horses["Bracken"].ID}, d.Last())
}

func TestAnEmptyRecordAndAHorseThatIsNotThere(t *testing.T) {
	deps, _ := screentest.Deps(t)
	d := screentest.New(t, deps, due.New, nav.Address{}, layout.Size{W: 60, H: 20})
	assert.True(t, d.Shows("no horse is in the record yet"))
	d.Press("enter", "s", "down", "space")
	assert.Empty(t, d.Opened())
	gone := screentest.New(t, deps, due.New, nav.Address{Horse: "nobody"}, layout.Size{W: 60, H: 20})
	assert.True(t, gone.Shows("this horse cannot be read; nothing was changed"))
}

func TestARefusedScheduleIsSaid(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	table, err := schedule.BuiltIn()
	require.NoError(t, err)
	deps.Schedule = func() (*schedule.Table, string, error) {
		return table, "the practice's schedule is refused; the built-in schedule is used: schedule.csv:3: soon is no span", nil
	}
	d := screentest.New(t, deps, due.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("schedule.csv:3"))
	deps.Schedule = func() (*schedule.Table, string, error) { return nil, "", errors.New("torn") }
	d = screentest.New(t, deps, due.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("the vaccination schedule cannot be read; nothing was changed: torn"))
	deps.Schedule = nil
	d = screentest.New(t, deps, due.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("without a vaccination schedule"))
}

func TestAnotherScreensAnswerIsPassedOver(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	one, two := due.New(deps, nav.Address{Horse: horses["Bracken"].ID}), due.New(deps, nav.Address{Horse: horses["Pip"].ID})
	two.Update(one.Init()())
	assert.Equal(t, "Due", two.Title(), "still not loaded")
	two.Update(two.Init()())
	assert.Equal(t, "Due · Pip", two.Title())
}

// TestTheListIsFiltered: by horse or status, counted; esc shows all again before it goes back.
func TestTheListIsFiltered(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	d := screentest.New(t, deps, due.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.NotEmpty(t, d.Row("Barley"))
	d.Press("/")
	d.Type("thist")
	assert.Empty(t, d.Row("Barley"), d.View())
	assert.NotEmpty(t, d.Row("Thistle"), d.View())
	assert.Regexp(t, `find: thist_ +1 of \d`, d.Row("find: "))
	d.Type("zz")
	assert.True(t, d.Shows("no line holds what you look for"), d.View())
	d.Press("backspace", "backspace", "enter")
	assert.NotEmpty(t, d.Last().Horse, "enter opens the one that is left")
	d.Press("esc", "esc")
	assert.NotEmpty(t, d.Row("Barley"), d.View())
	assert.False(t, d.Left())
	d.Press("esc")
	assert.True(t, d.Left())
}

func TestHostileText(t *testing.T) {
	table, err := schedule.BuiltIn()
	require.NoError(t, err)
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Place: text, Cautions: []string{text}, Birth: exam.Birth{Precision: exam.BornAdult}}, text, screentest.Now())
			require.NoError(t, err)
			v := screentest.Visit(t, store, h, screentest.Now().AddDate(0, 0, -2), 38, 40)
			for _, e := range []exam.Entry{
				{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNoted, On: "2024", Basis: text, Order: &exam.Order{Product: text, Lot: text, Against: []string{"tetanus", text}}}},
				{Kind: exam.EntryNote, Note: "x", Recheck: &exam.RecheckLine{On: "2026-03-01", What: text}},
			} {
				e.Visit, e.By, e.At = v.ID, text, screentest.Now()
				_, err := store.Append(e)
				require.NoError(t, err)
			}
			for _, id := range []exam.HorseID{h.ID, ""} {
				deps.Schedule = func() (*schedule.Table, string, error) { return table, text, nil }
				d := screentest.New(t, deps, due.New, nav.Address{Horse: id}, size)
				for range 6 {
					d.Press("down", "s")
				}
				d.Squeeze()
			}
		}
	}
}

func BenchmarkViewOfAThousandHorses(b *testing.B) {
	deps, store := screentest.Deps(b)
	for range 1000 {
		_, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Moth", Kind: exam.AnimalHorse}, "Ann", screentest.Now())
		require.NoError(b, err)
	}
	d := screentest.New(b, deps, due.New, nav.Address{}, layout.Size{W: 80, H: 24})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}
