package compare_test

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
	"loosebox/tui/screen/compare"
	"loosebox/tui/screentest"
)

func open(t testing.TB, size layout.Size) (*screentest.Driver, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.History(t, store)
	return screentest.New(t, deps, compare.New, nav.Address{Screen: nav.Compare, Horse: h.ID}, size), h
}

func TestComparisonIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "compare", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		return d
	})
	screentest.Goldens(t, "compare-older", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		d.Press("right", "right", "right", "s")
		return d
	})
}

func TestPictureOfAComparison(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.InColour(deps)
	h, v := screentest.Story(t, store)
	screentest.Told(t, store, v)
	screentest.New(t, deps, compare.New, nav.Address{Horse: h.ID}, layout.Size{W: 96, H: 26}).Picture("comparison")
}

func TestColumnsAreVisitsNewestFirstAndScroll(t *testing.T) {
	d, _ := open(t, layout.Size{W: 80, H: 24})
	head := d.Row("27 Feb 2026")
	assert.Contains(t, head, ">27 Feb 2026")
	assert.Less(t, strings.Index(head, "27 Feb 2026"), strings.Index(head, "15 Jan 2026"))
	assert.True(t, d.Shows("1-3 of 9"))
	for range 8 {
		d.Press("right")
	}
	assert.True(t, d.Shows(">6 Mar 2024"))
	assert.True(t, d.Shows("7-9 of 9"))
	d.Press("right", "right")
	assert.True(t, d.Shows(">6 Mar 2024"), "it stops at the oldest")
	d.Press("left")
	assert.True(t, d.Shows(">2 May 2024"))
}

func TestChangeIsASignAndANumberAndARangeStandsAtTheSide(t *testing.T) {
	d, _ := open(t, layout.Size{W: 120, H: 40})
	d.Press("end")
	temp := d.Row("  temperature ")
	require.NotEmpty(t, temp)
	assert.Contains(t, temp, "+0.2", "38.3 after 38.1")
	assert.Contains(t, d.Row("  heart rate "), "+4", "44 after 40")
	assert.Contains(t, d.Row("  heart rate "), "x horse refused", "what was not done says why, whole")
	assert.Contains(t, temp, " C ", "with its unit")
}

func TestRemarksAreMarkedAndExplained(t *testing.T) {
	d, _ := open(t, layout.Size{W: 120, H: 40})
	d.Press("right", "right", "right") // 30 Jul 2025: 39.6 C after work
	assert.Regexp(t, `[o?!]39\.6`, d.Row("> temperature "))
	assert.True(t, d.Shows("30 Jul 2025: 39.6 C; "))
	assert.True(t, d.Shows("worked; hot weather"))
	assert.True(t, d.Shows("~ note  ? recheck  ! tell the vet  x not done"), "the legend")
	d.Press("s")
	assert.True(t, d.Shows("source: "))
	d.Press("esc")
	assert.False(t, d.Shows("source: "), "esc closes the source first")
	d.Press("right") // 11 May 2025, typed in F
	assert.True(t, d.Shows("typed 100.6 F"))
}

func TestEmptyIsBlankAndNotDoneIsNot(t *testing.T) {
	d, _ := open(t, layout.Size{W: 80, H: 24})
	for range 5 {
		d.Press("right")
	}
	d.Press("end") // the digital pulse was not asked on 20 Mar 2025
	assert.True(t, d.Shows("20 Mar 2025: not answered at this visit"))
	d.Press("home", "down", "left", "left", "left")
	assert.True(t, d.Shows("2 Oct 2025: not done: horse refused"))
}

// long is a horse with many findings at every visit, of which one is out of range or changed at the newest visit.
func long(t testing.TB) (*nav.Deps, exam.HorseID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	for i := 5; i >= 0; i-- {
		v := screentest.Visit(t, store, h, screentest.Now().AddDate(0, 0, -30*i), map[bool]float64{true: 39.4, false: 38}[i == 0], 36)
		for _, step := range deps.Steps.All() {
			if value, ok := step.UsualValue(); ok && len(step.Sites) == 0 {
				_, err := store.Append(exam.Entry{Visit: v.ID, At: v.OpenedAt, By: "Ann Bell", Kind: exam.EntryFinding, Step: step.ID, Value: &value})
				require.NoError(t, err)
			}
		}
	}
	return deps, h.ID
}

// TestWhatStandsOutComesFirst: what is out of range or changed, most urgent first; the rest waits behind a key and is counted.
func TestWhatStandsOutComesFirst(t *testing.T) {
	deps, horse := long(t)
	d := screentest.New(t, deps, compare.New, nav.Address{Horse: horse}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("changed or out of range (1)"), d.View())
	assert.NotEmpty(t, d.Row("> temperature C"), d.View())
	assert.True(t, d.Shows("!39.4*"), "its level and its change are signs: %s", d.View())
	assert.True(t, d.Shows("▁▁▁▁▁█"), "a line of its past: %s", d.View())
	assert.Regexp(t, `the same as before \(\d+\): a shows them`, d.View())
	assert.Empty(t, d.Row("  heart rate"))
	d.Press("a")
	assert.NotEmpty(t, d.Row("> temperature C"), "the cursor stays: %s", d.View())
	assert.NotEmpty(t, d.Row("  heart rate /min"), d.View())
	d.Press("down", "a")
	assert.NotEmpty(t, d.Row("> temperature C"), "and comes back to what is drawn: %s", d.View())
	assert.Empty(t, d.Row("  heart rate"))
}

// TestAPlaceThatWaitsBehindTheKeyIsShown: the address of the review leads to it.
// What the newest visit does not answer is not the same as before, and a level is never cut.
func TestWhatIsNotAnsweredIsNotTheSame(t *testing.T) {
	deps, id := long(t)
	store := deps.Store
	h, err := store.Horse(id)
	require.NoError(t, err)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now().Add(time.Hour), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
	require.NoError(t, err)
	d := screentest.New(t, deps, compare.New, nav.Address{Horse: id}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("nothing answered in the newest visit; a shows the rest ("), d.View())
	assert.False(t, d.Reads("the same"), d.View())
	assert.False(t, d.Shows("not finis.."), d.View())
	assert.True(t, d.Shows("not finished"), d.View())
	_, err = store.Append(exam.Entry{Kind: exam.EntryFinding, Visit: v.ID, At: screentest.Now().Add(time.Hour), By: "Ann Bell", Step: "demeanour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"bright"}}})
	require.NoError(t, err)
	d = screentest.New(t, deps, compare.New, nav.Address{Horse: id}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("nothing stands out; same (1), not answered ("), d.View())
}

func TestAPlaceThatWaitsBehindTheKeyIsShown(t *testing.T) {
	deps, horse := long(t)
	d := screentest.New(t, deps, compare.New, nav.Address{Horse: horse, At: exam.Key{Step: "heart.rate"}}, layout.Size{W: 80, H: 24})
	assert.NotEmpty(t, d.Row("> heart rate /min"), d.View())
}

func TestTrendOpensOnTheRowUnderTheCursor(t *testing.T) {
	for _, key := range []string{"enter"} {
		d, h := open(t, layout.Size{W: 60, H: 20})
		d.Press("down", key)
		to := d.Last()
		assert.Equal(t, nav.Trend, to.Screen)
		assert.Equal(t, h.ID, to.Horse)
		assert.Equal(t, exam.Key{Step: "heart.rate"}, to.At)
		d.Press("esc")
		assert.NotEmpty(t, d.Row("> heart rate"), "back on the same row")
	}
}

func TestAddressSaysWhereToBegin(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.History(t, store)
	past, err := store.Past(h.ID, 0)
	require.NoError(t, err)
	d := screentest.New(t, deps, compare.New, nav.Address{Horse: h.ID, Visit: past[4].ID, At: exam.Key{Step: "gum.colour"}}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows(">11 May 2025"))
	assert.True(t, d.Shows("11 May 2025: pink"))
}

func TestFewVisits(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	none := screentest.New(t, deps, compare.New, nav.Address{Horse: horses["Pip"].ID}, layout.Size{W: 60, H: 20})
	assert.True(t, none.Shows("nothing to compare"))
	none.Press("down", "s", "right", "enter")
	assert.Empty(t, none.Opened())
	screentest.Visit(t, store, horses["Thistle"], screentest.Now(), 38, 40)
	one := screentest.New(t, deps, compare.New, nav.Address{Horse: horses["Thistle"].ID}, layout.Size{W: 60, H: 20})
	assert.True(t, one.Shows("1-1 of 1"))
	one.Press("right", "left", "down", "s")
	one.Squeeze()
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		deps, store := screentest.Deps(t)
		store.KeepAsGiven()
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Kind: exam.AnimalHorse, Cautions: []string{text}}, text, screentest.Now())
		require.NoError(t, err)
		for i := range 3 {
			v := screentest.Visit(t, store, h, screentest.Now().AddDate(0, 0, -i), 38, 40)
			for _, e := range []exam.Entry{
				{Kind: exam.EntryFinding, Step: exam.StepID(text), Site: exam.Site(text), Value: &exam.Value{Kind: exam.KindPick, Words: []string{text}}},
				{Kind: exam.EntryFinding, Step: "note", Value: &exam.Value{Kind: exam.KindNote, Text: text}, Note: text},
				{Kind: exam.EntryNotDone, Step: "gum.colour", Reason: text},
				{Kind: exam.EntryFinding, Step: "gum.colour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{text, text}}, Note: text},
			} {
				e.Visit, e.At, e.By = v.ID, v.OpenedAt, text
				_, err := store.Append(e)
				require.NoError(t, err)
			}
		}
		for _, size := range screentest.Sizes() {
			d := screentest.New(t, deps, compare.New, nav.Address{Horse: h.ID}, size)
			for range 6 {
				d.Press("down", "right", "s")
			}
			d.Squeeze()
		}
	}
}

func full(b *testing.B, visits int) *screentest.Driver {
	b.Helper()
	deps, store := screentest.Deps(b)
	h := screentest.Yard(b, store)["Thistle"]
	screentest.Full(b, store, deps.Steps, h, visits)
	return screentest.New(b, deps, compare.New, nav.Address{Horse: h.ID}, layout.Size{W: 120, H: 40})
}

func BenchmarkView(b *testing.B) {
	d := full(b, 20)
	for _, size := range []layout.Size{{W: 80, H: 24}, {W: 200, H: 60}} {
		b.Run(fmt.Sprintf("%dx%d", size.W, size.H), func(b *testing.B) {
			for b.Loop() {
				_ = d.Screen().View(size)
			}
		})
	}
}

func BenchmarkKey(b *testing.B) {
	d := full(b, 20)
	down, right := screentest.Press1("down", screentest.Now()), screentest.Press1("right", screentest.Now())
	for b.Loop() {
		d.Screen().Update(down)
		d.Screen().Update(right)
	}
}

func BenchmarkLoad(b *testing.B) {
	d := full(b, 20)
	for b.Loop() {
		_ = d.Screen().Init()()
	}
}
