package class_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/class"
	"loosebox/exam/report"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func opened() time.Time { return time.Date(2026, 12, 4, 9, 0, 0, 0, time.UTC) }

func set(t *testing.T) rehearse.Set {
	t.Helper()
	s, err := rehearse.ReadSet(strings.NewReader(rehearse.SetPattern), "exam.yaml", steps.Table(), time.UTC)
	require.NoError(t, err)
	return s
}

// student is one scripted student of the class, and what a fair teacher gives them: written down before it was played.
type student struct {
	name   string
	after  time.Duration // the beginning of the exam
	slips  rehearse.Slips
	result string
	best   bool // every point
}

func students() []student {
	gums := map[exam.Key]string{{Step: "gum.colour"}: "pink"}
	return []student{
		{"Ada Perfect", 0, rehearse.Slips{}, "passed", true},
		{"Ben Passes-Over", 0, rehearse.Slips{PassedAll: string(exam.ReasonNoTime)}, "failed at once", false},
		{"Cay Usual", 0, rehearse.Slips{UsualAll: true}, "failed at once", false},
		{"Dan Too-Fast", 0, rehearse.Slips{HurriedS: 1}, "failed at once", false},
		{"Eva Careful", 0, rehearse.Slips{Wrong: map[exam.Key]string{{Step: "posture"}: "square"}}, "passed", false},
		{"Fay Wrong-Gums", 0, rehearse.Slips{Wrong: gums}, "failed at once: hand-off", false},
		{"Gus Unsafe", 0, rehearse.Slips{Unsafe: "tail"}, "failed at once: safety", false},
		{"Hal Silent", 0, rehearse.Slips{Silent: true}, "failed at once: hand-off", false},
		{"Ivy Late", 9 * time.Hour, rehearse.Slips{}, "late", false},
		{"Jon Stops", 0, rehearse.Slips{Unfinished: 6}, "not finished", false},
	}
}

// taken plays the exam by one student and marks it.
func taken(t *testing.T, s rehearse.Set, st student) rehearse.Marks {
	t.Helper()
	table := steps.Table()
	held, err := ranges.BuiltIn()
	require.NoError(t, err)
	cases, err := rehearse.Cases(table, held)
	require.NoError(t, err)
	c, err := s.CaseOf(cases, table, held)
	require.NoError(t, err)
	h, err := rehearse.New(c, s.Seed, opened().Add(st.after), table, held)
	require.NoError(t, err)
	routine, ok := steps.Find(steps.Routines(), s.Routine)
	require.True(t, ok)
	entries, err := rehearse.Trainee{By: st.name, To: "Dr. Olga Sommer", Slips: st.slips}.Rehearse(h, routine)
	require.NoError(t, err)
	for i := range entries {
		entries[i].Seq, entries[i].Visit = i+1, exam.VisitID("visit-"+st.name)
		if i > 0 {
			entries[i].Prev = entries[i-1].Hash
		}
		err := exam.Seal(&entries[i])
		require.NoError(t, err)
	}
	m, err := rehearse.Mark(h, routine, entries, judge.New(held, table))
	require.NoError(t, err)
	return m
}

func played(t *testing.T) class.Results {
	t.Helper()
	s := set(t)
	var all []rehearse.Marks
	for _, st := range students() {
		all = append(all, taken(t, s, st))
	}
	return class.New(s, all)
}

// A class of ten on one exam: each has the result that a fair teacher gives.
func TestAClassOfTen(t *testing.T) {
	c := played(t)
	require.Len(t, c.Students, 10)
	for i, want := range students() {
		got := c.Students[i]
		require.Equal(t, want.name, got.Name, "by name")
		assert.True(t, strings.HasPrefix(c.Result(got), want.result), "%s: %s", got.Name, c.Result(got))
		if want.best {
			assert.InDelta(t, 100, got.Best.Score.Percent, 1e-9)
		}
	}
	text := report.SetText(c.Blocks(), 100)
	for _, words := range []string{"10 students, 2 passed", "BY PERSON", "BY STEP", "BY FAULT", "Ada Perfect", "one attempt"} {
		assert.Contains(t, text, words)
	}
	assert.NotContains(t, text, "Jon Stops, ", "who did not finish is in no count of faults")
	var b bytes.Buffer
	require.NoError(t, c.WriteCSV(&b))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 11)
	sheet := report.SetText(c.Sheet(c.Students[4]), 90)
	for _, words := range []string{"Student: Eva Careful", "POINTS", "Examiner, date:", "borderline"} {
		assert.Contains(t, sheet, words)
	}
}

// Of several attempts within those allowed the best counts; one more than allowed does not.
func TestTheBestAttemptCounts(t *testing.T) {
	s := set(t)
	s.Attempts = 2
	bad := student{name: "Ada  Perfect", slips: rehearse.Slips{Unsafe: "tail"}}
	good := student{name: "ada perfect", after: time.Hour}
	c := class.New(s, []rehearse.Marks{taken(t, s, good), taken(t, s, bad)})
	require.Len(t, c.Students, 1)
	assert.True(t, c.Students[0].Passed)
	assert.Equal(t, 2, c.Students[0].Best.Number)
	s.Attempts = 1
	c = class.New(s, []rehearse.Marks{taken(t, s, good), taken(t, s, bad)})
	assert.False(t, c.Students[0].Passed)
}

func TestASetExamIsRead(t *testing.T) {
	s := set(t)
	assert.Equal(t, "Spring exam, group 2", s.Title)
	assert.Equal(t, uint64(41), s.Seed)
	assert.True(t, s.Modes.Timed)
	assert.Equal(t, []rehearse.FaultKind{rehearse.FaultSafety, rehearse.FaultHandOff}, s.FailAt)
	assert.InDelta(t, 4, s.Weights.Steps["gut.sounds"], 1e-9)
	assert.Equal(t, 18, s.Deadline.Hour())
	_, err := rehearse.ReadSet(strings.NewReader("set: x\ncase: tarn\nseed: 0\npass: 900\ndeadline: soon\npoints:\n  gallop: 1\n"), "bad.yaml", steps.Table(), time.UTC)
	for _, words := range []string{"bad.yaml:3", "bad.yaml:4", "bad.yaml:5", "no part of the marks and no step"} {
		require.ErrorContains(t, err, words)
	}
	s.Shown = rehearse.ShownAfter
	assert.False(t, s.MaySee(opened()))
	assert.True(t, s.MaySee(opened().Add(24*time.Hour)))
}
