package progress_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/progress"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

// school fills the rehearsals: Ann Bell gets better over six and has one that is not finished, Bo Lind made two.
func school(t testing.TB, deps *nav.Deps) (newest, open exam.VisitID) {
	t.Helper()
	for i := range 6 {
		s := rehearse.Slips{}
		if i < 5 {
			s.Skip = "gum.moisture"
		}
		if i < 3 {
			s.Side, s.Moved = exam.Key{Step: "limb.warmth", Site: exam.RightHind}, "temp.rectal"
		}
		if i < 2 {
			s.TapFactor, s.Unsafe = 1.05, "limbs"
		}
		name := []string{"dapple", "clover"}[i%2]
		at := screentest.Now().AddDate(0, 0, 3*i-20)
		newest = screentest.Rehearse(t, deps, name, uint64(i), at, rehearse.Trainee{By: "Ann Bell", To: "Dr. Olga Sommer", Slips: s, Pace: 2 - 0.25*float64(i)})
	}
	open = screentest.Rehearse(t, deps, "tarn", 1, screentest.Now().AddDate(0, 0, -1), rehearse.Trainee{By: "Ann Bell", Slips: rehearse.Slips{Unfinished: 5}})
	for i := range 2 {
		screentest.Rehearse(t, deps, "tarn", uint64(i), screentest.Now().AddDate(0, 0, -2-i), rehearse.Trainee{
			By: "Bo Lind", To: "Dr. Olga Sommer", Slips: rehearse.Slips{Wrong: map[exam.Key]string{{Step: "gum.colour"}: "brick"}},
		})
	}
	return newest, open
}

func open(t testing.TB, deps *nav.Deps, size layout.Size) *screentest.Driver {
	t.Helper()
	return screentest.New(t, deps, progress.New, nav.Address{Screen: nav.Progress}, size)
}

func TestProgressIsDrawnInEverySize(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	screentest.Goldens(t, "progress", func(t *testing.T, size layout.Size) *screentest.Driver {
		d := open(t, deps, size)
		d.Press("right", "right")
		d.Squeeze()
		return d
	})
	screentest.Goldens(t, "progress-people", func(t *testing.T, size layout.Size) *screentest.Driver {
		d := open(t, deps, size)
		d.Press("a")
		d.Squeeze()
		return d
	})
	screentest.Goldens(t, "progress-none", func(t *testing.T, size layout.Size) *screentest.Driver {
		empty, _ := screentest.Deps(t)
		return open(t, empty, size)
	})
}

func TestARowLeadsToItsMarks(t *testing.T) {
	deps, _ := screentest.Deps(t)
	newest, unfinished := school(t, deps)
	d := open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("Ann Bell, all routines: 7 rehearsals, 6 finished"), d.View())
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Marks, Visit: unfinished}, d.Last())
	d.Press("esc", "down", "enter")
	assert.Equal(t, nav.Address{Screen: nav.Marks, Visit: newest}, d.Last())
}

func TestEveryMeasureIsDrawn(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	for _, size := range screentest.Sizes() {
		d := open(t, deps, size)
		for _, title := range []string{
			"steps out of order", "steps and sides missed", "time a step", "heart count off by", "breath count off by",
			"variation of the taps", "findings wrong", "choices that were not safe",
		} {
			assert.True(t, d.Shows(title+", less is better"), "%v %s: %s", size, title, d.View())
			d.Press("right")
		}
		d.Press("right", "left")
		assert.True(t, d.Shows("findings wrong, less"), d.View())
	}
}

func TestWhatIsSaidOfATrend(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	d := open(t, deps, layout.Size{W: 120, H: 40})
	d.Press("right")
	assert.True(t, d.Shows("steps and sides missed, less is better: getting better"), d.View())
	assert.True(t, d.Reads("again and again: gum moisture: left out (5 of 6)"), d.View())
	row := d.Row("  lately")
	assert.Contains(t, row, "better")
	assert.Equal(t, 8, len(strings.Fields(row))-1, row)
}

func TestOneRoutineAtATime(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	d := open(t, deps, layout.Size{W: 80, H: 24})
	d.Press("/")
	assert.True(t, d.Reads("only colic-check: 1 rehearsal, 0 finished"), d.View())
	assert.True(t, d.Reads("no finished rehearsal"), d.View())
	d.Press("/")
	assert.True(t, d.Reads("only full-exam: 6 rehearsals, 6 finished"), d.View())
	d.Press("/")
	assert.True(t, d.Reads("all routines: 7 rehearsals"), d.View())
	d.Squeeze()
}

// Somebody who teaches sets people side by side and goes into each.
func TestEverybody(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	deps.Settings.Person = "Dr. Olga Sommer" // who rehearses nothing
	d := open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Progress · everybody"), d.View())
	assert.Contains(t, d.Row("Ann Bell"), "(6)")
	assert.Contains(t, d.Row("Bo Lind"), "(2)")
	d.Press("down")
	assert.True(t, d.Reads("gum color: another answer was right (2 of 2)"), d.View())
	d.Press("enter")
	assert.True(t, d.Shows("Progress · Bo Lind"), d.View())
	d.Press("esc")
	assert.True(t, d.Shows("Progress · everybody"), d.View())
	d.Press("esc")
	assert.True(t, d.Left())

	deps.Settings.Person = "ann bell"
	d = open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("Progress · Ann Bell"), "capitals do not matter")
	d.Press("a", "down", "enter")
	assert.True(t, d.Shows("Progress · Bo Lind"), d.View())
	assert.Contains(t, d.Lines()[0], nav.RehearsalSign)
}

func TestWhatCannotBeRead(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	cases, _ := deps.Cases()
	for i := range cases {
		if cases[i].Name == "tarn" {
			cases[i].Digest = "ffffffffffff"
		}
	}
	d := open(t, deps, layout.Size{W: 120, H: 40})
	assert.True(t, d.Reads("3 cannot be marked: the case tarn was changed after"), d.View())
	deps.Cases = func() ([]rehearse.Case, []string) { return nil, nil }
	d = open(t, deps, layout.Size{W: 60, H: 20})
	assert.True(t, d.Reads("put its file back"), d.View())
	d.Press("enter", "a", "/", "left")
	d.Squeeze()
	deps.Rehearsals.(*examtest.Store).FailWith(errors.New("the disk is gone"))
	d = open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("the rehearsals cannot be read, nothing was changed"), d.View())
	deps.Rehearsals = nil
	d = open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("No rehearsal is marked yet"), d.View())
}

func TestPlainSignsOnly(t *testing.T) {
	deps, _ := screentest.Deps(t)
	school(t, deps)
	deps.Theme = theme.New(theme.Plain, true)
	d := open(t, deps, layout.Size{W: 80, H: 24})
	d.Press("right")
	for _, line := range d.Lines()[2:] {
		for _, r := range line {
			require.Less(t, r, rune(0x7f), line)
		}
	}
	assert.True(t, d.Shows("##"), d.View())
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		deps, _ := screentest.Deps(t)
		deps.Rehearsals.(*examtest.Store).KeepAsGiven()
		screentest.Rehearse(t, deps, "clover", 1, screentest.Now(), rehearse.Trainee{By: text})
		deps.Settings.Person = text
		for _, size := range screentest.Sizes() {
			d := open(t, deps, size)
			d.View()
			d.Squeeze()
			d.Press("a")
			d.View()
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	deps, _ := screentest.Deps(b)
	school(b, deps)
	d := open(b, deps, layout.Size{W: 120, H: 40})
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}
