package trend_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/trend"
	"loosebox/tui/screentest"
)

func open(t testing.TB, step exam.StepID, site exam.Site, size layout.Size) *screentest.Driver {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.History(t, store)
	return screentest.New(t, deps, trend.New, nav.Address{Screen: nav.Trend, Horse: h.ID, At: exam.Key{Step: step, Site: site}}, size)
}

func TestTrendIsDrawnInEverySize(t *testing.T) {
	for name, at := range map[string]exam.Key{
		"trend-temperature": {Step: "temp.rectal"}, "trend-heart": {Step: "heart.rate"}, "trend-words": {Step: "gum.colour"},
	} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			return open(t, at.Step, at.Site, size)
		})
	}
}

// plotted are the rows of the plot: what stands right of the axis, by its number.
func plotted(d *screentest.Driver) []string {
	var rows []string
	for _, line := range d.Lines() {
		if at := strings.Index(line, "│"); at == 7 {
			rows = append(rows, line)
		}
	}
	return rows
}

func TestPointsStandWhereTheirValuesAre(t *testing.T) {
	d := open(t, "heart.rate", exam.NoSite, layout.Size{W: 80, H: 24})
	rows := plotted(d)
	require.GreaterOrEqual(t, len(rows), 5)
	all := strings.Join(rows, "\n")
	points := 0
	for _, sign := range []string{"▪", "~", "?", "!"} {
		points += strings.Count(all, sign)
	}
	assert.Equal(t, 8, points, "eight numbers; the refused one is no point")
	assert.Contains(t, all, "░", "the band is drawn")
	assert.Contains(t, all, "┄", "and the limits")
	assert.Regexp(t, `[\x{2801}-\x{28ff}]`, all, "and a fine line")
	for _, number := range []string{"96", "44"} {
		assert.Contains(t, all, number, "the first and the last number stand beside their points")
	}
	// The first number is the largest (96), the foal's: it stands at the left in
	// the top part, the last one (44) at the right in the lower part.
	first, last := -1, -1
	for i, row := range rows {
		cells := []rune(row)[8:]
		if strings.ContainsAny(string(cells[0]), "▪~?!") {
			first = i
		}
		if strings.ContainsAny(string(cells[67]), "▪~?!") {
			last = i
		}
	}
	assert.GreaterOrEqual(t, first, 0)
	assert.Greater(t, last, first)
}

func TestBandFollowsTheClass(t *testing.T) {
	rows := plotted(open(t, "heart.rate", exam.NoSite, layout.Size{W: 120, H: 40}))
	left, right := -1, -1
	for i, row := range rows {
		cells := []rune(row)[8:]
		if left < 0 && strings.ContainsRune("░*", cells[2]) {
			left = i
		}
		if right < 0 && len(cells) > 105 && cells[105] == '░' {
			right = i
		}
	}
	require.GreaterOrEqual(t, left, 0)
	assert.Less(t, left, right, "a foal's usual rate lies higher than a yearling's")
}

func TestCursorWalksThroughTheVisits(t *testing.T) {
	d := open(t, "temp.rectal", exam.NoSite, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("27 Feb 2026 09:30: 38.3 C"))
	d.Press("left")
	assert.True(t, d.Shows("15 Jan 2026 09:30: 38.1 C"), "the past is at the left")
	d.Press("down", "down", "down", "down")
	assert.True(t, d.Shows("20 Mar 2025 09:30: 38 C"))
	d.Press("up")
	assert.True(t, d.Shows("11 May 2025 09:30: 38.1 C (typed 100.6 F)"))
	d.Press("up")
	assert.True(t, d.Reads("30 Jul 2025 09:30: 39.6 C; tell the vet"))
	assert.True(t, d.Reads("worked; hot weather"))
	d.Press("enter")
	assert.Equal(t, nav.Review, d.Last().Screen)
	d.Press("esc")
	assert.True(t, d.Shows("30 Jul 2025 09:30: 39.6 C"), "back at the same visit")
	d.Press("right", "right", "right", "right", "right")
	assert.True(t, d.Shows("27 Feb 2026 09:30: 38.3 C"), "it stops at the newest")
}

// The band of no change belongs to the visit under the cursor: after work and hot, the filly's 39.6 C was more than
// noise against 38.1 C, and the band stands round that.
func TestTheBandOfNoChangeIsDrawnAndSaid(t *testing.T) {
	d := open(t, "temp.rectal", exam.NoSite, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("= no change on 27 Feb 2026 would be 37.5-38.7 C"))
	assert.Equal(t, 3, strings.Count(strings.Join(plotted(d), "\n"), "="))
	assert.True(t, d.Reads("up 0.2 C since 15 Jan 2026; within normal variation (up to 0.6 C)"))
	d.Press("s", "pgdown", "pgdown")
	assert.True(t, d.Reads("a real change is above 1.96 x sqrt(2 x within² + this² + last²)"))
	foal := open(t, "heart.rate", exam.NoSite, layout.Size{W: 80, H: 24})
	assert.False(t, foal.Shows("no change on"), "too few visits as a yearling, and typed rates")
	assert.True(t, foal.Reads("normal variation not known"))
}

func TestSourceIsShownAndClosed(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d := open(t, "heart.rate", exam.NoSite, size)
		d.Press("s")
		assert.True(t, d.Reads("range for yearling: usual 40-60 /min"))
		assert.True(t, d.Shows("source: "))
		d.Press("esc")
		assert.False(t, d.Shows("source: "))
	}
}

func TestWordsAreATableOverTime(t *testing.T) {
	d := open(t, "gum.colour", exam.NoSite, layout.Size{W: 80, H: 24})
	lines := d.Lines()
	newest, pale := -1, -1
	for i, l := range lines {
		if strings.HasPrefix(l, "> 27 Feb 2026") {
			newest = i
		}
		if strings.Contains(l, "30 Jul 2025") && strings.Contains(l, "pale pink") {
			pale = i
		}
	}
	assert.Greater(t, newest, 0)
	assert.Greater(t, pale, newest)
	assert.Empty(t, plotted(d))
}

func TestNotDoneIsInTheList(t *testing.T) {
	d := open(t, "heart.rate", exam.NoSite, layout.Size{W: 120, H: 40})
	assert.Contains(t, d.Row("2 Oct 2025 09:30"), "x not done: horse refused")
}

func TestOneValueAndNone(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	none := screentest.New(t, deps, trend.New, nav.Address{Horse: h.ID, At: exam.Key{Step: "heart.rate"}}, layout.Size{W: 60, H: 20})
	assert.True(t, none.Shows("No visit of this horse holds this finding."))
	none.Press("up", "enter", "s", "left")
	assert.Empty(t, none.Opened())
	screentest.Visit(t, store, h, screentest.Now(), 38, 40)
	for _, size := range screentest.Sizes() {
		one := screentest.New(t, deps, trend.New, nav.Address{Horse: h.ID, At: exam.Key{Step: "heart.rate"}}, size)
		one.Press("left", "s")
		one.Squeeze()
	}
}

// TestMeasuresStandAboveEachOther: one key draws temperature, heart and breathing over one axis of time, and one back.
func TestMeasuresStandAboveEachOther(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		h, v := screentest.Story(t, store)
		screentest.Told(t, store, v)
		d := screentest.New(t, deps, trend.New, nav.Address{Horse: h.ID, At: exam.Key{Step: "heart.rate"}}, size)
		assert.False(t, d.Shows("Rectal temperature"))
		d.Press("a")
		if size.H > 20 {
			for _, name := range []string{"Heart rate, /min", "Rectal temperature, C", "Breathing rate, /min"} {
				assert.True(t, d.Shows(name), "%s: %s", name, d.View())
			}
			assert.True(t, d.Shows("64"), d.View())
			assert.True(t, d.Shows("38.7"), d.View())
		}
		assert.True(t, d.Shows("//"), "two years without a visit are broken: %s", d.View())
		d.Golden("trend-together")
		d.Squeeze()
		d.Press("a")
		assert.False(t, d.Shows("Rectal temperature"))
	}
	words := open(t, "gum.colour", exam.NoSite, layout.Size{W: 80, H: 24})
	before := words.View()
	words.Press("a")
	assert.Equal(t, before, words.View(), "words are no plot")
}

func TestPictureOfATrend(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.InColour(deps)
	h, v := screentest.Story(t, store)
	screentest.Told(t, store, v)
	d := screentest.New(t, deps, trend.New, nav.Address{Horse: h.ID, At: exam.Key{Step: "temp.rectal"}}, layout.Size{W: 96, H: 30})
	d.Press("a")
	d.Picture("trend")
}

func TestStrangeNumbersAndHostileText(t *testing.T) {
	for i, text := range screentest.Hostile() {
		deps, store := screentest.Deps(t)
		store.KeepAsGiven()
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Kind: exam.AnimalHorse, Cautions: []string{text}}, text, screentest.Now())
		require.NoError(t, err)
		for j, n := range []float64{1e300, -1e300, 0, 1e-300, 40, 40.0000001} {
			v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now().AddDate(0, 0, -j%3), By: text, Opening: &exam.Opening{Horse: h, Routine: text}})
			require.NoError(t, err)
			for _, e := range []exam.Entry{
				{Kind: exam.EntryFinding, Step: "heart.rate", Note: text, Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: n, Unit: notation.PerMinute}}},
				{Kind: exam.EntryFinding, Step: "gum.colour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{text}}},
				{Kind: exam.EntryNotDone, Step: "breath.rate", Reason: text},
				{Kind: exam.EntryFinding, Step: exam.StepID(text), Site: exam.Site(text), Value: &exam.Value{Kind: exam.KindNote, Text: text}},
			} {
				e.Visit, e.At, e.By = v.ID, v.OpenedAt, text
				_, err := store.Append(e)
				require.NoError(t, err)
			}
		}
		for _, at := range []exam.Key{{Step: "heart.rate"}, {Step: "gum.colour"}, {Step: "breath.rate"}, {Step: exam.StepID(text), Site: exam.Site(text)}} {
			size := screentest.Sizes()[i%3]
			d := screentest.New(t, deps, trend.New, nav.Address{Horse: h.ID, At: at}, size)
			d.Press("down", "left", "s", "right")
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	deps, store := screentest.Deps(b)
	h := screentest.Yard(b, store)["Thistle"]
	screentest.Full(b, store, deps.Steps, h, 20)
	for _, step := range []exam.StepID{"heart.rate", "gum.colour"} {
		d := screentest.New(b, deps, trend.New, nav.Address{Horse: h.ID, At: exam.Key{Step: step}}, layout.Size{W: 120, H: 40})
		for _, size := range []layout.Size{{W: 80, H: 24}, {W: 200, H: 60}} {
			b.Run(fmt.Sprintf("%s-%dx%d", step, size.W, size.H), func(b *testing.B) {
				for b.Loop() {
					_ = d.Screen().View(size)
				}
			})
		}
	}
}
