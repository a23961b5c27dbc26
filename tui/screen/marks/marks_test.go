package marks_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/marks"
	"loosebox/tui/screentest"
)

// badly is a rehearsal with known faults: a step and a side left out, taps 5 % slow, a wrong gum colour, a step out of
// turn, a choice that was not safe, no hand-off.
func badly() rehearse.Trainee {
	return rehearse.Trainee{By: "Ann Bell", Slips: rehearse.Slips{
		Skip: "gum.moisture", Side: exam.Key{Step: "limb.warmth", Site: exam.RightHind}, TapFactor: 0.95, Unsafe: "limbs",
		Moved: "temp.rectal", Silent: true, Wrong: map[exam.Key]string{{Step: "gum.colour"}: "toxicline"},
	}}
}

func well() rehearse.Trainee { return rehearse.Trainee{By: "Ann Bell", To: "Dr. Olga Sommer"} }

func open(t testing.TB, size layout.Size, who rehearse.Trainee) (*screentest.Driver, *nav.Deps, exam.VisitID) {
	t.Helper()
	deps, _ := screentest.Deps(t)
	id := screentest.Rehearse(t, deps, "tarn", 2, screentest.Now().Add(-time.Hour), who)
	return at(t, deps, id, size), deps, id
}

func at(t testing.TB, deps *nav.Deps, id exam.VisitID, size layout.Size) *screentest.Driver {
	t.Helper()
	return screentest.New(t, deps, marks.New, nav.Address{Screen: nav.Marks, Visit: id}, size)
}

func TestMarksAreDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "marks-badly", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, badly())
		d.Squeeze()
		return d
	})
	screentest.Goldens(t, "marks-well", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, well())
		return d
	})
	screentest.Goldens(t, "marks-why", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, badly())
		to(t, d, "heart rate, tapped")
		d.Press("s")
		d.Squeeze()
		return d
	})
	screentest.Goldens(t, "marks-answers", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size, badly())
		to(t, d, "x gum color")
		return d
	})
}

// to moves the cursor down to the mark whose first row holds a text.
func to(t testing.TB, d *screentest.Driver, text string) {
	t.Helper()
	for range 80 {
		if strings.Contains(here(d), text) {
			return
		}
		d.Press("down")
	}
	require.Fail(t, "no mark says "+text, d.View())
}

// here is the row of the cursor.
func here(d *screentest.Driver) string {
	for _, line := range d.Lines() {
		if strings.HasPrefix(line, ">") {
			return line
		}
	}
	return ""
}

// walked is every row that the cursor stood on from the top to the end.
func walked(d *screentest.Driver) string {
	d.Press("home")
	var all []string
	for range 200 {
		row := here(d)
		if n := len(all); n > 0 && all[n-1] == row {
			break
		}
		all = append(all, row)
		d.Press("down")
	}
	return strings.Join(all, "\n")
}

// Every fault of a rehearsal played badly on purpose can be reached with the keys, in every size.
func TestEveryMarkIsReached(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d, _, _ := open(t, size, badly())
		all := walked(d)
		for _, text := range []string{
			"Score: ", "Rehearsal: ", "1. Stay safe at limb warmth", "2. Find what", "3. Hand off", "out of order: temperature", "gum moisture",
			"limb warmth: right hind", "heart rate, tapped", "choices were safe", "  unsafe: ", "not handed off", "not found gum color",
			"remark without cause", "/ heart rate", "x gum color", "- gum moisture", "approach ", "- A quadrant without",
		} {
			assert.Contains(t, all, text, "%v", size)
		}
		last := here(d)
		d.Press("end")
		assert.Equal(t, last, here(d))
		d.Press("home")
		assert.Contains(t, here(d), "Score:")
		d.Press("pgdown")
		assert.NotContains(t, here(d), "Score:")
		d.Press("pgup")
		assert.Contains(t, here(d), "Score:")
		for range 40 {
			d.Press("pgdown")
		}
		assert.Equal(t, last, here(d), "pages lead to the end")
	}
}

func TestEachMarkIsExplained(t *testing.T) {
	d, _, _ := open(t, layout.Size{W: 120, H: 40}, badly())
	for text, why := range map[string]string{
		"out of order":       "Kendall 1938",
		"heart rate, tapped": "Right within 2 %",
		"x gum color":        "Words must be the same",
		"choices were safe":  "the first time",
		"gum moisture":       "A step without any answer is missed",
	} {
		d.Press("home")
		to(t, d, text)
		d.Press("s")
		assert.True(t, d.Reads(why), "%s: %s", text, d.View())
		d.Press("esc")
		assert.False(t, d.Reads(why), text)
		assert.False(t, d.Left())
	}
	d.Press("esc")
	assert.True(t, d.Left())
}

func TestTheSameAfterARestart(t *testing.T) {
	d, deps, id := open(t, layout.Size{W: 80, H: 24}, badly())
	first := walked(d)
	later := *deps
	later.Now = func() time.Time { return screentest.Now().AddDate(1, 0, 0) }
	assert.Equal(t, first, walked(at(t, &later, id, layout.Size{W: 80, H: 24})))
}

func TestThatItWasARehearsalIsAlwaysSaid(t *testing.T) {
	d, _, _ := open(t, layout.Size{W: 80, H: 24}, well())
	assert.Contains(t, d.Lines()[0], nav.RehearsalSign)
}

func TestAPersonKeepsTheirScatter(t *testing.T) {
	d, deps, _ := open(t, layout.Size{W: 80, H: 24}, well())
	assert.Empty(t, deps.Settings.Scatter)
	to(t, d, "ms (±")
	assert.True(t, d.Reads("ctrl+s saves it as yours"), d.View())
	d.Press("ctrl+s")
	set, err := deps.Store.Settings()
	require.NoError(t, err)
	kept := set.Scatter["Ann Bell"]
	assert.InDelta(t, 0.04, kept.SigmaS, 0.015)
	assert.GreaterOrEqual(t, kept.Taps, 20)
	assert.Equal(t, kept, deps.Settings.Scatter["Ann Bell"])
	assert.True(t, d.Reads("Saved as yours"), d.View())
	writes := deps.Store.(*examtest.Store).Writes()
	d.Press("ctrl+s", "ctrl+s")
	assert.Equal(t, writes, deps.Store.(*examtest.Store).Writes(), "kept once")
}

func TestAScatterThatIsNotOffered(t *testing.T) {
	for why, c := range map[string]struct {
		who    rehearse.Trainee
		person string
	}{
		"these taps did not follow the beats": {badly(), "Ann Bell"},
		"these are the taps of Bo":            {rehearse.Trainee{By: "Bo", To: "Dr. Sommer"}, "Ann Bell"},
		"no name is set":                      {well(), ""},
		"steadier than screen":                {rehearse.Trainee{By: "Ann Bell", HandS: 0.001}, "Ann Bell"},
		"these taps do not match the beats":   {rehearse.Trainee{By: "Ann Bell", HandS: 0.15}, "Ann Bell"},
	} {
		deps, store := screentest.Deps(t)
		deps.Settings.Person = c.person
		id := screentest.Rehearse(t, deps, "tarn", 2, screentest.Now(), c.who)
		d := at(t, deps, id, layout.Size{W: 80, H: 24})
		to(t, d, "ms (±")
		assert.True(t, d.Reads(why), "%s: %s", why, d.View())
		d.Press("ctrl+s")
		assert.Zero(t, store.Writes(), why)
	}
}

func TestARefusedScatterCanBeKeptAgain(t *testing.T) {
	d, deps, _ := open(t, layout.Size{W: 80, H: 24}, well())
	store := deps.Store.(*examtest.Store)
	store.FailWith(errors.New("the disk is full"))
	d.Press("ctrl+s")
	assert.True(t, d.Reads("this accuracy is NOT saved"), d.View())
	store.FailWith(nil)
	d.Press("ctrl+s")
	assert.Equal(t, 1, store.Writes())
}

func TestWhereItLeads(t *testing.T) {
	d, _, _ := open(t, layout.Size{W: 80, H: 24}, well())
	d.Press("ctrl+r")
	assert.Equal(t, nav.Address{Screen: nav.Progress}, d.Last())
	d, _, _ = open(t, layout.Size{W: 80, H: 24}, well())
	d.Press("n")
	assert.Equal(t, nav.Rehearse, d.Last().Screen)
	assert.Equal(t, &nav.Play{Case: "tarn"}, d.Last().Play)
	assert.Equal(t, "colic-check", d.Last().Routine)
}

// The truth stays hidden until the rehearsal is finished; a case that was changed, and a store that fails, are said.
func TestWhatCannotBeMarked(t *testing.T) {
	d, _, _ := open(t, layout.Size{W: 80, H: 24}, rehearse.Trainee{By: "Ann Bell", Slips: rehearse.Slips{Unfinished: 9}})
	assert.True(t, d.Reads("stays hidden until it is"), d.View())
	assert.False(t, d.Reads("none for 12 hours"), d.View())
	d.Press("down", "s", "ctrl+s", "n")

	deps, _ := screentest.Deps(t)
	id := screentest.Rehearse(t, deps, "tarn", 2, screentest.Now(), well())
	cases, _ := deps.Cases()
	for i := range cases {
		cases[i].Digest = "ffffffffffff"
	}
	d = at(t, deps, id, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("was changed after this rehearsal"), d.View())
	deps.Cases = func() ([]rehearse.Case, []string) { return nil, nil }
	d = at(t, deps, id, layout.Size{W: 60, H: 20})
	assert.True(t, d.Reads("put its file back"), d.View())
	deps.Rehearsals.(*examtest.Store).FailWith(errors.New("the disk is gone"))
	d = at(t, deps, id, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("this rehearsal cannot be read; nothing was changed"), d.View())
	deps.Rehearsals = nil
	d = at(t, deps, id, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("No rehearsals are saved here."), d.View())
	d.Squeeze()
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, _ := screentest.Deps(t)
			deps.Rehearsals.(*examtest.Store).KeepAsGiven()
			who := badly()
			who.By, who.To = text, text
			id := screentest.Rehearse(t, deps, "tarn", 2, screentest.Now(), who)
			deps.Settings.Person = text
			d := at(t, deps, id, size)
			d.View()
			d.Press("end", "s")
			d.View()
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, layout.Size{W: 120, H: 40}, badly())
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}
