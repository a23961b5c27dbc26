package settle_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/settle"
	"loosebox/tui/screentest"
)

// disputed is a store in which everything that is settled occurs: two needles, two values
// of a horse, one horse twice.
type disputed struct {
	exam.Store
	visits []exam.Visit
	differ exam.HorseID
}

func (d disputed) Unsettled() ([]exam.Visit, error) { return d.visits, nil }

func (d disputed) Visit(id exam.VisitID) (exam.Visit, error) {
	for _, v := range d.visits {
		if v.ID == id {
			return v, nil
		}
	}
	return d.Store.Visit(id)
}

func (d disputed) Horses() ([]exam.Found, error) {
	list, err := d.Store.Horses()
	for i := range list {
		if list[i].Horse.ID == d.differ {
			said := func(text, by string) exam.HorseValue {
				return exam.HorseValue{Text: text, Signed: exam.Signed{By: by, At: screentest.Now()}}
			}
			list[i].Horse.Differ = []exam.HorseDispute{{Field: "place", Said: []exam.HorseValue{said("box 1", "Ann"), said("box 9", "Eva")}}}
		}
	}
	return list, err
}

func open(t *testing.T, size layout.Size) (*screentest.Driver, disputed) {
	deps, store := screentest.Deps(t)
	yard := screentest.Yard(t, store)
	_, err := store.SaveHorse(exam.Horse{Name: "Brackn", Kind: exam.AnimalHorse, Revision: 1, Chip: yard["Bracken"].Chip, Place: "box 9"}, "Eva", screentest.Now())
	require.NoError(t, err)
	v := screentest.Open(t, store)
	order := exam.Order{Product: "Product A"}
	v.Injections = []exam.Injection{
		{Number: 1, Order: order, State: exam.InjectionGiven, GivenML: 1, Signed: exam.Signed{By: "Ann", Seq: 3}, Unaware: []int{2}},
		{Number: 2, Order: order, State: exam.InjectionGiven, GivenML: 1, Signed: exam.Signed{By: "Eva", Seq: 4}, Unaware: []int{1}},
	}
	s := disputed{store, []exam.Visit{v}, yard["Pip"].ID}
	deps.Store = s
	deps.Desk.Store = s
	return screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle}, size), s
}

func TestWhatIsToBeSettledIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "settle", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		return d
	})
}

func TestEachLineLeadsToWhereItIsSettled(t *testing.T) {
	d, s := open(t, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Both went in, and both count."), d.View())
	d.Press("enter")
	assert.Equal(t, []any{nav.Settle, s.visits[0].ID}, []any{d.Last().Screen, d.Last().Visit})
	d, _ = open(t, layout.Size{W: 80, H: 24})
	d.Press("down", "enter")
	assert.Equal(t, []any{nav.Settle, s.differ}, []any{d.Last().Screen, d.Last().Horse})
	d, _ = open(t, layout.Size{W: 80, H: 24})
	d.Press("down", "down")
	assert.True(t, d.Reads("They have the same chip."), d.View())
	d.Press("enter")
	assert.Equal(t, nav.Join, d.Last().Screen)
	assert.NotEmpty(t, d.Last().Other)
}

func TestSomebodySaysThatTheyLooked(t *testing.T) {
	deps, store := screentest.Deps(t)
	_, s := open(t, layout.Size{W: 80, H: 24})
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	v.Injections = s.visits[0].Injections
	two := disputed{store, []exam.Visit{v}, ""}
	deps.Store, deps.Desk.Store = two, two
	d := screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle, Visit: v.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Both went in"), d.View())
	d.Press("ctrl+s")
	assert.True(t, d.Reads("type what came of it"), d.View())
	before, err := store.Entries(v.ID)
	require.NoError(t, err)
	d.Type("vet told")
	d.Press("ctrl+s")
	after, err := store.Entries(v.ID)
	require.NoError(t, err)
	require.Len(t, after, len(before)+1, d.View())
	last := after[len(after)-1]
	assert.Equal(t, []any{exam.EntryNote, "vet told"}, []any{last.Kind, last.Note})
	assert.NotEmpty(t, last.Settles)
}

// What stands of a joined horse is kept by a press for each field; a held key keeps nothing.
func TestWhatStandsIsKept(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	other, err := store.SaveHorse(exam.Horse{Name: "Brackn", Kind: exam.AnimalHorse, Revision: 1, Place: "box 9"}, "Eva", screentest.Now())
	require.NoError(t, err)
	require.NoError(t, store.Join(exam.Joining{Horses: []exam.HorseID{h.ID, other.ID}, By: "Ann", At: screentest.Now()}))
	open := func() *screentest.Driver {
		return screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle, Horse: h.ID}, layout.Size{W: 80, H: 24})
	}
	d := open()
	for range 60 {
		d.Press("enter")
	}
	one, err := store.Horse(h.ID)
	require.NoError(t, err)
	require.Len(t, one.Differ, 2, "name and location")
	d = open()
	d.Press("1", "ctrl+s")
	one, err = store.Horse(h.ID)
	require.NoError(t, err)
	require.Len(t, one.Differ, 1, d.View())
	d = open()
	d.Press("e")
	assert.Equal(t, nav.NewForm, d.Last().Screen)
	assert.Equal(t, h.ID, d.Last().Horse)
}

func TestASettingInTwoWaysIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "settle-setting", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, store := screentest.Deps(t)
		for _, v := range []string{"5", "9"} {
			require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Eva " + v, At: screentest.Now()}))
		}
		return screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle, Setting: exam.SettingSiteML}, size)
	})
}

// Of two values of a setting somebody chooses one, and with it of both lines; a held key
// chooses nothing.
func TestASettingIsChosen(t *testing.T) {
	deps, store := screentest.Deps(t)
	for _, v := range []string{"5", "9"} { // a line that names nothing did not know of the other
		require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Eva " + v, At: screentest.Now()}))
	}
	d := screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("5 mL, set by Eva 5"), d.View())
	d.Press("enter")
	assert.Equal(t, exam.SettingSiteML, d.Last().Setting)
	open := func() *screentest.Driver {
		return screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle, Setting: exam.SettingSiteML}, layout.Size{W: 80, H: 24})
	}
	d = open()
	assert.True(t, d.Reads("[not decided]"), d.View())
	assert.True(t, d.Reads("9 mL: set by Eva 9"), "who set it stands beside what can be chosen: %s", d.View())
	assert.True(t, d.Reads("in use until somebody chooses: 9 mL"), d.View())
	for range 60 {
		d.Press("enter")
	}
	states, err := store.PracticeSettings()
	require.NoError(t, err)
	require.True(t, states[0].Differ(), d.View())
	d = open()
	d.Press("left", "left", "ctrl+s")
	states, err = store.PracticeSettings()
	require.NoError(t, err)
	require.Len(t, states[0].Said, 1, d.View())
	assert.Equal(t, "5", string(states[0].InUse().Value))
	assert.InDelta(t, 5, deps.Settings.SiteML, 0, "every screen sees it")
	assert.True(t, open().Reads("Nothing of this setting is to be settled."))
}

// Two exams of one horse that are open lead to the horse, where each can be finished.
func TestTwoOpenExamsLeadToTheHorse(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	var err error
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	_, err = deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Eva Holm", screentest.Now())
	require.NoError(t, err)
	d := screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("two exams open"), d.View())
	assert.True(t, d.Reads("2 exams of this horse are open: Eva Holm on this laptop"), d.View())
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Horse, Horse: h.ID}, d.Last())
}

// Who settles something is a person: a name without a letter is asked for again, on each form.
func TestWhoSettlesHasAName(t *testing.T) {
	for name, make := range map[string]func(*nav.Deps, *examtest.Store) nav.Address{
		"looked": func(deps *nav.Deps, store *examtest.Store) nav.Address {
			screentest.Yard(t, store)
			v := screentest.Open(t, store)
			v.Injections = []exam.Injection{{Number: 1, Signed: exam.Signed{Seq: 3}, Unaware: []int{2}}, {Number: 2, Signed: exam.Signed{Seq: 4}, Unaware: []int{1}}}
			two := disputed{store, []exam.Visit{v}, ""}
			deps.Store, deps.Desk.Store = two, two
			return nav.Address{Screen: nav.Settle, Visit: v.ID}
		},
		"kept": func(_ *nav.Deps, store *examtest.Store) nav.Address {
			h := screentest.Yard(t, store)["Bracken"]
			other, err := store.SaveHorse(exam.Horse{Name: "Brackn", Kind: exam.AnimalHorse, Revision: 1, Place: "box 9"}, "Eva", screentest.Now())
			require.NoError(t, err)
			require.NoError(t, store.Join(exam.Joining{Horses: []exam.HorseID{h.ID, other.ID}, By: "Ann", At: screentest.Now()}))
			return nav.Address{Screen: nav.Settle, Horse: h.ID}
		},
		"chosen": func(_ *nav.Deps, store *examtest.Store) nav.Address {
			for _, v := range []string{"5", "9"} {
				require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Eva", At: screentest.Now()}))
			}
			return nav.Address{Screen: nav.Settle, Setting: exam.SettingSiteML}
		},
	} {
		deps, store := screentest.Deps(t)
		to := make(deps, store)
		deps.Settings.Person = "12."
		d := screentest.New(t, deps, settle.New, to, layout.Size{W: 80, H: 24})
		switch name {
		case "looked":
			d.Type("vet told")
		case "kept":
			d.Press("1")
		case "chosen":
			d.Press("left")
		}
		d.Press("ctrl+s")
		assert.False(t, d.Left(), name)
		assert.True(t, d.Reads("type your name or initials"), "%s: %s", name, d.View())
	}
}

// onTwo is a store in which the visits that are named stand on laptops of those names.
type onTwo struct {
	exam.Store
	on map[exam.VisitID]string
}

func (o onTwo) there(v exam.Visit) exam.Visit {
	if name := o.on[v.ID]; name != "" {
		v.Laptops = []exam.OnLaptop{{Laptop: name, Holds: true}}
	}
	return v
}

func (o onTwo) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := o.Store.Visit(id)
	return o.there(v), err
}

func (o onTwo) Unsettled() (out []exam.Visit, err error) {
	for id := range o.on {
		v, err := o.Visit(id)
		if err != nil {
			return nil, err
		}
		if !v.Compared() {
			out = append(out, v)
		}
	}
	return out, nil
}

// Two exams of a horse that two laptops had open at once are looked at by a person, once for
// both; a held key says nothing.
func TestExamsAtOnceAreLookedAt(t *testing.T) {
	deps, store := screentest.Deps(t)
	h, err := store.SaveHorse(exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Revision: 1}, "Eva", screentest.Now())
	require.NoError(t, err)
	on := map[exam.VisitID]string{}
	var ids []exam.VisitID
	for _, laptop := range []string{"clinic", "truck"} {
		v, err := deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Eva on "+laptop, screentest.Now())
		require.NoError(t, err)
		screentest.Write(t, store, v.Visit.ID, exam.Entry{Kind: exam.EntryClosed, By: "Eva", At: screentest.Now().Add(time.Hour)})
		on[v.Visit.ID], ids = laptop, append(ids, v.Visit.ID)
	}
	two := onTwo{store, on}
	deps.Store, deps.Desk.Store = two, two
	d := screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("two exams at once"), d.View())
	assert.True(t, d.Reads("2 exams of this horse were open at once: "), d.View())
	d.Press("enter")
	assert.Equal(t, nav.Settle, d.Last().Screen)
	d = screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle, Visit: ids[0]}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Look at both: what was found, and what was given."), d.View())
	for range 60 {
		d.Press("enter")
	}
	left, err := two.Unsettled()
	require.NoError(t, err)
	require.Len(t, left, 2)
	d.Press("up")
	d.Type("one dose in all")
	d.Press("ctrl+s")
	assert.True(t, d.Left(), d.View())
	for _, id := range ids {
		lines, err := store.Entries(id)
		require.NoError(t, err)
		last := lines[len(lines)-1]
		assert.Equal(t, []any{exam.EntryAdded, "one dose in all", []int{1}}, []any{last.Kind, last.Note, last.Settles})
	}
	d = screentest.New(t, deps, settle.New, nav.Address{Screen: nav.Settle}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Nothing is to be settled."), d.View())
}
