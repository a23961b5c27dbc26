package draw_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
)

// bench is the screen of a blood draw of Bracken's open visit.
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
	if len(covers) > 0 {
		screentest.Decide(t, store, b.id, covers...)
	}
	b.open(0, size)
	return b
}

func (b *bench) open(number int, size layout.Size) {
	b.Driver = screentest.New(b.t, b.deps, questions.Of(script.BloodDraw), nav.Address{Screen: nav.Draw, Visit: b.id, Number: number}, size)
}

func (b *bench) visit() exam.Visit {
	b.t.Helper()
	v, err := b.store.Visit(b.id)
	require.NoError(b.t, err)
	return v
}

func (b *bench) draw(n int) exam.Draw {
	b.t.Helper()
	d, ok := b.visit().Draw(n)
	require.True(b.t, ok, "no draw %d", n)
	return d
}

func (b *bench) line(text string) {
	b.Type(text)
	b.Press("enter")
}

// three fills in an order of EDTA, serum and citrate, chosen in the wrong order.
func (b *bench) three(purpose string) {
	b.line(purpose)
	b.Press("5", "space", "3", "windows space", "2", "space", "enter")
	b.Press("enter", "enter", "enter") // sizes as they usually are
	b.line("500kg")
	b.Press("ctrl+s")
}

func (b *bench) checks() {
	require.True(b.t, b.Shows("Right horse"), b.View())
	b.Press("c", "u", "t", "v", "b", "enter")
}

// in chooses the proposed vein and puts the needle in.
func (b *bench) in() {
	require.True(b.t, b.Shows("jugular, upper third, left (proposed)"), b.View())
	b.Press("enter", "i")
	_, in := b.draw(1).NeedleIn()
	require.True(b.t, in, b.View())
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }
func drawing() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Drawing}
}

func TestLockedUntilDecided(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	assert.True(t, b.Shows("LOCKED"))
	assert.True(t, b.Reads("No decision covers a blood draw"), b.View())
	before := b.store.Writes()
	b.Type("blood count")
	b.Press("space", "ctrl+s")
	assert.Equal(t, before, b.store.Writes())
	b.Press("enter")
	assert.Equal(t, nav.After, b.Last().Screen)
}

func TestThreeTubesInTheOrderOfDraw(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count and clotting")
	b.checks()
	d := b.draw(1)
	assert.Equal(t, "blood count and clotting", d.Order.For)
	var kinds []exam.TubeKind
	for _, tube := range d.Order.Tubes {
		kinds = append(kinds, tube.Kind)
	}
	assert.Equal(t, []exam.TubeKind{"citrate", "serum", "EDTA"}, kinds, "CLSI GP41")
	assert.Equal(t, exam.ChipRead, d.Checks[0].Words)

	b.in()
	for i, kind := range kinds {
		assert.True(t, b.Reads("Fill "+kind.String()), b.View())
		assert.True(t, b.Reads("tube: "+kind.String()), "its label")
		b.Press("enter", script.TubeLetter(i), script.TubeLetter(i))
		require.Len(t, b.draw(1).Filled, i+1, "each tube is on the disk before the next, and a key pressed twice fills one")
	}
	assert.True(t, b.Shows("3 tubes, 15.7 mL in them"), b.View())
	b.Press("enter", "d")
	d = b.draw(1)
	assert.Equal(t, exam.DrawDone, d.State)
	assert.InDelta(t, 15.7, d.DrawnML(), 1e-9) // 2.7 + 10 + 3, as the table of tubes has them
	for _, want := range []string{"horse: Bracken", "owner: J. Marlowe", "drawn: 2 Mar 2026 11:05", "by: Ann Bell", "tube: EDTA"} {
		assert.Contains(t, d.Filled[2].Label, want)
	}
	assert.False(t, d.Afterwards)
}

func TestTheOfficialSampleIsTheVeterinarians(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.Type("Coggins test")
	assert.True(t, b.Reads("USA: the Category II accredited"), b.View())
	b.Press("enter")
	b.Press("down")
	b.Press("2", "enter") // tubes are below
	b.Press("ctrl+s")
	assert.True(t, b.Reads("by law the accredited veterinarian draws"), b.View())
	assert.Empty(t, b.visit().Draws)
	b.line("Dr. R. Sommer")
	b.Press("3", "space", "ctrl+s")
	b.checks()
	d := b.draw(1)
	assert.True(t, d.Order.Official)
	assert.Equal(t, "Dr. R. Sommer", d.Order.VetDraws)
	assert.True(t, b.Reads("Drawn by Dr. R. Sommer"), b.View())
	b.in()
	assert.True(t, b.Reads("tube: serum / by: Dr. R. Sommer"), "the label names who draws: %s", b.View())
}

func TestAMissedStickAndFiveOfThem(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count")
	b.checks()
	b.in()
	for n := 1; n <= 5; n++ {
		b.Press("n")
		d := b.draw(1)
		require.Len(t, d.Sticks, n)
		assert.True(t, d.Sticks[n-1].Missed)
		assert.True(t, b.Reads("A new needle."), b.View())
		if n < 5 {
			assert.False(t, b.Reads("needle attempts already: stop; somebody"))
			b.Press("enter", "i")
		}
	}
	assert.True(t, b.Reads("5 needle attempts already: stop"), b.View())
	b.Press("x", "w")
	b.line("another day")
	b.Press("enter")
	assert.Equal(t, exam.DrawStopped, b.draw(1).State)
	assert.Zero(t, b.draw(1).DrawnML())
}

func TestATubeOutOfOrderIsAskedAbout(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count")
	b.checks()
	b.in()
	b.Press("o", "f") // EDTA first
	assert.True(t, b.Reads("Fill EDTA"), b.View())
	assert.True(t, b.Shows("- citrate   - serum   ▸ EDTA"), "the one that is filled now is marked: %s", b.View())
	b.Press("a")
	assert.True(t, b.Reads("Check: citrate comes before EDTA in the order of draw"), "the tube that is left is out of order now: %s", b.View())
	b.Press("o")
	assert.True(t, b.Shows("citrate (out of order)"), b.View())
	assert.True(t, b.Reads("may falsify it"), b.View())
}

func TestAShortTubeIsRemembered(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count")
	b.checks()
	b.in()
	b.Press("e", "down", "down", "2", "enter", "enter")
	f := b.draw(1).Filled
	require.Len(t, f, 1)
	assert.True(t, f[0].Short)
}

func TestTheLimitsStandBesideEveryDraw(t *testing.T) {
	b := sit(t, wide(), drawing())
	past := exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "before"}}
	for _, l := range []exam.DrawLine{past, {Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "cephalic"}}, {Number: 1, Phase: exam.DrawDone, VolumeML: 40}} {
		screentest.Write(t, b.store, b.id, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	b.open(0, wide())
	b.three("blood count")
	b.Press("esc") // back from the check list to the order
	b.Press("down", "down", "down", "down", "down")
	assert.True(t, b.Reads("15.7 mL is"), b.View())
	assert.True(t, b.Reads("last 14 days: 40 mL drawn"), b.View())
	b.Press("ctrl+s")
	b.Press("c", "u", "t")
	assert.True(t, b.Reads("40 mL of blood was drawn already"), b.View())
	b.Press("g", "v", "b", "enter")
	b.Press("enter", "i")
	assert.True(t, b.Reads("Last 14 days: 40 mL. Limit 3750 mL"), "while it is filled: %s", b.View())
}

func TestWhereTheAmountsComeFrom(t *testing.T) {
	b := sit(t, layout.Size{W: 120, H: 40}, drawing())
	b.three("blood count")
	require.True(t, b.Shows("Right horse"), b.View())
	b.Press("s")
	for _, text := range []string{"Where it comes from: Blood draw", "How much blood", "mL/kg x kg", "order of draw: CLSI GP41", "18 to 21 G, 1 to 1.5 in: a hospital"} {
		assert.True(t, b.Reads(text), "%s: %s", text, b.View())
	}
	b.Press("s")
	assert.True(t, b.Shows("Right horse"))
}

func TestTooMuchForAFoalIsInTheCheckList(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.line("much")
	b.Press("3")
	for range 9 {
		b.Press("space")
	}
	b.Press("enter")
	for range 4 {
		b.Press("backspace")
	}
	b.line("60")
	b.line("50kg") // 540 mL of 4 L
	b.Press("ctrl+s")
	assert.True(t, b.Reads("Large volume: the veterinarian was asked first"), b.View())
}

func TestLockedAgainBeforeTheNeedle(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count")
	b.checks()
	screentest.Number(t, b.store, b.visit(), "temp.rectal", exam.NoSite, 41, notation.Celsius)
	b.Press("enter", "i")
	assert.True(t, b.Shows("LOCKED"), b.View())
	assert.Empty(t, b.draw(1).Sticks)
}

func TestAfterAnInterruption(t *testing.T) {
	for _, c := range []struct {
		name  string
		keys  []string
		state exam.DrawPhase
		ml    float64
		known bool
	}{
		{"drawn", []string{"d", "enter", "enter"}, exam.DrawDone, 2.7, true},
		{"not known how much", []string{"k"}, exam.DrawDone, 2.7, false}, // the tube that is written down
		{"stopped", []string{"n"}, exam.DrawStopped, 2.7, true},
		{"not known", []string{"u"}, exam.DrawStopped, 2.7, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := sit(t, wide(), drawing())
			b.three("blood count")
			b.checks()
			b.in()
			b.Press("a") // citrate
			b.open(0, wide())
			assert.True(t, b.Reads("what happened? for blood count"), b.View())
			assert.True(t, b.Reads("tubes filled since: 1"), b.View())
			before := b.visit().Entries
			b.Press("enter")
			assert.Equal(t, before, b.visit().Entries)
			b.Press(c.keys...)
			d := b.draw(1)
			assert.Equal(t, c.state, d.State)
			assert.True(t, d.Afterwards)
			assert.Equal(t, !c.known, d.NotKnown)
			assert.InDelta(t, c.ml, d.DrawnML(), 1e-9)
			// Only who says that it was stopped with what the tubes hold says that no other was filled.
			assert.Equal(t, c.name != "stopped", b.Reads("not recorded as filled, label it if it is full: serum"), b.View())
			assert.Equal(t, c.name == "stopped", b.Reads("not filled: serum"), b.View())
		})
	}
}

func TestTheNeedleIsStillInTheVein(t *testing.T) {
	b := sit(t, wide(), drawing())
	b.three("blood count")
	b.checks()
	b.in()
	b.Press("esc", "esc")
	assert.True(t, b.Left())
	b.open(0, wide())
	b.Press("i")
	assert.True(t, b.Reads("Fill citrate"), b.View())
}

func TestANeedleOfAnInjectionComesFirst(t *testing.T) {
	b := sit(t, wide(), drawing(), screentest.Tetanus())
	screentest.Lines(t, b.store, b.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle"}})
	b.open(0, wide())
	assert.True(t, b.Reads("The needle of injection 1 is recorded as inserted, not as removed"), b.View())
	b.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Injection, Visit: b.id, Number: 1}, b.Last())
}

func TestHostilePurpose(t *testing.T) {
	for _, bad := range screentest.Hostile() {
		b := sit(t, layout.Size{W: 60, H: 20}, drawing())
		b.Paste("x" + bad)
		b.three("")
		b.View()
		b.checks()
		b.in()
		b.View()
	}
}

// In the smallest window a sentence is whole or not there: "do not" without "invert" says the opposite.
func TestASmallWindowCutsNoSentenceOfATube(t *testing.T) {
	b := sit(t, layout.Size{W: 60, H: 20}, drawing())
	b.three("blood count")
	b.checks()
	b.in()
	b.Press("a")
	assert.True(t, b.Reads("Plain tube: do not invert. Stand it upright to clot"), b.View())
	assert.True(t, b.Reads("Limit 3750 mL"), b.View())
	assert.True(t, b.Shows("more does not fit"), b.View())
	b.Resize(layout.Size{W: 80, H: 24})
	assert.True(t, b.Reads("Label before you leave the animal"), b.View())
	assert.False(t, b.Shows("more does not fit"), b.View())
}

// What a window does not hold of a vein is told, and no sentence of it is cut.
func TestWhatDoesNotFitOfAVeinIsTold(t *testing.T) {
	const rest = "The rest stands on the next question"
	for _, size := range []layout.Size{{W: 60, H: 20}, {W: 80, H: 24}, {W: 120, H: 40}} {
		b := sit(t, size, drawing())
		b.three("blood count")
		b.checks()
		for _, c := range procedure.Veins(nil, screentest.Now()) {
			missing := false
			for _, text := range []string{c.Site.Source, c.Site.Find, "Stand: " + c.Site.Stand, "For: " + c.Site.For, "Against: " + c.Site.Against} {
				whole := b.Reads(text)
				missing = missing || !whole && text != c.Site.Source // which is behind s
				assert.True(t, whole || !b.Reads(text[:min(len(text), 25)]), "%v: cut: %s\n%s", size, text, b.View())
			}
			assert.Equal(t, missing, b.Reads(rest), "%v, %s: %s", size, c.Place(), b.View())
			b.Press("down")
		}
	}
}

func TestGoldenDraw(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(b *bench)
	}{
		{"order", func(b *bench) {
			b.line("blood count and clotting")
			b.Press("5", "space", "2", "space")
		}},
		{"vein", func(b *bench) { b.three("blood count"); b.checks() }},
		{"fill", func(b *bench) {
			b.three("blood count")
			b.checks()
			b.in()
			b.Press("a")
		}},
		{"all", func(b *bench) {
			b.three("blood count")
			b.checks()
			b.in()
			b.Press("a", "b", "c")
		}},
		{"checks", func(b *bench) { b.three("blood count"); b.Press("c") }},
		{"done", func(b *bench) {
			b.three("blood count")
			b.checks()
			b.in()
			b.Press("a", "b", "c", "d")
		}},
	} {
		screentest.Goldens(t, "draw-"+c.name, func(t *testing.T, size layout.Size) *screentest.Driver {
			b := sit(t, size, drawing())
			c.make(b)
			b.Squeeze()
			return b.Driver
		})
	}
}

// The clock is set while the needle is in the vein: every question behind it says so.
func TestTheClockIsSetInADraw(t *testing.T) {
	b := sit(t, wide(), exam.CoveredProcedure{Kind: exam.Drawing})
	clock := examtest.NewClock(screentest.Now())
	b.deps.Now, b.deps.Waits.Between = clock.Now, clock.Between
	b.three("blood count")
	b.checks()
	b.Press("enter", "i")
	assert.True(t, b.Shows("Fill "), b.View())
	assert.False(t, b.Reads("Since the needle went in"), b.View())
	clock.Set(-3 * time.Minute)
	said := "Since the needle went in this laptop's clock was set back by 3 min."
	b.Press(script.TubeLetter(0))
	assert.True(t, b.Reads(said), b.View())
	b.Press("l")
	assert.True(t, b.Shows("Needle out"), b.View())
	assert.True(t, b.Reads(said), b.View())
	b.open(1, wide())
	assert.True(t, b.Shows("what happened?") && b.Reads(said), b.View())
}
