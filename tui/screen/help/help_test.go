package help_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/ranges"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/help"
	"loosebox/tui/screentest"
)

func page() *nav.HelpPage {
	return &nav.HelpPage{
		Title: "Exam",
		Keys:  []keys.Binding{keys.Tap(), keys.Accept(), keys.Up(), keys.Down(), keys.Finish().OffIf("the visit is closed already")},
		Words: []string{"Breathing is counted from outside, before the horse is handled."},
	}
}

func open(t *testing.T, size layout.Size) *screentest.Driver {
	t.Helper()
	deps, _ := screentest.Deps(t)
	return screentest.New(t, deps, help.New, nav.Address{Screen: nav.Help, For: page()}, size)
}

func TestHelpIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "help", open)
}

// everything scrolls through the whole help and joins what was in sight.
func everything(d *screentest.Driver) string {
	var all strings.Builder
	for range 40 {
		all.WriteString(d.View())
		d.Press("pgdown")
	}
	return all.String()
}

func TestHelpNamesEveryKeyLevelAndEvidenceWord(t *testing.T) {
	for _, size := range screentest.Sizes() {
		all := strings.Join(strings.Fields(everything(open(t, size))), " ")
		for _, l := range []ranges.Level{ranges.LevelUsual, ranges.LevelNote, ranges.LevelRecheck, ranges.LevelTell} {
			assert.Contains(t, all, l.String())
		}
		for _, e := range []ranges.Evidence{ranges.Published, ranges.CommonPractice, ranges.FromMemory, ranges.PracticeOwn} {
			assert.Contains(t, all, string(e))
		}
		assert.Contains(t, all, "space")
		assert.Contains(t, all, "closed already)")
		assert.Contains(t, all, "Breathing is counted from outside, before")
		assert.Contains(t, all, "never diagnoses")
		assert.Contains(t, all, "LOOSEBOX_DATA")
	}
}

func TestHelpScrollsAndQuestionMarkClosesIt(t *testing.T) {
	d := open(t, layout.Size{W: 60, H: 20})
	top := d.View()
	d.Press("up")
	assert.Equal(t, top, d.View(), "there is nothing above")
	d.Press("down", "pgdown")
	assert.NotEqual(t, top, d.View())
	d.Press("end")
	assert.True(t, d.Shows("loosebox check reads the whole record and"))
	last := d.View()
	d.Press("down", "pgdown")
	assert.Equal(t, last, d.View(), "it stops at the end")
	d.Press("home")
	assert.Equal(t, top, d.View())
	d.Resize(layout.Size{W: 120, H: 40})
	d.View()
	d.Press("?")
	assert.True(t, d.Left())
	assert.Empty(t, d.Opened(), "no help of the help")
}

func TestHelpWithoutAPage(t *testing.T) {
	deps, _ := screentest.Deps(t)
	d := screentest.New(t, deps, help.New, nav.Address{Screen: nav.Help}, layout.Size{W: 60, H: 20})
	assert.True(t, d.Shows("keys"))
	d.Squeeze()
}

func BenchmarkView(b *testing.B) {
	deps, _ := screentest.Deps(b)
	s := help.New(deps, nav.Address{For: page()})
	for b.Loop() {
		_ = s.View(layout.Size{W: 200, H: 60})
	}
}
