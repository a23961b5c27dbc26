package review_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/review"
	"loosebox/tui/screentest"
)

// open is the review of Bracken's open visit, which has a temperature and a heart rate.
func open(t testing.TB, size layout.Size) (*screentest.Driver, exam.Store, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	unfinished, err := store.Unfinished()
	require.NoError(t, err)
	require.Len(t, unfinished, 1)
	id := unfinished[0].ID
	return screentest.New(t, deps, review.New, nav.Address{Visit: id}, size), store, id
}

// cursorTo moves down until the line under the cursor holds the text.
func cursorTo(t *testing.T, d *screentest.Driver, text string) {
	t.Helper()
	for range 200 {
		for _, line := range d.Lines() {
			if strings.HasPrefix(line, ">") && strings.Contains(line, text) {
				return
			}
		}
		d.Press("down")
	}
	require.Fail(t, "no line holds "+text)
}

func TestEnterLeadsToTheStep(t *testing.T) {
	d, _, id := open(t, layout.Size{W: 80, H: 24})
	cursorTo(t, d, "gum color")
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Exam, Visit: id, At: exam.Key{Step: "gum.colour"}}, d.Last())
}

func TestClosingLeavesNoSilentGap(t *testing.T) {
	d, store, id := open(t, layout.Size{W: 80, H: 24})
	d.Press("f")
	assert.Contains(t, d.View(), "steps have no answer")
	d.Press("esc", "f", "1", "enter")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed())
	f, ok := v.Finding(exam.Key{Step: "gum.colour"})
	require.True(t, ok)
	assert.Equal(t, exam.ReasonRefused, f.NotDone)
	temp, _ := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.True(t, temp.Done(), "what was answered stays")
	d.Press("f")
	assert.NotContains(t, d.View(), "enter closes the", "a closed visit is not closed again")
}

func TestOneKeyDoesNotCloseAVisit(t *testing.T) {
	d, store, id := open(t, layout.Size{W: 80, H: 24})
	d.Press("f")
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.False(t, v.Closed())
}

func TestGoldenReview(t *testing.T) {
	screentest.Goldens(t, "review-open", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size)
		return d
	})
	screentest.Goldens(t, "review-closed", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		recent, err := store.Recent(10)
		require.NoError(t, err)
		for _, v := range recent {
			if v.Closed() {
				return screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, size)
			}
		}
		require.Fail(t, "no closed visit")
		return nil
	})
}

func TestPictureOfAReview(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.InColour(deps)
	deps.Settings.VetPhone = "555 0142"
	_, v := screentest.Story(t, store)
	screentest.Told(t, store, v)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, layout.Size{W: 96, H: 30})
	cursorTo(t, d, "heart rate")
	d.Picture("review")
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, layout.Size{W: 80, H: 24})
	s := d.Screen()
	for b.Loop() {
		s.View(layout.Size{W: 80, H: 19})
	}
}

// What the findings add up to stands under the remarks; s shows what it was made of, its range and its source.
func TestScoresWithTheirSource(t *testing.T) {
	d, store, id := open(t, layout.Size{W: 80, H: 24})
	for _, a := range []struct {
		step exam.StepID
		text string
	}{{"gum.refill", "3.2"}, {"gum.moisture", "tacky"}, {"skin.tent", "4"}, {"condition.score", "6 7 7 6 7 6"}} {
		step, ok := steps.Table().ByID(a.step)
		require.True(t, ok)
		v, err := step.ReadAnswer(a.text, step.Unit)
		require.NoError(t, err)
		_, err = store.Append(exam.Entry{Visit: id, Kind: exam.EntryFinding, Step: a.step, Value: &v, By: "Ann Bell", At: screentest.Now()})
		require.NoError(t, err)
	}
	d.Send(nav.ShownMsg{})
	cursorTo(t, d, "Fluid loss: about 8 %")
	assert.Contains(t, d.View(), "range: none to be seen, about 5")
	d.Press("s")
	for _, want := range []string{"skin tent 4 s: about 8 %; counts only beside another sign", "SAEVA Proceedings 2015", "Skin tent never makes a band alone"} {
		assert.Contains(t, strings.Join(strings.Fields(d.View()), " "), want)
	}
	assert.NotContains(t, d.View(), "How it was found", "a score speaks for many places, not for one of them")
	d.Press("esc")
	cursorTo(t, d, "Condition, six areas")
	d.Press("s")
	assert.Contains(t, strings.Join(strings.Fields(d.View()), " "), "Henneke et al., Equine Vet J 1983;15:371-372")
	d.Press("esc", "enter")
	assert.Equal(t, nav.Address{Screen: nav.Exam, Visit: id, At: exam.Key{Step: "condition.score"}}, d.Last())
}

// A needle of which nothing says that it came out, and a watch that runs, keep the
// visit open; the review says so and leads there.
func TestAnOpenNeedleOrAWatchKeepsTheVisitOpen(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		v := screentest.Open(t, store)
		screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
		screentest.NeedleIn(t, store, v.ID)
		d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID, Finish: true}, size)
		assert.True(t, d.Reads("The visit stays open. Needle inserted at 10:50 (injection of Vaccine A, neck triangle, left) and not recorded as removed."))
		d.Press("enter")
		assert.Equal(t, nav.Address{Screen: nav.Injection, Horse: v.Horse.ID, Visit: v.ID, Number: 1}, d.Last())
		d.Press("esc", "f")
		assert.True(t, d.Reads("The visit stays open."), "still")

		screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1, Afterwards: true}})
		screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
		d.Press("enter", "esc", "f") // read again on the way back
		assert.True(t, d.Reads("The visit stays open. The horse is under observation after injection 1 until 11:10."))
		d.Press("enter")
		assert.Equal(t, nav.Address{Screen: nav.Watch, Horse: v.Horse.ID, Visit: v.ID, Number: 1}, d.Last())
		screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchLeftEarly, Why: "called away"}})
		d.Press("esc", "f", "1", "enter")
		closed, err := store.Visit(v.ID)
		require.NoError(t, err)
		assert.True(t, closed.Closed())
	}
}

// A watch that nobody began or declined keeps no visit open, but closing asks.
func TestClosingAsksAboutAWatchThatIsToDo(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		v := screentest.Open(t, store)
		screentest.Decide(t, store, v.ID, screentest.Tetanus())
		screentest.Given(t, store, v.ID)
		d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID, Finish: true}, size)
		assert.True(t, d.Reads("Injection 1 (Vaccine T): the observation is neither started nor declined. Close it anyway?"), d.View())
		d.Press("enter")
		assert.Equal(t, nav.Address{Screen: nav.Watch, Horse: v.Horse.ID, Visit: v.ID, Number: 1}, d.Last())
		d.Press("esc", "f", "f", "1", "enter")
		closed, err := store.Visit(v.ID)
		require.NoError(t, err)
		assert.True(t, closed.Closed(), d.View())
	}
}

// The record is asked once more when the answer comes: a needle that went in
// meanwhile, on another screen, keeps the visit open, and nothing is written.
func TestClosingAsksTheRecordAsItStands(t *testing.T) {
	d, store, id := open(t, layout.Size{W: 80, H: 24})
	screentest.Rule(t, store, id, exam.GoAhead, screentest.Vaccine())
	d.Press("f")
	screentest.NeedleIn(t, store, id)
	before, err := store.Visit(id)
	require.NoError(t, err)
	d.Press("1", "enter")
	assert.True(t, d.Reads("the visit stays open: a needle was inserted for the injection of Vaccine A"))
	after, err := store.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before.Entries, after.Entries)
}

func TestTheReviewLeadsToWhatFollows(t *testing.T) {
	d, _, id := open(t, layout.Size{W: 80, H: 24})
	d.Press("p")
	assert.Equal(t, nav.Address{Screen: nav.After, Visit: id}, d.Last())
}

func TestTheReviewLeadsToWhatIsDue(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	past, err := store.Past(h.ID, 1)
	require.NoError(t, err)
	d := screentest.New(t, deps, review.New, nav.Address{Visit: past[0].ID}, layout.Size{W: 80, H: 24})
	d.Press("d")
	assert.Equal(t, nav.Address{Screen: nav.Due, Horse: h.ID}, d.Last())
}

// TestTheReviewSaysWhatWasAnsweredInOneGo: those answers are listed together and marked among all findings.
func TestTheReviewSaysWhatWasAnsweredInOneGo(t *testing.T) {
	deps, store := screentest.Deps(t)
	v, err := store.Begin(exam.Entry{
		Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
		Opening: &exam.Opening{Horse: screentest.Yard(t, store)["Thistle"], Routine: "full-exam"},
	})
	require.NoError(t, err)
	for _, id := range []exam.StepID{"posture", "demeanour"} {
		step, _ := deps.Steps.ByID(id)
		value, ok := step.UsualValue()
		require.True(t, ok)
		value.InOneGo = id == "posture"
		_, err := store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryFinding, At: screentest.Now(), By: "Ann Bell", Step: id, Value: &value})
		require.NoError(t, err)
	}
	d := screentest.New(t, deps, review.New, nav.Address{Visit: v.ID}, layout.Size{W: 120, H: 100})
	assert.True(t, d.Shows(`Answered in one go, as "the rest of this area looks usual" (1)`), d.View())
	assert.True(t, d.Shows("posture: stands square (in one go)"), d.View())
	assert.False(t, d.Shows("bright and alert (in one go)"), d.View())
}

func TestTheReviewSaysThatAVisitWasImported(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now().AddDate(-5, 0, 0), By: "Sue Hart", Opening: &exam.Opening{
		Horse: horses["Bracken"], Source: "yard.csv line 7, imported 2026-03-01T09:00:00Z by Ann Lee (SHA-256 0123)",
	}})
	require.NoError(t, err)
	d := screentest.New(t, deps, review.New, nav.Address{Screen: nav.Review, Horse: horses["Bracken"].ID, Visit: v.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("This visit was imported 1 Mar 2026 09:00 by Ann Lee, from yard.csv line 7"), d.View())
}

// onLaptops is a store whose visits were written on two laptops.
type onLaptops struct{ exam.Store }

func (o onLaptops) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := o.Store.Visit(id)
	v.Laptops = []exam.OnLaptop{{Laptop: "clinic", Named: true, Own: true, By: []string{"Ann Bell"}}, {Laptop: "truck", Named: true, By: []string{"Bea Cole"}}}
	return v, err
}

func TestTheReviewSaysOnWhichLaptops(t *testing.T) {
	_, store, id := open(t, layout.Size{W: 80, H: 120})
	deps, _ := screentest.Deps(t)
	deps.Store = onLaptops{store}
	d := screentest.New(t, deps, review.New, nav.Address{Screen: nav.Review, Visit: id}, layout.Size{W: 80, H: 120})
	assert.True(t, d.Shows("Written on"), d.View())
	assert.True(t, d.Shows("clinic (Ann Bell), truck (Bea Cole)"), d.View())
}

// Whoever comes for one answer, as from the list of what is to settle, stands on it.
func TestTheReviewOpensAtAStep(t *testing.T) {
	_, store, id := open(t, layout.Size{W: 80, H: 24})
	deps, _ := screentest.Deps(t)
	deps.Store = store
	d := screentest.New(t, deps, review.New, nav.Address{Screen: nav.Review, Visit: id, At: exam.Key{Step: "heart.rate"}}, layout.Size{W: 80, H: 24})
	assert.True(t, strings.HasPrefix(d.Row("heart rate: "), ">"), d.View())
}

// A colleague examined the horse at the same time on another laptop: the review says who and
// where.
func TestTheReviewSaysThatTwoExamsWereOpenAtOnce(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	var err error
	deps.Store, err = screentest.OnAnother(store)
	require.NoError(t, err)
	own, err := deps.Begin(exam.Opening{Horse: h, Routine: "full-exam"}, exam.Context{}, "Eva Holm", screentest.Now())
	require.NoError(t, err)
	d := screentest.New(t, deps, review.New, nav.Address{Screen: nav.Review, Visit: own.Visit.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Another exam of this horse was open at the same time: Ann Bell on truck"), d.View())
	assert.True(t, d.Reads("on truck, 2 Mar 09:40, not finished."), "whole under the cursor")
}
