package start_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/start"
	"loosebox/tui/screentest"
)

func open(t *testing.T, name string, person string, size layout.Size) (*screentest.Driver, *examtest.Store, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	deps.Settings.Person = person
	h := screentest.Yard(t, store)[name]
	return screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID}, size), store, h
}

func TestStartIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "start", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Thistle", "Ann Bell", size)
		return d
	})
	screentest.Goldens(t, "start-states", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Bracken", "Ann Bell", size)
		d.Press("down", "down", "right", "space")
		return d
	})
	screentest.Goldens(t, "start-heat", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, "Thistle", "Ann Bell", size)
		d.Press("down", "down", "5", "space", "enter")
		d.Type("31C")
		d.Press("enter")
		d.Type("65")
		return d
	})
}

func TestBeginStoresVisitContextAndPerson(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, store, h := open(t, "Thistle", "", layout.Size{W: 80, H: 24})
		assert.True(t, d.Shows("▴ kicks · bites"), "the cautions stand there in full")
		d.Press("enter")
		assert.True(t, d.Shows("type your name or initials; every entry"), "a name is needed")
		d.Type("Bo Lind")
		d.Press("enter", "right", "enter") // the second routine
		d.Type("coughs a little")
		d.Press("enter", "right", space, "right", "right", space) // worked, travelled
		d.Press("enter", "enter", "enter", "enter")               // air, humidity and wet-bulb globe stay empty
		assert.True(t, d.Reads("medicine in the last 24 hours: ask the"))
		d.Press("enter", "enter") // nor was medicine asked: that is said once
		assert.Empty(t, d.Opened())
		assert.True(t, d.Reads("Not asked yet. A medicine can hide fever,"), d.View())
		d.Press("enter", "enter")
		require.Equal(t, nav.Exam, d.Last().Screen)
		v, err := store.Visit(d.Last().Visit)
		require.NoError(t, err)
		assert.Equal(t, h.ID, v.Horse.ID)
		assert.Equal(t, h.Cautions, v.Horse.Cautions)
		assert.Equal(t, "tpr-recheck", v.Routine)
		assert.Equal(t, "coughs a little", v.Reason)
		assert.Equal(t, "Bo Lind", v.By)
		assert.Equal(t, []exam.State{exam.StateWorked, exam.StateTravelled}, v.Context.States)
		settings, err := store.Settings()
		require.NoError(t, err)
		assert.Equal(t, "Bo Lind", settings.Person)
		d.Press("esc")
		assert.True(t, d.Left(), "the exam stands in place of this screen")
	}
}

func TestMedicineBeforeTheExam(t *testing.T) {
	start := func(presses ...string) (*screentest.Driver, func() exam.Visit) {
		d, store, _ := open(t, "Thistle", "Ann Bell", layout.Size{W: 80, H: 24})
		d.Press("down", "down", "down")
		assert.True(t, d.Reads("medicine in the last 24 hours: ask the"))
		assert.False(t, d.Shows("[x]"), "nothing is preselected")
		d.Press(presses...)
		return d, func() exam.Visit {
			v, err := store.Visit(d.Last().Visit)
			require.NoError(t, err)
			return v
		}
	}
	d, visit := start("3", "space", "4", "space", "enter") // for pain or fever, to calm
	assert.True(t, d.Reads("what was given and when; may stay empty"))
	d.Type("A paste at 07:00")
	d.Press("enter", "enter")
	assert.Equal(t, exam.Context{Medicines: []exam.Medicine{exam.ForPain, exam.ToCalm}, Given: "A paste at 07:00"}, visit().Context)

	d, visit = start("3", "space", "enter")
	d.Type("lost")
	d.Press("up", "1", "space") // none stands alone, and what was given goes with it
	assert.False(t, d.Shows("what and when"))
	d.Press("ctrl+s", "ctrl+s")
	assert.Equal(t, exam.Context{Medicines: []exam.Medicine{exam.NoMedicine}}, visit().Context)
}

func TestGoingOnAsksWhoIsWorkingNow(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	past, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	v := past[0]
	require.False(t, v.Closed())
	deps.Settings.Person = "Bo Lind"
	d := screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: v.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Ann Bell worked on it last. Who is working now?"), d.View())
	assert.False(t, d.Shows("routine"), "the routine stands")
	assert.False(t, d.Reads("ago"))
	deps.Now = func() time.Time { return screentest.Now().Add(80 * time.Hour) }
	old := screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: v.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, old.Reads("This visit began 3 days ago. For what you find now, finish it and begin another. It began"), old.View())
	deps.Now = screentest.Now
	assert.True(t, d.Shows("at rest"), "what was said before is there")
	d.Press("enter", "enter", "2", "space", "ctrl+s") // medicine: not known
	assert.Equal(t, nav.Address{Screen: nav.Exam, Horse: h.ID, Visit: v.ID, From: nav.Start}, d.Last())
	now, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, exam.Context{States: v.Context.States, Medicines: []exam.Medicine{exam.MedicineNotKnown}}, now.Context)
	entries, err := store.Entries(v.ID)
	require.NoError(t, err)
	assert.Equal(t, "Bo Lind", entries[len(entries)-1].By)

	d = screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: v.ID}, layout.Size{W: 80, H: 24})
	d.Press("ctrl+s", "ctrl+s")
	again, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, now.Entries, again.Entries, "what was not changed is not written again")
}

// 30 C is 86 F (NIST SP 811); with 70 % it makes 156, over 150: eXtension Horses.
func TestHeatOfTheDay(t *testing.T) {
	d, store, _ := open(t, "Thistle", "Ann Bell", layout.Size{W: 80, H: 24})
	assert.False(t, d.Shows("humidity"), "not asked of a horse at rest")
	d.Press("down", "down", "right", "space", "5", "space") // worked, hot weather
	assert.True(t, d.Reads("measure again at rest: heart after 10 to 45 min, breaths after 10 to 15 min, temperature after 30 to 45 min."))
	d.Press("enter")
	d.Type("300")
	d.Press("enter")
	assert.True(t, d.Reads("300 C is no temperature of the air"))
	d.Press("backspace", "enter")
	d.Type("70 %")
	assert.True(t, d.Reads("heat index 156, over 150, cooling is reduced"))
	assert.True(t, d.Reads("eXtension Horses"))
	d.Press("enter")
	d.Type("84.2F")
	assert.True(t, d.Reads("29 C, over 28 C, where competitions begin to take measures"))
	d.Press("ctrl+s", "ctrl+s")
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, notation.Quantity{Value: 30, Unit: notation.Celsius}, *v.Context.Air)
	assert.InDelta(t, 70, *v.Context.Humid, 0)
	assert.Equal(t, notation.Quantity{Value: 84.2, Unit: notation.Fahrenheit}, *v.Context.Globe)
}

func TestAtRestStandsAlone(t *testing.T) {
	d, store, _ := open(t, "Thistle", "Ann Bell", layout.Size{W: 80, H: 24})
	d.Press("down", "down", "right", "space") // worked
	d.Press("left", "space", "ctrl+s", "ctrl+s")
	require.Equal(t, nav.Exam, d.Last().Screen)
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, []exam.State{exam.StateRest}, v.Context.States)
}

func TestNothingMarkedIsNoContext(t *testing.T) {
	d, store, _ := open(t, "Thistle", "Ann Bell", layout.Size{W: 80, H: 24})
	d.Press("ctrl+s", "ctrl+s")
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Empty(t, v.Context.States)
	assert.Equal(t, 1, v.Entries, "what was not said is not stored")
}

func TestRoutineOfTheAddressOrTheSettingsComesFirst(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Pip"]
	for _, c := range []struct{ asked, setting, want string }{
		{"", "", "newborn-foal"}, {"", "before-vaccination", "newborn-foal"}, {"colic-check", "", "colic-check"}, {"gone", "gone", "newborn-foal"},
	} {
		deps.Settings.Routine = c.setting
		d := screentest.New(t, deps, start.New, nav.Address{Horse: h.ID, Routine: c.asked}, layout.Size{W: 80, H: 24})
		d.Press("ctrl+s", "ctrl+s")
		v, err := store.Visit(d.Last().Visit)
		require.NoError(t, err)
		assert.Equal(t, c.want, v.Routine)
	}
}

func TestRoutineOfTheSettingsIsForTheGrown(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	for setting, want := range map[string]string{"": "full-exam", "colic-check": "colic-check", "gone": "full-exam"} {
		deps.Settings.Routine = setting
		d := screentest.New(t, deps, start.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
		d.Press("ctrl+s", "ctrl+s")
		v, err := store.Visit(d.Last().Visit)
		require.NoError(t, err)
		assert.Equal(t, want, v.Routine)
	}
}

// TestTheStartFormRemembersAndIsTwoKeys: the routine of the last exam is offered again, and u answers the question for
// medicine with none and begins. Nothing is said of medicine before it was asked.
func TestTheStartFormRemembersAndIsTwoKeys(t *testing.T) {
	deps, store := screentest.Deps(t)
	deps.Settings.Person = "Ann Bell"
	yard := screentest.Yard(t, store)
	d := screentest.New(t, deps, start.New, nav.Address{Horse: yard["Thistle"].ID}, layout.Size{W: 80, H: 24})
	d.Press("u")
	assert.Empty(t, d.Opened(), "u is no answer before the question")
	d.Press("3", "ctrl+s")
	assert.True(t, d.Shows("Not asked yet"), d.View())
	d.Press("u", "u", "u")
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, "five-minute-check", v.Routine)
	assert.Equal(t, []exam.Medicine{exam.NoMedicine}, v.Context.Medicines)
	assert.Equal(t, "five-minute-check", deps.Settings.Routine)

	d = screentest.New(t, deps, start.New, nav.Address{Horse: yard["Bracken"].ID}, layout.Size{W: 80, H: 24})
	d.Press("ctrl+s", "u")
	v, err = store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, "five-minute-check", v.Routine)
	assert.Equal(t, []exam.Medicine{exam.NoMedicine}, v.Context.Medicines)

	d = screentest.New(t, deps, start.New, nav.Address{Horse: yard["Pip"].ID}, layout.Size{W: 80, H: 24})
	d.Press("ctrl+s", "u")
	assert.Equal(t, "five-minute-check", deps.Settings.Routine, "a foal's routine is not remembered for grown horses")
}

func TestRefusedBeginKeepsWhatWasTyped(t *testing.T) {
	d, store, _ := open(t, "Thistle", "Ann Bell", layout.Size{W: 80, H: 24})
	d.Press("down")
	d.Type("off feed? and quiet")
	assert.Empty(t, d.Opened(), "a question mark is text here")
	store.FailWith(errors.New("the disk is full"))
	d.Press("ctrl+s", "ctrl+s")
	assert.True(t, d.Shows("NOT opened"))
	assert.True(t, d.Shows("off feed? and quiet"))
	store.FailWith(nil)
	d.Press("ctrl+s", "ctrl+s")
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, "off feed? and quiet", v.Reason)
}

// A clock that fell back a year is told where an exam is begun, and where one is gone on with.
func TestAClockThatIsBehindIsTold(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	open, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	for _, at := range []nav.Address{{Horse: h.ID}, {Visit: open[0].ID}} {
		for years, told := range map[int]bool{0: false, -1: true} {
			deps.Now = func() time.Time { return screentest.Now().AddDate(years, 0, 0) }
			d := screentest.New(t, deps, start.New, at, layout.Size{W: 80, H: 24})
			assert.Equal(t, told, d.Shows("▴ The clock says 2 Mar 2025"), d.View())
			d.Squeeze()
		}
	}
}

func TestOpenVisitIsSaid(t *testing.T) {
	d, _, _ := open(t, "Bracken", "Ann Bell", layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("The visit begun 2 Mar 2026 09:40 is not finished"))
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			deps.Settings.Person = text
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Kind: exam.AnimalHorse, Cautions: []string{text, text}}, text, screentest.Now())
			require.NoError(t, err)
			d := screentest.New(t, deps, start.New, nav.Address{Horse: h.ID}, size)
			d.Press("down")
			d.Paste(text)
			d.View()
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	deps, store := screentest.Deps(b)
	h := screentest.Yard(b, store)["Bracken"]
	d := screentest.New(b, deps, start.New, nav.Address{Horse: h.ID}, layout.Size{W: 120, H: 40})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

// Whoever goes on with a visit that is open on another laptop is told whom to ask first.
func TestGoingOnWithAVisitOfAnotherLaptop(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	past, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	d := screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: past[0].ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Ann Bell has this horse open on truck since 2 Mar 09:40, last seen 10:02. Ask there before you go on. An exam of your own: esc, then b. This visit began"), d.View())
}

// Whoever begins an exam of a horse that a colleague has open on another laptop is told once
// where and since when, and then begins an own one.
func TestAnOwnExamBesideAColleagues(t *testing.T) {
	deps, store := screentest.Deps(t)
	deps.Settings.Person = "Eva Holm"
	h := screentest.Yard(t, store)["Bracken"]
	past, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	d := screentest.New(t, deps, start.New, nav.Address{Screen: nav.Start, Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Ann Bell has this horse open on truck since 2 Mar 09:40, last seen 10:02. You can begin an exam of your own: both stay."), d.View())
	d.Press("ctrl+s")
	assert.Empty(t, d.Opened(), "it is said once more, where the eye is")
	assert.True(t, d.Reads("Ask there what was given. ctrl+s again begins an exam of your own: both stay."), d.View())
	assert.False(t, d.Shows("Not asked yet"), "one thing at a time")
	d.Press("ctrl+s", "u")
	require.Equal(t, nav.Exam, d.Last().Screen)
	assert.NotEqual(t, past[0].ID, d.Last().Visit)
	v, err := store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, "Eva Holm", v.By)
}
