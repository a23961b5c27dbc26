package injection_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
)

// bench is the injection screen of Bracken's open visit.
type bench struct {
	*screentest.Driver
	t     *testing.T
	deps  *nav.Deps
	store *examtest.Store
	id    exam.VisitID
	now   time.Time
}

func sit(t *testing.T, size layout.Size, covers ...exam.CoveredProcedure) *bench {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	b := &bench{t: t, deps: deps, store: store, id: screentest.Open(t, store).ID, now: screentest.Now()}
	deps.Now = func() time.Time { return b.now }
	deps.Settings.WatchMinutes = 20
	if len(covers) > 0 {
		screentest.Decide(t, store, b.id, covers...)
	}
	b.open(0, size)
	return b
}

// open puts the screen up anew, as after a start of the program.
func (b *bench) open(number int, size layout.Size) {
	b.Driver = screentest.New(b.t, b.deps, questions.Of(script.Injection), nav.Address{Screen: nav.Injection, Visit: b.id, Number: number}, size)
}

func (b *bench) visit() exam.Visit {
	b.t.Helper()
	v, err := b.store.Visit(b.id)
	require.NoError(b.t, err)
	return v
}

func (b *bench) injection(n int) exam.Injection {
	b.t.Helper()
	i, ok := b.visit().Injection(n)
	require.True(b.t, ok, "no injection %d", n)
	return i
}

// line types into the line under the cursor and goes to the next.
func (b *bench) line(text string) {
	b.Type(text)
	b.Press("enter")
}

// vaccine fills the order of a vaccine in, up to the check list.
func (b *bench) vaccine() {
	b.line("LT-4471")
	b.line("02/27")
	b.line("invented toxoid")
	b.line("")        // strength
	b.line("Maker H") // maker
	b.line("")        // dose: as decided
	b.line("500kg")
	b.line("1") // volume
	b.Press("ctrl+s")
}

// checks answers every point of the check list as in order and writes it down.
func (b *bench) checks() {
	require.True(b.t, b.Shows("Right horse"), b.View())
	b.Press(inOrder()...)
	b.Press("enter")
}

// inOrder are the letters that answer every point of the list: chip read, nobody
// else here, neither food nor competition.
func inOrder() []string {
	return []string{"c", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b"}
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func TestLockedUntilTheVeterinarianDecided(t *testing.T) {
	b := sit(t, wide())
	assert.True(t, b.Shows("LOCKED"))
	assert.True(t, b.Reads("The veterinarian has not decided yet"))
	before := b.store.Writes()
	b.Type("abc")
	b.Press("space", "ctrl+s", "tab", "1", "x")
	assert.Equal(t, before, b.store.Writes(), "nothing can be typed or written")
	b.Press("enter")
	assert.Equal(t, nav.After, b.Last().Screen)
	assert.Equal(t, b.id, b.Last().Visit)
}

func TestLockedForAnotherProductAndAfterSomethingNew(t *testing.T) {
	b := sit(t, wide(), exam.CoveredProcedure{Kind: exam.Drawing})
	assert.True(t, b.Reads("No decision covers an injection. Decided so far: go ahead for blood draw"), b.View())

	b = sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	screentest.Number(t, b.store, b.visit(), "temp.rectal", exam.NoSite, 41, notation.Celsius)
	b.Press("enter") // to the needle
	b.Press("i")     // the needle is in: the gate is asked first
	assert.True(t, b.Shows("LOCKED"), b.View())
	assert.True(t, b.Reads("something new for the veterinarian"))
	assert.Empty(t, b.injection(1).Attempts, "no needle was written down")
	b.Press("x", "w")
	b.line("told to wait")
	b.Press("enter")
	assert.Equal(t, exam.InjectionStopped, b.injection(1).State, "that it is not given can always be written")
}

func TestAVaccineFromOrderToWatch(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	i := b.injection(1)
	assert.Equal(t, exam.InjectionReady, i.State)
	assert.Equal(t, "2027-02-28", i.Order.Expiry.Last)
	assert.Equal(t, "1 dose", i.Order.Dose)
	assert.InDelta(t, 1, i.Order.VolumeML, 0)
	assert.InDelta(t, 500, i.Order.WeightKg, 0)
	assert.Equal(t, exam.ChipRead, i.Checks[0].Words)
	assert.Len(t, i.Checks, 11)
	assert.Positive(t, i.Order.Decision)

	assert.True(t, b.Shows("neck triangle, left (proposed)"), b.View())
	b.Press("enter")
	b.Press("up", "up")
	b.line("20 G, 1.5 in")
	b.Press("enter", "enter")
	assert.True(t, b.Reads("Enter is not enough. Press i"), b.View())
	assert.Empty(t, b.injection(1).Attempts)
	b.Press("i")
	a, in := b.injection(1).NeedleIn()
	require.True(t, in)
	assert.Equal(t, exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}, a.Place)
	assert.Equal(t, "20 G, 1.5 in", a.Needle)

	b.Press("enter")
	assert.True(t, b.Reads("Press one of: c, b, m."), "enter alone says nothing was seen")
	b.Press("1", "c")
	assert.Equal(t, exam.InjectionClear, b.injection(1).State)
	b.Press("enter", "c")
	assert.Equal(t, exam.InjectionClear, b.injection(1).State, "the key of the screen before means nothing here")
	b.Press("g")
	i = b.injection(1)
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.InDelta(t, 1, i.GivenML, 0)
	assert.Equal(t, exam.SharpsBox, i.Disposal)
	assert.False(t, i.Afterwards)
	watches := b.visit().Watching()
	require.Len(t, watches, 1)
	assert.Equal(t, 20, watches[0].Minutes)
	b.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Watch, Visit: b.id, Number: 1}, b.Last())
}

func TestBloodOnAspirationBeginsElsewhere(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	b.Press("enter", "i") // site, needle in
	b.Press("b")          // blood
	i := b.injection(1)
	require.Len(t, i.Attempts, 1)
	assert.Equal(t, exam.InjectionBlood, i.Attempts[0].Seen, "the attempt is recorded")
	assert.True(t, b.Reads("A new needle, another site"))
	assert.True(t, b.Shows("neck triangle, right (proposed)"), b.View())
	b.Press("0") // no tenth place
	b.Press("end", "enter")
	assert.True(t, b.Reads("Blood came here today"), b.View())
	b.Press("enter")
	assert.True(t, b.Reads("take a new needle and another site"), b.View())
	require.Len(t, b.injection(1).Attempts, 1)
	b.Press("home", "enter", "i", "c", "g")
	i = b.injection(1)
	assert.Equal(t, exam.InjectionGiven, i.State)
	require.Len(t, i.Attempts, 2)
	assert.Equal(t, exam.Right, i.Attempts[1].Place.Side)
}

func TestGlutealTakesItsWarning(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	b.Press("7")
	assert.True(t, b.Shows("> ▴ 7 gluteal, left"), b.View())
	assert.True(t, b.Reads("an abscess there cannot drain"))
	b.Press("enter")
	assert.True(t, b.Shows("Read the warning first. enter again uses"))
	assert.False(t, b.Shows("the needle is in"))
	b.Press("enter")
	assert.True(t, b.Shows("the needle is in"))
}

func TestExpiredIsRefused(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.line("LT-1")
	b.line("01/26")
	assert.True(t, b.Reads("the product expired on 31 Jan 2026: it is not given"), b.View())
	b.Press("ctrl+s")
	assert.False(t, b.Shows("Right horse"))
	assert.Empty(t, b.visit().Injections)
}

func TestADoseInTheWrongUnitIsRefused(t *testing.T) {
	for text, says := range map[string]string{"5": "has no unit", "2 kg": "no unit of a dose", "5 %": "the strength of a label", "2 doses": "one whole dose", "38 C": "no unit of a dose"} {
		b := sit(t, wide(), exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine T", Route: exam.RouteIM})
		b.Press("down", "down", "down", "down", "down")
		b.Type(text)
		b.Press("enter")
		assert.True(t, b.Reads(says), "%s: %s", text, b.View())
	}
}

func TestHostileLotAndProduct(t *testing.T) {
	for _, bad := range screentest.Hostile() {
		c := screentest.Tetanus()
		c.Product = "A" + bad
		b := sit(t, layout.Size{W: 60, H: 20}, c)
		b.Paste("L" + bad)
		b.Press("enter")
		b.line("02/27")
		b.Press("down", "down", "down", "down", "down")
		b.line("1")
		b.Press("ctrl+s")
		b.View() // asserts width, height and control characters
		b.checks()
		o := b.injection(1).Order
		assert.Equal(t, notation.CleanLine(o.Lot, 60), o.Lot)
		assert.NotContains(t, o.Product+o.Lot, "\x1b")
		b.Press("enter", "i", "c", "g")
		b.View()
	}
}

func TestClockSetBackLocks(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	b.now = b.now.Add(-3 * time.Hour)
	b.Press("enter", "i")
	assert.True(t, b.Reads("the clock was set back"), b.View())
	assert.Empty(t, b.injection(1).Attempts)
}

func TestIntoAVeinTheBloodPulses(t *testing.T) {
	b := sit(t, wide(), screentest.Calming())
	b.vein()
	b.Press("u", "i") // upper third, seated
	assert.True(t, b.Shows("What does the blood do, syringe off?"), b.View())
	b.Press("p")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionPulsing, i.State)
	assert.Equal(t, "artery", i.Sign)
	assert.True(t, b.Shows("LOCKED"), b.View())
	assert.True(t, b.Reads("Needle out, press on it, give nothing, tell the vet."), b.View())
	assert.True(t, b.Reads("the blood pulsed"))
	b.Press("x", "w")
	b.line("blood pulsed")
	b.Press("enter")
	assert.Equal(t, exam.InjectionStopped, b.injection(1).State)
}

// vein fills in an order by weight that goes into a vein, up to the needle.
func (b *bench) vein() {
	b.line("C-9")
	b.line("2027-02-15")
	b.line("product c")
	b.line("10 mg/mL")
	b.line("Maker H")
	b.line("") // dose as decided
	b.line("500kg")
	b.Press("1", "enter") // 1 mL syringe
	assert.True(b.t, b.Reads("500 kg = 10 mg"), b.View())
	b.Press("ctrl+s")
	b.checks()
	assert.True(b.t, b.Shows("jugular, upper third, left (proposed)"), b.View())
	b.Press("enter", "i")
}

func TestIntoAVein(t *testing.T) {
	b := sit(t, wide(), screentest.Calming())
	b.vein()
	i := b.injection(1)
	assert.InDelta(t, 1, i.Order.VolumeML, 1e-9)
	assert.Equal(t, "as said", i.Order.WeightFrom)
	b.Press("u", "i", "d")
	assert.Equal(t, exam.InjectionInVein, b.injection(1).State)
	assert.True(t, b.Shows("Does blood come back into the syringe"), b.View())
	b.Press("b", "g")
	assert.Equal(t, exam.InjectionGiven, b.injection(1).State)
}

func TestNoBloodComesBackStopsBesideTheVein(t *testing.T) {
	b := sit(t, wide(), screentest.Calming())
	b.vein()
	b.Press("u", "i", "d", "e", "e") // twice: it answers once
	assert.True(t, b.Reads("How much went in?"), b.View())
	b.Press("enter", "k")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, "outside the vein", i.Sign)
	assert.True(t, i.NotKnown)
	assert.True(t, b.Shows("TELL THE VET"), b.View())
}

func TestTooLowOnTheNeckBeginsAgain(t *testing.T) {
	b := sit(t, wide(), screentest.Calming())
	b.vein()
	b.Press("l")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionNotFound, i.State)
	assert.True(t, b.Shows("jugular, upper third, left"), "the vein is looked for again")
}

// What is asked after an interruption, each answer as the record has it.
func TestAfterAnInterruptionAPersonSaysWhatHappened(t *testing.T) {
	for _, c := range []struct {
		name  string
		keys  []string
		state exam.InjectionPhase
		ml    float64
		known bool
	}{
		{"given", []string{"g", "0", ".", "8", "enter", "enter"}, exam.InjectionGiven, 0.8, true},
		{"given, not known how much", []string{"k"}, exam.InjectionGiven, 0, false},
		{"needle out", []string{"o"}, exam.InjectionNotFound, 0, true},
		{"stopped", []string{"n"}, exam.InjectionStopped, 0, true},
		{"not known", []string{"u"}, exam.InjectionStopped, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := sit(t, wide(), screentest.Tetanus())
			b.vaccine()
			b.checks()
			b.Press("enter", "i")
			b.open(0, wide()) // as after a kill of the program
			assert.True(t, b.Reads("what happened?"), b.View())
			before := b.visit().Entries
			b.Press("enter")
			assert.Equal(t, before, b.visit().Entries, "enter alone makes nothing up")
			b.Press(c.keys...)
			i := b.injection(1)
			assert.Equal(t, c.state, i.State)
			assert.True(t, i.Afterwards)
			assert.Equal(t, !c.known, i.NotKnown)
			assert.InDelta(t, c.ml, i.GivenML, 0)
			_, in := i.NeedleIn()
			assert.False(t, in)
		})
	}
}

func TestTheNeedleIsStillIn(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	b.Press("enter", "i")
	b.Press("esc")
	assert.True(t, b.Reads("A needle is in. esc again leaves"))
	b.Press("esc")
	assert.True(t, b.Left())
	b.open(1, wide())
	b.Press("i", "c", "g")
	i := b.injection(1)
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.False(t, i.Afterwards, "it was seen, not remembered")
}

func TestAnOrderThatWasBegunIsGoneOnWith(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.checks()
	b.open(0, wide())
	assert.True(t, b.Shows("go on with injection 1"), b.View())
	b.now = b.now.Add(50 * time.Minute)
	b.Press("enter")
	assert.True(t, b.Reads("The check list was answered at 2 Mar 2026 11:05 by Ann Bell. Look again before the needle."), b.View())
	assert.True(t, b.Reads("Vaccine T, lot LT-4471"), b.View())
	b.Press("enter", "enter", "enter", "space", "1")
	assert.True(t, b.Reads("Look again before the needle."), "no key that is held answers: %s", b.View())
	b.Press("a")
	assert.True(t, b.Shows("(proposed)"))
}

// The line that was chosen is the product that is ordered, and of several that were decided enter alone chooses none.
func TestTheChosenProductIsTheOneThatIsOrdered(t *testing.T) {
	other := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product D", Route: exam.RouteIM, Dose: "2 mL"}
	b := sit(t, wide(), screentest.Tetanus(), other)
	assert.True(t, b.Reads("What is given?"), b.View())
	assert.True(t, b.Reads("injection of Product D, IM, 2 mL"), "each with its dose: %s", b.View())
	b.Press("enter")
	assert.True(t, b.Reads("What is given?"), b.View())
	b.Press("2", "enter")
	assert.True(t, b.Shows("Decided: injection of Product D"), b.View())

	b.Driver = screentest.New(t, b.deps, questions.Of(script.Injection), nav.Address{Visit: b.id, Procedure: other}, wide())
	assert.True(t, b.Shows("Decided: injection of Product D"), b.View())
}

func TestNotInOrderTakesItsWords(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.Press("x", "enter")
	assert.True(t, b.Reads("say in a few words what is not in order"), b.View())
	b.line("no chip, owner says it is her")
	b.Press(inOrder()[1:]...)
	assert.True(t, b.Shows("save the list, 1 not in order"), b.View())
	b.Press("enter")
	i := b.injection(1)
	assert.False(t, i.Checks[0].OK)
	assert.EqualValues(t, "no chip, owner says it is her", i.Checks[0].Words)
}

func TestSignsOfDangerInOneKeyEvenWhileTyping(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.Type("LT")
	b.Press("ctrl+d")
	assert.Equal(t, nav.Address{Screen: nav.Dangers, Visit: b.id, From: nav.Injection}, b.Last())
	b.Press("esc")
	assert.True(t, b.Shows("LT_"), "what was typed is still there")
}

// At every stage the signs of danger are one key away, and so is where the numbers
// on the screen come from, except on a line where letters are text.
func TestDangersAndSourcesAtEveryStage(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	stages := []struct {
		name, at string
		on       func()
	}{
		{"order", "[to the check list]", func() { b.vaccine(); b.Press("esc", "end") }},
		{"check list", "Right horse", func() { b.Press("ctrl+s") }},
		{"site", "(proposed)", b.checks},
		{"needle", "[i: the needle is in]", func() { b.Press("enter") }},
		{"aspirate", "Draw the syringe back", func() { b.Press("i") }},
		{"give", "[g] given: 1 mL, as ordered", func() { b.Press("c") }},
		{"given", "Saved: given", func() { b.Press("g") }},
	}
	for _, stage := range stages {
		stage.on()
		require.True(t, b.Shows(stage.at), "%s: %s", stage.name, b.View())
		before := len(b.Opened())
		b.Press("ctrl+d")
		require.Len(t, b.Opened(), before+1, stage.name)
		assert.Equal(t, nav.Dangers, b.Last().Screen, stage.name)
		b.Press("esc")
		if stage.name == "order" {
			for !b.Shows("> [to the check list]") {
				b.Press("down")
			}
		}
		b.Press("s")
		assert.True(t, b.Reads("Where it comes from: Injection"), "%s: %s", stage.name, b.View())
		assert.True(t, b.Shows("asked above 10 mL"), stage.name)
		b.Press("ctrl+d")
		assert.Len(t, b.Opened(), before+2, "%s: the dangers stay one key away", stage.name)
		b.Press("esc", "esc")
		assert.False(t, b.Left(), stage.name)
		assert.True(t, b.Shows(stage.at), "%s: %s", stage.name, b.View())
	}
}

func TestCautionsAreShownInFullOnceAndOneKeyAway(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	first := b.View()
	assert.Contains(t, first, "Come to the shoulder at an angle")
	b.vaccine()
	assert.NotContains(t, b.View(), "Come to the shoulder at an angle")
	b.Press("h")
	assert.True(t, b.Shows("Come to the shoulder at an angle"))
	b.Press("h")
	assert.True(t, b.Shows("Right horse"))
}

func TestFailedWriteSaysSo(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	b.vaccine()
	b.store.FailWith(assert.AnError)
	b.checks()
	assert.True(t, b.Shows("assert.AnError"), b.View())
	b.store.FailWith(nil)
	b.Press("enter")
	assert.Equal(t, exam.InjectionReady, b.injection(1).State, "the list is still there")
}

// What the veterinarian is told stands whole in the smallest window, before what
// follows an answer does.
func TestWhatTheVetIsToldIsWholeInTheSmallestWindow(t *testing.T) {
	for _, size := range screentest.Sizes() {
		b := sit(t, size, screentest.Tetanus())
		screentest.Lines(t, b.store, b.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
			exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}},
			exam.InjectionLine{Phase: exam.InjectionStopped, Why: "Reaction to the product", NotKnown: true, Sign: "reaction", SignWords: "Reaction to the product: hives, swollen face or eyelids, fast or labored breathing, after a breath"})
		b.open(1, size)
		assert.True(t, b.Reads("TELL THE VET Reaction to the product: hives, swollen face or eyelids, fast or labored breathing, after a breath"), b.View())
		assert.True(t, b.Shows("another injection"), b.View())
		assert.False(t, b.Shows("neck triangle, left:"), "a needle of which nothing was seen has no colon")
	}
}
