package horse_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/horse"
	"loosebox/tui/screentest"
)

func open(t *testing.T, name string, size layout.Size) (*screentest.Driver, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)[name]
	return screentest.New(t, deps, horse.New, nav.Address{Screen: nav.Horse, Horse: h.ID}, size), h
}

func TestHorseIsDrawnInEverySize(t *testing.T) {
	for _, name := range []string{"Bracken", "Pip"} {
		screentest.Goldens(t, "horse-"+name, func(t *testing.T, size layout.Size) *screentest.Driver {
			d, _ := open(t, name, size)
			return d
		})
	}
}

func TestHorseSaysCautionsClassReactionsAndLevels(t *testing.T) {
	d, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("▴ needle-shy · crowds"))
	assert.True(t, d.Shows("swelling at a neck injection"))
	assert.True(t, d.Shows("ranges used: adult light horse"))
	assert.Contains(t, d.Row("30 Jan 2026"), "3 of 59", "how much was looked at")
	// 39.4 C is above every adult range and the gums were pale pink: not usual.
	assert.Regexp(t, `[o?!] (note|recheck|tell the vet)`, d.Row("30 Jan 2026"))
	foal, _ := open(t, "Pip", layout.Size{W: 80, H: 24})
	assert.True(t, foal.Shows("ranges used: foal, 1 to 7 days"))
	assert.True(t, foal.Shows("No visit yet"))
}

func TestHorseSaysWhenItIsLookedAtAgain(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		h := screentest.Yard(t, store)["Bracken"]
		id := screentest.Open(t, store).ID
		hour, over := screentest.Now().Add(time.Hour), screentest.Now().Add(-time.Minute)
		for _, r := range []exam.RecheckLine{{On: "2026-03-09", What: "weight"}, {On: "2026-03-02", Time: &hour, What: "heart rate"}, {On: "2026-03-02", Time: &over, What: "gut"}} {
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryNote, Recheck: &r})
		}
		d := screentest.New(t, deps, horse.New, nav.Address{Screen: nav.Horse, Horse: h.ID}, size)
		assert.True(t, d.Reads("follow-up: overdue 2 Mar 2026 11:04: gut · due 2 Mar 2026 12:05: heart rate · next 9 Mar 2026: weight"), d.View())
	}
}

func TestHorseLeadsToEverythingAboutIt(t *testing.T) {
	d, h := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Press("enter") // the open visit is the newest
	assert.Equal(t, nav.Exam, d.Last().Screen)
	d.Press("esc", "b")
	assert.Equal(t, nav.Exam, d.Last().Screen, "b goes on with the open visit")
	d.Press("esc", "down", "enter")
	assert.Equal(t, nav.Review, d.Last().Screen)
	assert.NotEmpty(t, d.Last().Visit)
	d.Press("esc", "c")
	assert.Equal(t, nav.Address{Screen: nav.Compare, Horse: h.ID}, d.Last())
	d.Press("esc", "e")
	assert.Equal(t, nav.Address{Screen: nav.NewForm, Horse: h.ID}, d.Last())
	d.Press("esc", "d")
	assert.Equal(t, nav.Address{Screen: nav.Due, Horse: h.ID}, d.Last())

	fresh, p := open(t, "Pip", layout.Size{W: 80, H: 24})
	fresh.Press("enter", "c", "t", "space", "up", "end")
	assert.Empty(t, fresh.Opened(), "there is nothing to open or compare yet")
	fresh.Press("b")
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: p.ID}, fresh.Last())
}

func TestHorseSaysWhoseItIsAndWhenItFoals(t *testing.T) {
	deps, store := screentest.Deps(t)
	h, err := store.SaveHorse(exam.Horse{
		Revision: 1, Name: "Saffron", Kind: exam.AnimalHorse, Sex: exam.Mare, InFoal: true, FoalDue: "2026-05-10", Birth: exam.Birth{Precision: exam.BornAdult},
		Owner: "P. Duarte", OwnerAddress: "4 Mill Lane", OwnerPhone: "555 0100", Place: "Long Meadow",
	}, "Ann", screentest.Now())
	require.NoError(t, err)
	d := screentest.New(t, deps, horse.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("mare, in foal, due 10 May 2026"))
	assert.True(t, d.Shows("owner P. Duarte · 4 Mill Lane · 555 0100"))
	assert.True(t, d.Shows("location Long Meadow"))
	foal, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Moss", Birth: exam.Birth{Precision: exam.BornFoal}, Dam: exam.DamVaccine}, "Ann", screentest.Now())
	require.NoError(t, err)
	d = screentest.New(t, deps, horse.New, nav.Address{Horse: foal.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("its mare: vaccinated"))
}

// An age without a birth date is read once, with what it rests on.
func TestAnAgeWithoutABirthDateIsReadOnce(t *testing.T) {
	deps, store := screentest.Deps(t)
	for birth, want := range map[exam.Birth]string{
		{Precision: exam.BornFoal}:                  "mule · colt · under six months, no birth date",
		{Precision: exam.BornAdult, Basis: "teeth"}: "mule · colt · adult, no birth date (teeth)",
		{Precision: exam.BornUnknown}:               "mule · colt · age not known",
	} {
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Moss", Kind: exam.AnimalMule, Sex: exam.Colt, Birth: birth}, "Ann", screentest.Now())
		require.NoError(t, err)
		d := screentest.New(t, deps, horse.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
		assert.Equal(t, want, strings.TrimSpace(d.Row("mule · ")))
	}
}

func TestHorseThatIsNotThereSaysSo(t *testing.T) {
	deps, _ := screentest.Deps(t)
	d := screentest.New(t, deps, horse.New, nav.Address{Horse: "nobody"}, layout.Size{W: 60, H: 20})
	assert.True(t, d.Shows("not in the record"))
	d.Press("b", "enter", "e")
	assert.Empty(t, d.Opened())
}

func TestHostileHorse(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{
				Revision: 1, Name: text, Breed: text, Colour: text, Markings: text, Chip: text, UELN: text, Owner: text, Place: text,
				Sex: exam.Mare, InFoal: true, FoalDue: text, OwnerAddress: text, OwnerPhone: text,
				Cautions: []string{text, text}, Reactions: []string{text, text}, Birth: exam.Birth{Precision: exam.BornAdult, Basis: text},
			}, text, screentest.Now())
			require.NoError(t, err)
			_, err = store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: text, Opening: &exam.Opening{Horse: h, Routine: text}})
			require.NoError(t, err)
			d := screentest.New(t, deps, horse.New, nav.Address{Horse: h.ID}, size)
			d.View()
			d.Squeeze()
			assert.Contains(t, d.View(), "visits, newest first (1)", "the visits stay in sight")
		}
	}
}

func BenchmarkViewOfFiveHundredVisits(b *testing.B) {
	deps, store := screentest.Deps(b)
	h := screentest.Yard(b, store)["Thistle"]
	for i := range 500 {
		v := screentest.Visit(b, store, h, screentest.Now().AddDate(0, 0, -i), 38, 40)
		require.NoError(b, func() error {
			_, err := store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: v.OpenedAt, By: "Ann", Reason: fmt.Sprint(i)})
			return err
		}())
	}
	d := screentest.New(b, deps, horse.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

// A colleague has the horse open on another laptop: b begins an own exam, enter goes on with
// theirs, and once there is an own one b goes on with that.
func TestAnOwnExamBesideAColleagues(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	past, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	at := nav.Address{Screen: nav.Horse, Horse: h.ID}
	d := screentest.New(t, deps, horse.New, at, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Ann Bell has this horse open on truck since 2 Mar 09:40, last seen 10:02."), d.View())
	d.Press("b")
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: h.ID}, d.Last())
	d.Press("esc", "enter")
	assert.Equal(t, nav.Address{Screen: nav.Exam, Horse: h.ID, Visit: past[0].ID}, d.Last())
	own, err := deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Eva Holm", screentest.Now())
	require.NoError(t, err)
	d = screentest.New(t, deps, horse.New, at, layout.Size{W: 80, H: 24})
	d.Press("b")
	assert.Equal(t, nav.Address{Screen: nav.Exam, Horse: h.ID, Visit: own.Visit.ID}, d.Last())
}
