package horseform_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/horseform"
	"loosebox/tui/screentest"
)

func open(t testing.TB, name string, size layout.Size) (*screentest.Driver, *examtest.Store, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)[name]
	return screentest.New(t, deps, horseform.New, nav.Address{Screen: nav.NewForm, Horse: h.ID}, size), store, h
}

func TestFormIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "horseform-new", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "", size)
		return d
	})
	screentest.Goldens(t, "horseform-edit", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Bracken", size)
		for range 15 {
			d.Press("down")
		}
		d.Press("right", "right", "space")
		return d
	})
}

func TestNewHorseWithKeysAlone(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
		d.Type("Old? Sorrel")
		d.Press("enter", "2", "enter", "left", "left", "left", "left", "left", "enter") // pony, mare
		d.Press("right", "enter")                                                       // in foal
		d.Type("2026-05-10")
		assert.True(t, d.Shows("in 69 days; doses before foaling"))
		d.Press("enter")
		d.Type("about 2014")
		assert.True(t, d.Shows("ranges used: pony"))
		d.Press("enter", "right", "enter") // papers
		d.Type("Welsh cross")
		d.Press("enter")
		d.Type("chestnut")
		d.Press("enter", "enter")
		d.Type("001 012 345 678 902")
		d.Press("enter", "enter")
		d.Type("P. Duarte")
		d.Press("enter")
		d.Type("4 Mill Lane")
		d.Press("enter")
		d.Type("555 0100")
		d.Press("enter")
		d.Type("Long Meadow")
		d.Press("enter", space, "4", space, "enter") // kicks, needle-shy
		d.Type("hates umbrellas, ticklish")
		d.Press("enter")
		d.Type("hives, 2023; swelling at a vein")
		d.Press("enter")
		assert.True(t, d.Shows("> [save this horse]"))
		d.Press("enter")
		require.Equal(t, nav.Horse, d.Last().Screen)
		h, err := store.Horse(d.Last().Horse)
		require.NoError(t, err)
		assert.Equal(t, exam.BornEstimated, h.Birth.Precision)
		assert.Equal(t, "papers", h.Birth.Basis)
		h.Birth, h.ID = exam.Birth{}, ""
		assert.Equal(t, exam.Horse{
			Revision: 1, Name: "Old? Sorrel", Kind: exam.AnimalPony, Sex: exam.Mare, InFoal: true, FoalDue: "2026-05-10", Breed: "Welsh cross",
			Colour: "chestnut", Chip: "001012345678902", Owner: "P. Duarte", OwnerAddress: "4 Mill Lane", OwnerPhone: "555 0100", Place: "Long Meadow",
			Cautions:  []string{"kicks", "needle-shy", "hates umbrellas", "ticklish"},
			Reactions: []string{"hives, 2023", "swelling at a vein"},
		}, h)
		d.Press("esc")
		assert.True(t, d.Left(), "the horse stands in place of the form")
	}
}

func TestInFoalIsAskedOfMaresOnly(t *testing.T) {
	d, _, _ := open(t, "", layout.Size{W: 80, H: 24})
	assert.False(t, d.Shows("in foal"))
	d.Press("down", "down", "1")
	assert.True(t, d.Shows("in foal"))
	d.Press("2")
	assert.False(t, d.Shows("in foal"))
}

func TestTheDayOfFoalingIsStillToCome(t *testing.T) {
	deps, store := screentest.Deps(t)
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Saffron", Kind: exam.AnimalHorse, Sex: exam.Mare, InFoal: true, FoalDue: "2026-02-01"}, "Ann", screentest.Now())
	require.NoError(t, err)
	d := screentest.New(t, deps, horseform.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	d.Type("!")
	d.Press("ctrl+s")
	assert.True(t, d.Left(), "a day that has passed meanwhile hinders nobody")
	d = screentest.New(t, deps, horseform.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	d.Press("down", "down", "down", "down", "ctrl+u")
	for text, why := range map[string]string{"2026-03-01": "is not a day to come", "10 May": "write a day as 4 Mar 2026", "2026-02-30": "write a day as"} {
		d.Type(text)
		d.Press("enter")
		assert.True(t, d.Shows(why), text)
		d.Press("ctrl+u")
	}
	d.Press("up", "1") // not in foal any more
	d.Press("ctrl+s")
	assert.True(t, d.Left())
	h, err = store.Horse(h.ID)
	require.NoError(t, err)
	assert.False(t, h.InFoal)
	assert.Empty(t, h.FoalDue)
}

func TestOfAFoalItIsAskedWhetherItsMareWasVaccinated(t *testing.T) {
	d, store, was := open(t, "Pip", layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("dam vaccinated: not known"))
	for range 5 {
		d.Press("down")
	}
	assert.True(t, d.Reads("treated as not vaccinated: the foal's own doses begin earlier"))
	d.Press("2", "ctrl+s")
	assert.True(t, d.Left())
	h, err := store.Horse(was.ID)
	require.NoError(t, err)
	assert.Equal(t, exam.DamVaccine, h.Dam)
	grown, _, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	assert.False(t, grown.Shows("dam vaccinated"))
}

// The examples of the scheme itself (UELN) and of ISO 11784, typed as they are read.
func TestNumbersOfAHorseAreRead(t *testing.T) {
	for chip, want := range map[string]string{"250 268 500 012 345": "250268500012345", "985-112-003-456-789": "985112003456789", "": ""} {
		for ueln, number := range map[string]string{"250001-00155928M": "25000100155928M", "372414001234567": "372414001234567", "121212 0078m0234": "1212120078M0234"} {
			d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
			d.Type("Moth")
			for range 8 {
				d.Press("down")
			}
			d.Type(chip)
			d.Press("down")
			d.Type(ueln)
			d.Press("ctrl+s")
			h, err := store.Horse(d.Last().Horse)
			require.NoError(t, err, "%s %s", chip, ueln)
			assert.Equal(t, want, h.Chip)
			assert.Equal(t, number, h.UELN)
		}
	}
}

func TestRefusedLinesSayWhyAndKeepWhatWasTyped(t *testing.T) {
	d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
	before := store.Writes()
	d.Press("ctrl+s")
	assert.True(t, d.Shows("type the horse's name, or what the yard"))
	d.Type("Moth")
	for range 3 {
		d.Press("down")
	}
	d.Type("some day")
	d.Press("enter")
	assert.True(t, d.Shows("write a birth date as"))
	assert.True(t, d.Shows("some day"))
	d.Press("ctrl+u")
	d.Type("2031")
	d.Press("enter")
	assert.True(t, d.Shows("in the future"))
	d.Press("ctrl+u")
	d.Type("2020")
	for range 5 {
		d.Press("down")
	}
	d.Type("123")
	d.Press("enter")
	assert.True(t, d.Shows("a microchip number has 15 digits, this has 3"))
	d.Press("down") // leaving the line is allowed, saving it is not
	d.Press("ctrl+s")
	assert.True(t, d.Shows("this has 3"))
	assert.True(t, d.Reads("not saved yet"))
	assert.Equal(t, before, store.Writes())
	d.Press("ctrl+u", "ctrl+s")
	assert.Equal(t, nav.Horse, d.Last().Screen)
}

// A second horse of one name is asked about once: half of its past would stand on each page.
func TestANamesakeIsAskedAboutOnce(t *testing.T) {
	d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
	d.Type("bracken ")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("another horse in the record has this name: horse, 8 years, owner J. Marlowe"), d.View())
	assert.Empty(t, d.Opened())
	d.Press("ctrl+s")
	h, err := store.Horse(d.Last().Horse)
	require.NoError(t, err)
	assert.Equal(t, "bracken", h.Name)

	d, _, _ = open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Press("down", "2", "ctrl+s")
	assert.False(t, d.Shows("another horse"), "of the name that it had nothing is asked")
}

func TestChipOfAnotherHorseIsSaidAndAskedOnce(t *testing.T) {
	d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
	d.Type("Double")
	for range 8 {
		d.Press("down")
	}
	d.Type("001012345678901")
	assert.Contains(t, d.View(), "this chip belongs to Bracken in the record")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("check it, or press ctrl+s again to save it"))
	assert.Empty(t, d.Opened())
	d.Press("ctrl+s")
	h, err := store.Horse(d.Last().Horse)
	require.NoError(t, err)
	assert.Equal(t, "001012345678901", h.Chip)
}

func TestEditKeepsEverythingThatWasNotTouched(t *testing.T) {
	d, store, was := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Press("end")
	d.Type("y")
	d.Press("ctrl+s")
	assert.True(t, d.Left())
	h, err := store.Horse(was.ID)
	require.NoError(t, err)
	was.Name, was.Revision = "Brackeny", 2
	assert.Equal(t, was, h)
}

// A held ctrl+s on a horse of which nothing was typed writes no revision.
func TestAnEditThatChangesNothingSavesNothing(t *testing.T) {
	d, store, was := open(t, "Bracken", layout.Size{W: 80, H: 24})
	writes := store.Writes()
	d.Press("ctrl+s")
	assert.True(t, d.Left())
	assert.Equal(t, writes, store.Writes())
	h, err := store.Horse(was.ID)
	require.NoError(t, err)
	assert.Equal(t, was.Revision, h.Revision)
}

func TestEscAsksOnceWhereSomethingWasTyped(t *testing.T) {
	d, store, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	writes := store.Writes()
	d.Type("x")
	d.Press("esc")
	assert.True(t, d.Reads("esc again discards it"))
	d.Press("down", "esc")
	assert.True(t, d.Reads("esc again discards it"), "any other key takes the question back")
	d.Press("esc")
	assert.True(t, d.Left())
	assert.Equal(t, writes, store.Writes())

	untouched, _, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	untouched.Press("down", "esc")
	assert.True(t, untouched.Left(), "nothing typed, nothing asked")
}

func TestStoreThatRefusesLosesNothing(t *testing.T) {
	d, store, _ := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Type("z")
	store.FailWith(errors.New("the disk is full"))
	d.Press("ctrl+s")
	assert.True(t, d.Shows("NOT saved"))
	assert.True(t, d.Shows("Brackenz"))
	store.FailWith(nil)
	d.Press("ctrl+s")
	assert.True(t, d.Left())
}

func TestChangeBySomebodyElseIsSaidAndNothingTypedIsLost(t *testing.T) {
	d, store, h := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Type("z")
	theirs := h
	theirs.Revision, theirs.Owner = 2, "somebody"
	_, err := store.SaveHorse(theirs, "Bo", screentest.Now())
	require.NoError(t, err)
	d.Press("ctrl+s")
	assert.True(t, d.Reads("somebody else changed this horse"))
	assert.True(t, d.Shows("Brackenz"))
	d.Press("ctrl+s")
	saved, err := store.Horse(h.ID)
	require.NoError(t, err)
	assert.Equal(t, "Brackenz", saved.Name)
	assert.Equal(t, 3, saved.Revision)
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{
				Revision: 1, Name: text, Breed: text, Colour: text, Markings: text, Chip: text, UELN: text, Owner: text, Place: text,
				Sex: exam.Mare, InFoal: true, FoalDue: text, Dam: exam.DamVaccinated(text), OwnerAddress: text, OwnerPhone: text,
				Cautions: []string{text}, Reactions: []string{text}, Birth: exam.Birth{Precision: exam.BornAdult, Basis: text},
			}, text, screentest.Now())
			require.NoError(t, err)
			d := screentest.New(t, deps, horseform.New, nav.Address{Horse: h.ID}, size)
			for range 21 {
				d.Paste(text)
				d.Press("down")
			}
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, "Bracken", layout.Size{W: 120, H: 40})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

// On a machine that knows nobody yet the form asks who writes, and keeps it.
func TestTheFirstHorseAsksByWhom(t *testing.T) {
	deps, store := screentest.Deps(t)
	deps.Settings.Person = ""
	d := screentest.New(t, deps, horseform.New, nav.Address{}, layout.Size{W: 80, H: 24})
	assert.Contains(t, d.Row(">"), "name: _", "the horse comes first")
	d.Type("Moss")
	d.Press("ctrl+s")
	assert.Contains(t, strings.ToLower(d.View()), "not saved yet")
	assert.Contains(t, d.Row(">"), "your name: _", "it is needed now")
	all, err := store.Horses()
	require.NoError(t, err)
	assert.Empty(t, all)
	d.Type("Ann Bell")
	d.Press("ctrl+s")
	all, err = store.Horses()
	require.NoError(t, err)
	require.Len(t, all, 1)
	settings, err := store.Settings()
	require.NoError(t, err)
	assert.Equal(t, "Ann Bell", settings.Person)
	assert.Equal(t, "Ann Bell", deps.Settings.Person)
}

// An age becomes the birth that the record keeps, said in words before it is stored.
func TestAnAgeBecomesABirth(t *testing.T) {
	for typed, want := range map[string][2]string{
		"9y":          {"born about " + screentest.Now().AddDate(-9, 0, 0).Format("2006"), "about " + screentest.Now().AddDate(-9, 0, 0).Format("2006")},
		"3 weeks old": {"born 9 Feb 2026: 21 days", "9 Feb 2026"},
		"today":       {"born 2 Mar 2026", "2 Mar 2026"},
		"2/28/2026":   {"born 28 Feb 2026: 2 days", "28 Feb 2026"},
		"foal":        {"foal_ under six months, no birth date; ranges used: foal, age not known", "under six months"},
	} {
		d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
		d.Type("Old Sorrel")
		d.Press("enter", "enter", "enter")
		d.Type(typed)
		assert.True(t, d.Reads(want[0]), d.View())
		d.Press("ctrl+s")
		list, err := store.Horses()
		require.NoError(t, err)
		at := slices.IndexFunc(list, func(f exam.Found) bool { return f.Horse.Name == "Old Sorrel" })
		require.GreaterOrEqual(t, at, 0, "%s: %s", typed, d.View())
		assert.Equal(t, want[1], list[at].Horse.Birth.Show(), typed)
	}
}

// A three-day-old is not saved in foal, and what was typed stays.
func TestANewbornIsNotInFoal(t *testing.T) {
	d, store, _ := open(t, "", layout.Size{W: 80, H: 24})
	d.Type("Sprig")
	d.Press("enter", "enter", "4", "enter", "right", "enter", "enter") // filly, in foal
	d.Type("2026-02-27")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("an animal under 1 year cannot be in foal"), d.View())
	list, err := store.Horses()
	require.NoError(t, err)
	for _, f := range list {
		assert.NotEqual(t, "Sprig", f.Horse.Name)
	}
}
