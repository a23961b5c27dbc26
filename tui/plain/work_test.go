package plain_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// table is Bracken's open visit at the plain prompts.
type table struct {
	t     *testing.T
	deps  *nav.Deps
	store *examtest.Store
	id    exam.VisitID
	now   time.Time
}

func sit(t *testing.T, covers ...exam.CoveredProcedure) *table {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	x := &table{t: t, deps: deps, store: store, id: screentest.Open(t, store).ID, now: screentest.Now()}
	deps.Now = func() time.Time { return x.now }
	deps.Settings.WatchMinutes = 20
	if len(covers) > 0 {
		screentest.Decide(t, store, x.id, covers...)
	}
	return x
}

func (x *table) typed(do func(*plain.Session, exam.VisitID, int) error, lines ...string) (string, error) {
	var b strings.Builder
	s := &plain.Session{
		Deps: x.deps, In: strings.NewReader(strings.Join(lines, "\n") + "\n"), Out: &b, Person: "Ann Bell", Echo: true,
		Wait: func(d time.Duration) { x.now = x.now.Add(d) },
	}
	err := do(s, x.id, 0)
	out := b.String()
	assert.NotContains(x.t, out, "\x1b")
	return out, err
}

func (x *table) visit() exam.Visit {
	x.t.Helper()
	v, err := x.store.Visit(x.id)
	require.NoError(x.t, err)
	return v
}

// vaccine are the answers of an order and its check list.
func vaccine(more ...string) []string {
	return append([]string{
		"LT-4471", "02/27", "invented toxoid", "", "Maker H", "", "500kg", "1 mL", "tetanus", "", "", "", "", "",
		"c", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b",
	}, more...)
}

func TestPlainInjectionWithBloodOnAspiration(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, vaccine("1", "20 G, 1.5 in", "in", "blood", "8", "8", "1", "", "in", "clear", "given", "")...)
	require.NoError(t, err, out)
	i, ok := x.visit().Injection(1)
	require.True(t, ok, out)
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.InDelta(t, 1, i.GivenML, 0)
	require.Len(t, i.Attempts, 2)
	assert.Equal(t, exam.InjectionBlood, i.Attempts[0].Seen)
	assert.Equal(t, exam.Right, i.Attempts[1].Place.Side, "another site")
	assert.Equal(t, "20 G, 1.5 in", i.Attempts[1].Needle)
	assert.Equal(t, []string{"tetanus"}, i.Order.Against)
	assert.Equal(t, "2027-02-28", i.Order.Expiry.Last)
	assert.Equal(t, exam.SharpsBox, i.Disposal)
	assert.Contains(t, out, "Not saved: blood came at neck triangle, left")
	assert.Contains(t, out, "The observation after injection 1 runs until 11:25")
	require.Len(t, x.visit().Watching(), 1)
}

func TestPlainLocked(t *testing.T) {
	x := sit(t)
	for name, do := range map[string]func(*plain.Session, exam.VisitID, int) error{"inject": (*plain.Session).Inject, "draw": (*plain.Session).Draw} {
		_, err := x.typed(do, vaccine()...)
		require.ErrorIs(t, err, exam.ErrRefused, name)
	}
	assert.Empty(t, x.visit().Injections)
	_, err := x.typed((*plain.Session).Watch)
	require.ErrorIs(t, err, exam.ErrNotFound)
}

// A finding that comes up after the order locks before the needle, and before the product.
func TestPlainLocksAgain(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	_, err := x.typed((*plain.Session).Inject, vaccine()...)
	require.ErrorIs(t, err, plain.ErrLeft)
	screentest.Number(t, x.store, x.visit(), "temp.rectal", exam.NoSite, 41, notation.Celsius)
	deps := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Inject(id, 1) }
	_, err = x.typed(deps, "1", "", "in")
	require.ErrorIs(t, err, exam.ErrRefused)
	assert.Empty(t, x.visit().Injections[0].Attempts)
}

// An empty line, a number, "y" or the letter of another point answers none.
func TestPlainCheckListTakesTheLetterOfEachPoint(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	order := vaccine()[:14]
	for _, text := range []string{"", "1", "y", "yes", "ok", "in order", "p", "x", "no"} {
		lines := append([]string{}, order...)
		for range 30 {
			lines = append(lines, text)
		}
		_, err := x.typed((*plain.Session).Inject, lines...)
		require.ErrorIs(t, err, plain.ErrLeft, "%q", text)
		assert.Empty(t, x.visit().Injections, "%q thirty times saves nothing", text)
	}
	out, err := x.typed((*plain.Session).Inject, append(order,
		"chip", "product", "dose", "n", "Ann Bell", "n 7", "n Eva Lind", "r", "t", "e", "x", "she spoke of another product", "k", "competes", "handler")...)
	require.ErrorIs(t, err, plain.ErrLeft, out)
	i, ok := x.visit().Injection(1)
	require.True(t, ok, out)
	assert.Contains(t, out, "Not saved: the second person must not be Ann Bell")
	assert.Contains(t, out, "Not saved: write the name of the second person")
	by := map[string]exam.Checked{}
	for _, c := range i.Checks {
		by[c.Key] = c
	}
	assert.Equal(t, exam.Checked{Key: procedure.SecondPerson, OK: true, Words: "Eva Lind"}, by[procedure.SecondPerson])
	assert.Equal(t, exam.Checked{Key: "decision", Words: "she spoke of another product"}, by["decision"])
	assert.Equal(t, exam.CompetesTold, by["food"].Words)
	assert.True(t, by["product"].OK)
}

// With the needle in a number or an empty line answers nothing, and stopping takes
// a letter or words.
func TestPlainQuestionsOfANeedleTakeTheirLetters(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, vaccine("1", "", "i", "", "1", "y", "c", "c", "", "x", "m", "0")...)
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, exam.StopMoved, i.Why)
	x = sit(t, screentest.Tetanus())
	out, err = x.typed((*plain.Session).Inject, vaccine("1", "", "i", "c", "x she would not stand", "0.3")...)
	require.NoError(t, err, out)
	i, _ = x.visit().Injection(1)
	assert.EqualValues(t, "she would not stand", i.Why)
	assert.InDelta(t, 0.3, i.GivenML, 0)
}

func TestPlainRefusals(t *testing.T) {
	x := sit(t, exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine T", Route: exam.RouteIM})
	out, err := x.typed((*plain.Session).Inject, "", "LT-1", "01/26", "02/03/27", "02/27", "", "", "", "5", "1 dose")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "Not saved: the lot number stands on the label")
	assert.Contains(t, out, "Not saved: the product expired on 31 Jan 2026")
	assert.Contains(t, out, "could be either way round")
	assert.Contains(t, out, "Not saved: the dose 5 has no unit")
	assert.Empty(t, x.visit().Injections)
}

func TestPlainHostileText(t *testing.T) {
	for _, bad := range screentest.Hostile() {
		c := screentest.Tetanus()
		c.Product = "A" + bad
		x := sit(t, c)
		lines := vaccine("1", "", "in", "clear", "given", "")
		lines[0] = "L" + strings.NewReplacer("\n", " ", "\r", " ").Replace(bad)
		out, err := x.typed((*plain.Session).Inject, lines...)
		require.NoError(t, err, out)
	}
}

func TestPlainSourceAtAnyQuestion(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, "LT-4471", "source", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "asked above 10 mL: labels in the USA")
	out, err = x.typed((*plain.Session).HandOff, "source", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "read at 150 a minute")
	out, err = x.typed((*plain.Session).Inject, vaccine("1", "", "source", "quit")...)
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "1 mL: as typed")
}

func TestPlainPulsingBloodLocks(t *testing.T) {
	x := sit(t, screentest.Calming())
	out, err := x.typed((*plain.Session).Inject, "C-9", "2027-02-15", "", "10 mg/mL", "", "", "500kg", "1 mL tuberculin", "", "", "", "", "", "",
		"markings", "p", "d", "n Eva Lind", "r", "t", "e", "v", "k", "f", "b", "1", "", "in", "yes", "yes", "pulses")
	require.ErrorIs(t, err, exam.ErrRefused, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, "artery", i.Sign)
	assert.InDelta(t, 1, i.Order.VolumeML, 1e-9)
}

func TestPlainSignOfDangerWhileTheNeedleIsIn(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, vaccine("1", "", "in", "danger", "2", "hives at the neck", "0.2 mL")...)
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, "reaction", i.Sign)
	assert.Contains(t, out, "It is saved. Read this to the veterinarian")
	assert.Contains(t, out, "Vaccine T, lot LT-4471, 0.2 mL given")
}

func TestPlainAsksWhatHappened(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	_, err := x.typed((*plain.Session).Inject, vaccine("1", "", "in")...)
	require.ErrorIs(t, err, plain.ErrLeft)
	out, err := x.typed((*plain.Session).Draw)
	require.Error(t, err, "a needle is in")
	assert.NotContains(t, out, "What is the blood for")
	out, err = x.typed((*plain.Session).Inject, "", "5", "u")
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.True(t, i.NotKnown)
	assert.True(t, i.Afterwards)
	assert.Contains(t, out, "TELL THE VET")
}

func TestPlainDrawOfThreeTubes(t *testing.T) {
	x := sit(t, exam.CoveredProcedure{Kind: exam.Drawing})
	out, err := x.typed((*plain.Session).Draw, "blood count and clotting", "EDTA, serum, teacup", "EDTA, serum, citrate", "", "", "", "500kg", "",
		"chip", "u", "t", "v", "b", "1", "20 G", "in", "b", "n", "1", "", "i", "a", "", "a", "short 4", "", "c", "6", "")
	require.NoError(t, err, out)
	d, _ := x.visit().Draw(1)
	assert.Equal(t, exam.DrawDone, d.State)
	require.Len(t, d.Filled, 3)
	assert.Equal(t, exam.TubeCitrate, d.Filled[0].Kind)
	assert.True(t, d.Filled[1].Short)
	assert.Equal(t, 6, d.Filled[2].Inversions)
	assert.InDelta(t, 2.7+4+3, d.DrawnML(), 1e-9)
	require.Len(t, d.Sticks, 2)
	assert.True(t, d.Sticks[0].Missed)
	assert.Contains(t, out, "Order of draw: citrate, serum, EDTA")
	assert.Contains(t, out, `"teacup" is no tube`)
}

func TestPlainOfficialSample(t *testing.T) {
	x := sit(t, exam.CoveredProcedure{Kind: exam.Drawing})
	out, err := x.typed((*plain.Session).Draw, "Coggins", "", "Dr. R. Sommer", "serum", "", "500kg", "", "chip", "u", "t", "v", "b")

	require.ErrorIs(t, err, plain.ErrLeft)
	d, _ := x.visit().Draw(1)
	assert.Equal(t, "Dr. R. Sommer", d.Order.VetDraws, out)
	assert.Contains(t, out, "Not saved: by law the accredited veterinarian draws this sample")
}

func TestPlainWatch(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	screentest.Write(t, x.store, x.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	x.now = x.now.Add(5 * time.Minute)
	out, err := x.typed((*plain.Session).Watch, "quiet", "x", "", "quit")
	require.ErrorIs(t, err, plain.ErrLeft, out)
	assert.Contains(t, out, "Say why: a letter of the list, or a few words.")
	assert.True(t, x.visit().Watches[0].Running())
	out2, err := x.typed((*plain.Session).Watch, "wait", "n")
	out += out2
	require.NoError(t, err, out)
	assert.Contains(t, out, "15m0s left of 20 minutes, until 11:25")
	assert.Contains(t, out, "Not saved: the observation is not over yet")
	assert.Contains(t, out, "\aCheck the horse.\nTime is up (11:25). Check the horse.")
	assert.Equal(t, exam.WatchQuiet, x.visit().Watches[0].State)
}

// At the prompts, too, a clock that is set ends nothing and delays nothing; waiting ends where the clock turns out wrong.
func TestPlainWatchUnderAClockThatIsSet(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	screentest.Write(t, x.store, x.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	c := examtest.NewClock(screentest.Now())
	x.deps.Now, x.deps.Waits.Between = c.Now, c.Between
	var b strings.Builder
	s := &plain.Session{Deps: x.deps, In: strings.NewReader("wait\nn\ng\nwait\nn\n"), Out: &b, Person: "Ann Bell", Echo: true}
	waited := time.Duration(0)
	s.Wait = func(d time.Duration) {
		if c.Pass(d); waited == 0 {
			c.Set(-time.Hour)
		}
		waited += d
	}
	require.NoError(t, s.Watch(x.id, 0), b.String())
	out := b.String()
	assert.Contains(t, out, "20m0s left of 20 minutes, until 11:25")
	assert.Contains(t, out, "19m30s left of 20 minutes, until 10:25. Since the observation began this laptop's clock was set back by 1 h.")
	assert.Contains(t, out, "Are the 20 minutes over by another clock?")
	assert.Contains(t, out, "Time is up (10:25). Check the horse. Since the observation began")
	assert.Equal(t, 20*time.Minute, waited, "the whole time, and no more")
	assert.Equal(t, exam.WatchQuiet, x.visit().Watches[0].State)
}

// The end of an observation, and when a needle went in, are read by the clock of now: a laptop may have come over a border
// of time zones since.
func TestPlainTimesAreThoseOfTheClockNow(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	screentest.Write(t, x.store, x.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	x.now = x.now.Add(5 * time.Minute).In(time.FixedZone("", -5*3600))
	out, _ := x.typed((*plain.Session).Watch, "quit")
	assert.Contains(t, out, "15m0s left of 20 minutes, until 06:25")

	x = sit(t, screentest.Tetanus())
	screentest.Lines(t, x.store, x.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}})
	x.now = x.now.In(time.FixedZone("", 14*3600))
	out, _ = x.typed((*plain.Session).Inject, "quit")
	assert.Contains(t, out, "The needle went in at 3 Mar 2026 01:05; what happened?")
}

// x alone asks for a reason, and a word that does something here is none.
func TestPlainWatchTakesNoCommandForAReason(t *testing.T) {
	begun := exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}}
	for _, running := range []bool{true, false} {
		for _, word := range []string{"wait", "?", "quiet", "begin", "Wait", "x", "n", "danger\nback", "source", "cautions", ""} {
			x := sit(t, screentest.Tetanus())
			screentest.Given(t, x.store, x.id)
			if running {
				screentest.Write(t, x.store, x.id, begun)
			}
			want := x.visit()
			out, err := x.typed((*plain.Session).Watch, "x", word, "quit")
			require.ErrorIs(t, err, plain.ErrLeft, out)
			assert.Equal(t, want.Entries, x.visit().Entries, "%q is no reason:\n%s", word, out)
			out, err = x.typed((*plain.Session).Watch, "x "+word, "back", "quit")
			require.ErrorIs(t, err, plain.ErrLeft, out)
			assert.Equal(t, want.Entries, x.visit().Entries, "x %q:\n%s", word, out)
			out, err = x.typed((*plain.Session).Watch, "x", "wait", "the groom watches it")
			require.NoError(t, err, out)
			assert.EqualValues(t, "the groom watches it", x.visit().Watches[0].Why)
		}
	}
}

// Closing with an observation to do and something for the veterinarian asks about
// both.
func TestPlainClosingAsksAboutTheObservationAndTheHandOff(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	screentest.Fever(t, x.store, x.id)
	closing := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }
	out, err := x.typed(closing, "finish", "finish no time", "finish no time", "the veterinarian cannot be reached")
	require.NoError(t, err, out)
	watch, untold := strings.Index(out, "the observation is neither started nor declined"), strings.Index(out, "This is for the veterinarian and is not")
	assert.Positive(t, watch, out)
	assert.Greater(t, untold, watch, out)
	assert.True(t, x.visit().Closed())
	assert.Equal(t, exam.NotReached, x.visit().WithoutHandOff)
}

// A reason that is offered is that reason however it is typed: with nothing left to tell, the day's round asks for no hand-off.
func TestPlainReadsTheReasonsThatItOffers(t *testing.T) {
	for text, want := range map[string]exam.NoHandOff{
		"The veterinarian knows it already.":   exam.KnownAlready,
		"ENTERED BY MISTAKE":                   exam.ByMistake,
		"the veterinarian knows it, I am sure": "the veterinarian knows it, I am sure",
	} {
		x := sit(t, screentest.Tetanus())
		screentest.Given(t, x.store, x.id)
		screentest.Fever(t, x.store, x.id)
		closing := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }
		out, err := x.typed(closing, "finish", "finish no time", "finish no time", text)
		require.NoError(t, err, out)
		assert.Equal(t, want, x.visit().WithoutHandOff, text)
	}
}

// A sign of danger is its number, what is seen its letters; no word that does
// something is an answer, and back writes nothing down.
func TestPlainSignOfDangerIsALetterAQuestion(t *testing.T) {
	in := vaccine("1", "", "in")
	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, append(in, "danger", "back", "danger", "", "9", "wait", "2", "", "?", "z", "b, d, d, after a breath", "wait", "not known")...)
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, "Reaction to the product: hives, swollen face or eyelids, fast or labored breathing, after a breath", i.SignWords)
	assert.True(t, i.NotKnown)
	for _, lines := range [][]string{{"quit"}, {"2", "quit"}, {"2", "b", "quit"}, {"2", "back", "quit"}, {"2", "b", "back", "quit"}} {
		x := sit(t, screentest.Tetanus())
		out, err := x.typed((*plain.Session).Inject, append(append(in, "danger"), lines...)...)
		require.ErrorIs(t, err, plain.ErrLeft, out)
		i, _ := x.visit().Injection(1)
		assert.Empty(t, i.Sign, lines)
	}
}

// A watch that nobody began is begun or declined at the prompts, and closing asks
// about it once.
func TestPlainWatchToDo(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	out, err := x.typed((*plain.Session).Watch, "", "begin much", "x", "", "o")
	require.NoError(t, err, out)
	assert.Contains(t, out, "begin alone: 20 minutes, as set by the practice")
	w := x.visit().Watches[0]
	assert.Equal(t, exam.WatchDeclined, w.State)
	assert.Equal(t, exam.OwnerObserves, w.Why)
	assert.Equal(t, "Ann Bell", w.By)

	x = sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	out, err = x.typed((*plain.Session).Watch, "begin 25 min")
	require.NoError(t, err, out)
	assert.Equal(t, 25, x.visit().Watching()[0].Minutes)

	x = sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	closing := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }
	out, err = x.typed(closing, "finish", "finish no time", "quit")
	require.ErrorIs(t, err, plain.ErrLeft, out)
	assert.Contains(t, out, "Injection 1 (Vaccine T): the observation is neither started nor declined.")
	assert.False(t, x.visit().Closed(), "it is asked about")
	out, err = x.typed(closing, "finish", "finish no time", "finish no time")
	require.NoError(t, err, out)
	assert.True(t, x.visit().Closed())
}

// The exam goes on into what the veterinarian decided.
func TestPlainExamContinuesIntoAnInjection(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	lines := append([]string{"finish", "observe", "inject"}, vaccine("1", "", "in", "clear", "given", "", "finish no time", "quit")...)
	out, err := x.typed(func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }, lines...)
	require.ErrorIs(t, err, plain.ErrLeft, out)
	assert.Contains(t, out, "no observation runs in this visit; one")
	i, ok := x.visit().Injection(1)
	require.True(t, ok, out)
	assert.Equal(t, exam.InjectionGiven, i.State)

	x = sit(t)
	_, err = x.typed(func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }, "finish", "inject")
	require.ErrorIs(t, err, exam.ErrRefused)
}

// What the veterinarian decides after closing goes into the same visit, on that day.
func TestPlainOrderedAfterClosing(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	out, err := x.typed(func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }, "finish", "finish no time")
	require.NoError(t, err, out)
	assert.Contains(t, out, "It locks decided procedures that are not done: give Vaccine T, IM, 1 dose.")
	require.True(t, x.visit().Closed())
	_, err = x.typed((*plain.Session).Inject, vaccine()...)
	require.ErrorIs(t, err, exam.ErrRefused)

	out, err = x.typed((*plain.Session).Decide, "Dr. R. Sommer", "2", "Vaccinate her after all.", "1", "injection:Vaccine T:IM:1 dose", "", "", "y", "rang back", "")
	require.NoError(t, err, out)
	require.True(t, x.visit().Decisions[1].AfterClosing, out)
	out, err = x.typed((*plain.Session).Inject, vaccine("1", "", "in", "clear", "given", "")...)
	require.NoError(t, err, out)
	v := x.visit()
	assert.Equal(t, exam.InjectionGiven, v.Injections[0].State)
	assert.True(t, v.Closed())
	require.Len(t, v.Watching(), 1)
	x.now = x.now.Add(20 * time.Minute)
	out, err = x.typed((*plain.Session).Watch, "n")
	require.NoError(t, err, out)
	assert.Empty(t, x.visit().Watching())
}

// What rules of records ask for is written down out of the way, and stands on the page.
func TestPlainForTheRecord(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	screentest.Given(t, x.store, x.id)
	consent := func(s *plain.Session, id exam.VisitID, n int) error { return s.Procedure(script.Record, id, n) }
	out, err := x.typed(consent, "1", "", "sedation", "refused", "2", "not today")
	require.NoError(t, err, out)
	assert.Contains(t, out, `Saved. For the record: consent to sedation refused by J. Marlowe, said, by telephone; "not today"`)
	out, err = x.typed(consent, "3", "bottle 12", "1.5", "", "0", "50", "48.5", "Eva Lind", "", "", "", "0.5", "absorbent", "", "", "")
	require.NoError(t, err, out)
	assert.Contains(t, out, "Not saved: drawn 1.5 mL is not given 1 mL and wasted 0 mL: 0.5 mL are missing.")
	assert.Contains(t, out, "consent to sedation refused", "what is written down is read out")
	notes := x.visit().Notes
	require.Len(t, notes, 2)
	entries, err := x.store.Entries(x.id)
	require.NoError(t, err)
	c := entries[len(entries)-1].Formality.Control
	require.NotNil(t, c)
	assert.InDelta(t, 0.5, c.WastedML, 0)
	assert.Equal(t, "Eva Lind", c.Second)
}
