package class_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/class"
	"loosebox/tui/screentest"
)

// taken plays the exam of the pattern, with its marks shown as said, by four students.
func taken(t testing.TB, deps *nav.Deps, title, shown string) {
	t.Helper()
	text := strings.Replace(strings.Replace(rehearse.SetPattern, "marks: at once ", "marks: "+shown+" ", 1), "Spring exam, group 2", title, 1)
	set, err := rehearse.ReadSet(strings.NewReader(text), "exam.yaml", deps.Steps, screentest.Now().Location())
	require.NoError(t, err)
	for i, st := range []struct {
		name  string
		slips rehearse.Slips
	}{
		{"Ada Perfect", rehearse.Slips{}},
		{"Ben Slack", rehearse.Slips{PassedAll: string(exam.ReasonNoTime)}},
		{"Eva Careful", rehearse.Slips{Wrong: map[exam.Key]string{{Step: "posture"}: "square"}}},
		{"Jon Stops", rehearse.Slips{Unfinished: 6}},
	} {
		at := screentest.Now().Add(time.Duration(i-30) * time.Minute)
		screentest.Rehearse(t, deps, set.Case, set.Seed, at, rehearse.Trainee{By: st.name, To: "Dr. Olga Sommer", Slips: st.slips}, set.Entries()...)
	}
}

func open(t testing.TB, deps *nav.Deps, size layout.Size) *screentest.Driver {
	t.Helper()
	return screentest.New(t, deps, class.New, nav.Address{Screen: nav.Class}, size)
}

func TestAClassIsDrawnInEverySize(t *testing.T) {
	deps, _ := screentest.Deps(t)
	taken(t, deps, "Spring exam, group 2", "at once")
	for i, name := range []string{"class", "class-steps", "class-faults"} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			d := open(t, deps, size)
			for range i {
				d.Press("right")
			}
			d.Press("down")
			d.Squeeze()
			return d
		})
	}
	screentest.Goldens(t, "class-none", func(t *testing.T, size layout.Size) *screentest.Driver {
		empty, _ := screentest.Deps(t)
		return open(t, empty, size)
	})
}

// Each student has the result of the table that the command prints; enter opens the marks.
func TestAStudentLeadsToTheMarks(t *testing.T) {
	deps, _ := screentest.Deps(t)
	taken(t, deps, "Spring exam, group 2", "at once")
	d := open(t, deps, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("4 students, 2 passed"), d.View())
	assert.Contains(t, d.Row("Ada Perfect"), "100")
	assert.Contains(t, d.Row("Jon Stops"), "not finished")
	d.Press("enter")
	assert.Equal(t, nav.Marks, d.Last().Screen)
	d.Press("esc", "right")
	assert.True(t, d.Shows("posture"), d.View())
	d.Press("right")
	assert.True(t, d.Reads("by fault"), d.View())
}

// An exam that keeps its marks back shows who took it and nothing more, whatever is pressed; several are gone through.
func TestMarksAreKeptBack(t *testing.T) {
	deps, _ := screentest.Deps(t)
	taken(t, deps, "Autumn exam", "by the teacher")
	d := open(t, deps, layout.Size{W: 80, H: 24})
	for range 3 {
		assert.True(t, d.Shows("Ada Perfect"), d.View())
		assert.False(t, d.Shows("100"), d.View())
		assert.False(t, d.Shows("posture"), d.View())
		assert.False(t, d.Shows("passed"), d.View())
		d.Press("right", "enter")
	}
	taken(t, deps, "Spring exam", "at once")
	d = open(t, deps, layout.Size{W: 80, H: 24})
	first := d.View()
	d.Press("/")
	assert.NotEqual(t, first, d.View())
	d.Press("/")
	assert.Equal(t, first, d.View())
}
