package handoff_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	page "loosebox/exam/handoff"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/handoff"
	"loosebox/tui/screentest"
)

func open(t testing.TB, size layout.Size, first ...func(testing.TB, exam.Store, exam.VisitID)) (*screentest.Driver, exam.Store, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	for _, write := range first {
		write(t, store, id)
	}
	return screentest.New(t, deps, handoff.New, nav.Address{Visit: id}, size), store, id
}

func fever(t testing.TB, s exam.Store, id exam.VisitID)     { screentest.Fever(t, s, id) }
func handedOff(t testing.TB, s exam.Store, id exam.VisitID) { screentest.HandOff(t, s, id) }

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

// whole is everything that the page shows while it is scrolled through.
func whole(d *screentest.Driver) string {
	var out []string
	for range 100 {
		out = append(out, d.View())
		d.Press("pgdown")
		if out[len(out)-1] == d.View() {
			break
		}
	}
	return strings.Join(out, "\n")
}

// SBAR, then read-back (Shahid & Thomas 2018, doi 10.1186/s40886-018-0073-1); the
// technician fills S and O of a SOAP note, A and P stay for the veterinarian.
func TestThePageIsInOrderAndLeavesAssessmentAndPlan(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d, _, _ := open(t, size, fever)
		text := whole(d)
		last := -1
		for _, part := range []string{"WHY I CALL", "VITAL SIGNS", "WHAT STANDS OUT", "THE REST", "WHAT I ASK", "Ask the vet to repeat", "FOR THE FILE", "  S  ", "  O  ", "  A  ", "  P  "} {
			at := strings.Index(text, part)
			require.Greater(t, at, last, "%s comes after what was before it", part)
			last = at
		}
		assert.Contains(t, text, "  A  "+page.ForTheVet)
		assert.Contains(t, text, "  P  "+page.ForTheVet)
		assert.Regexp(t, `about [1-5]?\d s aloud`, d.Lines()[0], "under a minute")
	}
}

func TestAHandOffIsWrittenDownAsItWasRead(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, store, id := open(t, wide(), fever)
		d.Press("enter", "enter")
		assert.True(t, d.Shows("type the veterinarian's name"), "a name is needed")
		d.Type("Dr Vale")
		d.Press("enter", "right", "enter")
		assert.True(t, d.Reads("Please look at this horse, or say: go ahead, wait, or stop."), "what the page asks is what is written down")
		d.Press("ctrl+u")
		d.Type("May I give the vaccine? u x p")
		d.Press("enter", space, "enter", "enter", "enter")
		assert.True(t, d.Left())
		v, err := store.Visit(id)
		require.NoError(t, err)
		require.Len(t, v.HandOffs, 1)
		assert.Equal(t, exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, Asked: "May I give the vaccine? u x p", ReadBack: true}, v.HandOffs[0].HandOffLine)
		assert.Equal(t, "Ann Bell", v.HandOffs[0].By)
	}
}

func TestWhereTheNumbersOfThePageComeFrom(t *testing.T) {
	d, _, _ := open(t, wide(), fever)
	d.Press("s")
	for _, text := range []string{"Where it comes from: Hand-off", "temperature", "range for adult light horse", "source: "} {
		assert.True(t, d.Reads(text), "%s: %s", text, d.View())
	}
	d.Press("esc")
	assert.False(t, d.Left(), "esc closes the sources first")
	assert.True(t, d.Shows("WHY I CALL"))
	d.Press("enter")
	d.Type("Dr. Sands")
	assert.True(t, d.Shows("Dr. Sands"), "letters are text in the lines")
}

func TestThePageTakesWhatIsAsked(t *testing.T) {
	d, _, _ := open(t, wide())
	d.Press("enter")
	d.Type("Dr Vale")
	d.Press("down", "down", "ctrl+u")
	d.Type("May he travel?")
	d.Press("esc")
	assert.False(t, d.Left(), "esc goes to the page first")
	assert.Contains(t, whole(d), "May he travel?")
	d.Press("enter")
	assert.True(t, d.Shows("Dr Vale"), "what was typed is still there")
	d.Press("esc", "esc")
	assert.True(t, d.Left())
}

func TestALaterHandOff(t *testing.T) {
	d, store, id := open(t, wide(), handedOff, fever)
	d.Press("enter")
	assert.True(t, d.Shows("handed off before: 10:50 to Dr Vale, by telephone"))
	d.Press("ctrl+s")
	v, err := store.Visit(id)
	require.NoError(t, err)
	require.Len(t, v.HandOffs, 2)
	assert.Equal(t, "Dr Vale", v.HandOffs[1].To, "who was told before is offered")
	assert.False(t, v.HandOffs[1].ReadBack, "read back is never taken over")
}

func TestAfterClosingItIsAddedLater(t *testing.T) {
	d, store, id := open(t, wide(), handedOff, func(t testing.TB, s exam.Store, id exam.VisitID) {
		screentest.Add(t, s, id, exam.Entry{Kind: exam.EntryClosed})
	})
	d.Press("enter")
	assert.True(t, d.Reads("The visit is closed; this is added later"))
	d.Press("ctrl+s")
	assert.True(t, d.Reads("the visit is closed: type why this is added now"))
	d.Type("nobody could be reached before")
	d.Press("ctrl+s")
	entries, err := store.Entries(id)
	require.NoError(t, err)
	assert.Equal(t, exam.EntryAdded, entries[len(entries)-1].Kind)
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.Len(t, v.HandOffs, 2)
}

func TestAFullDiskKeepsWhatWasTyped(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	d := screentest.New(t, deps, handoff.New, nav.Address{Visit: id}, wide())
	d.Press("enter")
	d.Type("Dr Vale")
	store.FailWith(assert.AnError)
	d.Press("ctrl+s")
	assert.Regexp(t, `(?m)^x `, d.View())
	assert.True(t, d.Shows("Dr Vale"))
	store.FailWith(nil)
	d.Press("ctrl+s")
	assert.True(t, d.Left())
}

func TestGoldenHandOff(t *testing.T) {
	screentest.Goldens(t, "handoff-page", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, fever)
		return d
	})
	screentest.Goldens(t, "handoff-told", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, handedOff, fever)
		d.Press("enter", "down", "down")
		return d
	})
}

// The pages that are read most: a healthy yearly check, an early colic, a newborn,
// and a second visit of one day.
func TestGoldenPages(t *testing.T) {
	for _, c := range []struct {
		name, horse, reason, routine string
		found                        []exam.Entry
	}{
		{"healthy", "Thistle", "yearly check", steps.Default, append(vitals(37.8, 40, 14, 1.5), gut("heard", "heard", "heard", "heard")...)},
		{"colic", "Thistle", "rolled twice", "colic-check", slices.Concat(vitals(37.4, 63.7, 24.2, 3.4), gut("none", "none", "reduced", "heard"), []exam.Entry{
			chosen("pain.signs", "", "flank", "paws"),
			{Kind: exam.EntryFinding, Step: "note", Value: &exam.Value{Kind: exam.KindNote, Text: "no droppings since last night"}},
		})},
		{"newborn", "Pip", "two days old", "newborn-foal", append(vitals(39.3, 124, 36, 2), chosen("foal.nurse", "", exam.EventNotYet))},
		{"second", "Bracken", "dull since the morning", "tpr-recheck", vitals(38.9, 52, 18, 2)},
	} {
		screentest.Goldens(t, "handoff-"+c.name, func(t *testing.T, size layout.Size) *screentest.Driver {
			deps, store := screentest.Deps(t)
			horses := screentest.Yard(t, store)
			if c.name == "second" {
				screentest.Add(t, store, screentest.Open(t, store).ID, exam.Entry{Kind: exam.EntryClosed})
			}
			v, err := store.Begin(exam.Entry{
				Kind: exam.EntryOpened, At: screentest.Now().Add(-10 * time.Minute), By: "Ann Bell",
				Opening: &exam.Opening{Horse: horses[c.horse], Routine: c.routine, Reason: c.reason},
			})
			require.NoError(t, err)
			for _, e := range c.found {
				screentest.Add(t, store, v.ID, e)
			}
			return screentest.New(t, deps, handoff.New, nav.Address{Visit: v.ID}, size)
		})
	}
}

func chosen(step exam.StepID, site exam.Site, keys ...string) exam.Entry {
	s, _ := steps.Table().ByID(step)
	v, err := s.ChoiceValue(keys...)
	if err != nil {
		panic(err)
	}
	return exam.Entry{Kind: exam.EntryFinding, Step: step, Site: site, Value: &v}
}

func vitals(temp, heart, breaths, refill float64) []exam.Entry {
	number := func(step exam.StepID, kind exam.StepKind, n float64, u notation.Unit) exam.Entry {
		return exam.Entry{Kind: exam.EntryFinding, Step: step, Value: &exam.Value{Kind: kind, Number: &notation.Quantity{Value: n, Unit: u}}}
	}
	return []exam.Entry{
		number("temp.rectal", exam.KindNumber, temp, notation.Celsius), number("heart.rate", exam.KindCount, heart, notation.PerMinute),
		number("breath.rate", exam.KindCount, breaths, notation.PerMinute), number("gum.refill", exam.KindTime, refill, notation.Seconds),
		chosen("gum.colour", "", "pink"), chosen("gum.moisture", "", "moist"),
	}
}

func gut(keys ...string) []exam.Entry {
	var out []exam.Entry
	for i, site := range []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower} {
		out = append(out, chosen("gut.sounds", site, keys[i]))
	}
	return out
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			screentest.Yard(t, store)
			id := screentest.Open(t, store).ID
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: text, How: exam.Means(text), Asked: text}})
			screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryNote, Note: text})
			d := screentest.New(t, deps, handoff.New, nav.Address{Visit: id}, size)
			whole(d)
			d.Press("enter", "ctrl+u")
			d.Paste(text)
			d.Press("down", "down", "ctrl+u")
			d.Paste(text)
			d.View()
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, wide(), fever)
	for b.Loop() {
		d.Screen().View(layout.Size{W: 200, H: 60})
	}
}
