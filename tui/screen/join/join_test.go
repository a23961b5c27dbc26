package join_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/join"
	"loosebox/tui/screentest"
)

// twice is a yard in which Bracken was entered a second time, on another laptop.
func twice(t *testing.T) (*nav.Deps, *examtest.Store, exam.Horse, exam.Horse) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	other, err := store.SaveHorse(exam.Horse{
		Name: "Brackn", Kind: exam.AnimalHorse, Revision: 1, Chip: h.Chip, Owner: h.Owner, Place: "box 9", Cautions: []string{"bites"},
	}, "Eva", screentest.Now())
	require.NoError(t, err)
	return deps, store, h, other
}

func TestJoinIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "join", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, _, h, other := twice(t)
		return screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID, Other: other.ID}, size)
	})
	screentest.Goldens(t, "part", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, store, h, other := twice(t)
		require.NoError(t, store.Join(exam.Joining{Horses: []exam.HorseID{h.ID, other.ID}, By: "Ann", At: screentest.Now()}))
		return screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID}, size)
	})
}

func TestTwoRecordsAreJoinedAndPartedByAPerson(t *testing.T) {
	deps, store, h, other := twice(t)
	d := screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Brackn"), "the record with the same chip is proposed: %s", d.View())
	for range 60 { // a held key joins nothing
		d.Press("enter")
	}
	said, err := store.Joinings()
	require.NoError(t, err)
	require.Empty(t, said)
	assert.True(t, d.Reads("choose: one horse or two"), d.View())
	d.Press("1", "enter")
	d.Type("same")
	d.Press("ctrl+s")
	one, err := store.Horse(other.ID)
	require.NoError(t, err)
	require.Equal(t, h.ID, one.ID)
	said, err = store.Joinings()
	require.NoError(t, err)
	require.Len(t, said, 1)
	assert.Equal(t, "same", said[0].Why)

	d = screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID}, layout.Size{W: 80, H: 24})
	for range 60 {
		d.Press("enter")
	}
	said, _ = store.Joinings()
	require.Len(t, said, 1)
	d.Press("2", "ctrl+s")
	list, err := store.Horses()
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(list, func(f exam.Found) bool { return f.Horse.ID == other.ID }), d.View())
}

// Who joins horses is a person: a name without a letter is asked for again.
func TestWhoJoinsHasAName(t *testing.T) {
	deps, store, h, other := twice(t)
	deps.Settings.Person = "12."
	d := screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID, Other: other.ID}, layout.Size{W: 80, H: 24})
	d.Press("1", "ctrl+s")
	assert.True(t, d.Reads("type your name or initials"), d.View())
	said, err := store.Joinings()
	require.NoError(t, err)
	assert.Empty(t, said)
}

func TestTwoHorsesAreNotProposedAgain(t *testing.T) {
	deps, store, h, other := twice(t)
	d := screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID, Other: other.ID}, layout.Size{W: 80, H: 24})
	d.Press("2", "ctrl+s")
	said, err := store.Joinings()
	require.NoError(t, err)
	require.Len(t, said, 1)
	assert.True(t, said[0].Apart)
	d = screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.False(t, d.Reads("Brackn"), d.View())
}

func TestHostileJoin(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			var ids []exam.HorseID
			for range 2 {
				h, err := store.SaveHorse(exam.Horse{
					Revision: 1, Name: text, Breed: text, Colour: text, Chip: text, UELN: text, Owner: text, Place: text, Cautions: []string{text},
					Birth: exam.Birth{At: time.Unix(0, 0), Precision: exam.BornYear, Basis: text},
				}, text, screentest.Now())
				require.NoError(t, err)
				ids = append(ids, h.ID)
			}
			d := screentest.New(t, deps, join.New, nav.Address{Horse: ids[0], Other: ids[1]}, size)
			d.View()
			d.Squeeze()
		}
	}
}

// Where somebody said that a joined horse is two, the screen says so and takes that it stays one, too.
func TestAJoinedHorseOfWhichSomebodySaidTwo(t *testing.T) {
	for _, key := range []string{"3", "2"} {
		deps, store, h, other := twice(t)
		for _, apart := range []bool{true, false} { // of one log, so that the joining knew; what is read says otherwise
			require.NoError(t, store.Join(exam.Joining{Horses: []exam.HorseID{h.ID, other.ID}, Apart: apart, By: "Ann", At: screentest.Now()}))
		}
		var saved exam.Joining
		deps.Store = unknowing{store, &saved}
		d := screentest.New(t, deps, join.New, nav.Address{Screen: nav.Join, Horse: h.ID}, layout.Size{W: 80, H: 24})
		d.Press(key)
		assert.Equal(t, key == "3", d.Shows("they stay one horse"), d.View())
		if key == "3" {
			assert.True(t, d.Reads("One horse: Ann, 2 Mar 2026 11:05. Two horses: Ann, 2 Mar 2026 11:05."), d.View())
		}
		d.Press("ctrl+s")
		require.True(t, d.Left(), d.View())
		assert.Equal(t, key == "2", saved.Apart)
		assert.ElementsMatch(t, []exam.HorseID{h.ID, other.ID}, saved.Horses)
		assert.Equal(t, "Ann Bell", saved.By)
	}
}

// unknowing is a store whose second joining did not hold the first, and that keeps the next.
type unknowing struct {
	*examtest.Store
	saved *exam.Joining
}

func (u unknowing) Joinings() (exam.Joinings, error) {
	said, err := u.Store.Joinings()
	said[1].Unseen = []exam.Hash{said[0].Line}
	return said, err
}

func (u unknowing) Join(j exam.Joining) error { *u.saved = j; return nil }
