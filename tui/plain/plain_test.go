package plain_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// session begins a visit and types the lines at the plain prompts.
func session(t *testing.T, routine, horse string, lines ...string) (out string, v exam.Visit, err error) {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	begun, err := store.Begin(exam.Entry{
		Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
		Opening: &exam.Opening{Horse: horses[horse], Routine: routine},
	})
	require.NoError(t, err)
	out, err = typed(deps, begun.ID, lines...)
	v, readErr := store.Visit(begun.ID)
	require.NoError(t, readErr)
	return out, v, err
}

func typed(deps *nav.Deps, id exam.VisitID, lines ...string) (string, error) {
	var b strings.Builder
	var waited time.Duration
	s := &plain.Session{
		Deps: deps, In: strings.NewReader(strings.Join(lines, "\n") + "\n"), Out: &b, Person: "Ann Bell", Echo: true,
		Wait: func(d time.Duration) { waited += d },
	}
	err := s.Exam(id)
	return b.String(), err
}

func TestAnswersAreStoredLineByLine(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle",
		"to temp", "101.2F", "to heart rate", "11 in 15", "to heart rhythm", "not done unsafe", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	f, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	require.True(t, ok)
	assert.Equal(t, "101.2 F", f.Value.Number.String())
	heart, _ := v.Finding(exam.Key{Step: "heart.rate"})
	assert.InDelta(t, 44, heart.Value.Number.Value, 0)
	assert.Equal(t, exam.Count{Method: exam.CountByEar, WindowS: 15, Counted: 11}, *heart.Value.Count)
	rhythm, _ := v.Finding(exam.Key{Step: "heart.rhythm"})
	assert.Equal(t, exam.ReasonUnsafe, rhythm.NotDone)
	assert.Contains(t, out, "Caution: kicks, bites.")
	assert.False(t, v.Closed())
}

func TestRefusedAndUnlikelyAnswersAreAskedAgain(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle",
		"to temp", "384", "38.4F", "-2", "warm", "42.5", "42.5", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Equal(t, 4, strings.Count(out, "Not saved"))
	assert.Contains(t, out, "did you mean 38.4 C")
	f, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	require.True(t, ok, "an unlikely value is taken when it is typed twice")
	assert.InDelta(t, 42.5, f.Value.Number.Value, 0)
	assert.Contains(t, out, "TELL THE VET")
}

// At the question whether an unlikely number is so, a command is a command and no answer.
func TestACommandAfterAnUnlikelyAnswerIsACommand(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle", "to temp", "42.5", "how", "42.5", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "Tip greased")
	assert.NotContains(t, out, "Not saved")
	assert.Equal(t, 2, strings.Count(out, "42.5 C is unlikely"), "asked anew after the command")
	_, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.False(t, ok)
}

// A count by ear is asked about as a typed rate is, and what is measured has no usual answer.
func TestACountByEarIsAskedAboutAsWell(t *testing.T) {
	out, v, _ := session(t, "tpr-recheck", "Thistle", "to heart", "usual", "50 in 15", "12 in 15", "quit")
	assert.Contains(t, out, "heart rate is measured and has no usual answer")
	assert.Contains(t, out, "200 /min is unlikely. Type it again if it is so.")
	f, ok := v.Finding(exam.Key{Step: "heart.rate"})
	require.True(t, ok)
	assert.InDelta(t, 48, f.Value.Number.Value, 0)
	_, v, _ = session(t, "tpr-recheck", "Thistle", "to heart", "50 in 15", "50 in 15", "quit")
	f, ok = v.Finding(exam.Key{Step: "heart.rate"})
	require.True(t, ok)
	assert.InDelta(t, 200, f.Value.Number.Value, 0)
}

func TestACorrectionNamesWhatItCorrects(t *testing.T) {
	_, v, err := session(t, "tpr-recheck", "Thistle", "to temp", "38.4", "to temp", "38.1", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	f, _ := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.InDelta(t, 38.1, f.Value.Number.Value, 0)
	assert.Len(t, f.Before, 1)
}

func TestTheClockCountsAndRings(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle", "to heart rate", "count 15", "17", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "\aStop")
	assert.Contains(t, out, "FEI Endurance Rules 2019", "more than 16 beats in 15 s want a longer count")
	f, _ := v.Finding(exam.Key{Step: "heart.rate"})
	assert.InDelta(t, 68, f.Value.Number.Value, 0)
}

func TestEndOfInputLeavesTheVisitOpenAndResumes(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"}})
	require.NoError(t, err)
	_, err = typed(deps, v.ID, "usual")
	require.ErrorIs(t, err, plain.ErrLeft)
	out, err := typed(deps, v.ID, "finish", "finish", "finish no time")
	require.NoError(t, err)
	assert.Contains(t, out, "A reason is needed")
	closed, err := store.Visit(v.ID)
	require.NoError(t, err)
	assert.True(t, closed.Closed())
	assert.Empty(t, closed.Left(deps.Routines[1].For(closed.Class(), deps.Steps)), "no silent gap stays")
}

// The whole demo script answers every place of the full exam, for every class.
func TestTheDemoScriptPlaysAWholeExam(t *testing.T) {
	deps, store := screentest.Deps(t)
	for name, h := range screentest.Yard(t, store) {
		v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
		require.NoError(t, err)
		script := demo.Script(deps.Routines[0].For(v.Class(), deps.Steps), deps.Steps)
		if at := slices.Index(script, "405 kg"); name == "Pip" {
			script[at] = "48 kg" // a foal of hours
		}
		out, err := typed(deps, v.ID, script...)
		require.NoError(t, err, name)
		assert.NotContains(t, out, "Not stored", name)
		played, err := store.Visit(v.ID)
		require.NoError(t, err)
		assert.True(t, played.Closed(), name)
	}
}

func TestHostileLinesDoNotReachTheTerminal(t *testing.T) {
	out, _, _ := session(t, "tpr-recheck", "Thistle", "note \x1b[2J\u009b31mred\u202e", "\x1b]0;x\x07", strings.Repeat("w", 60000), "quit")
	assert.NotContains(t, out, "\x1b")
	assert.NotContains(t, out, "\u202e")
}

// The page at the end names the danger signs, as the review does on a screen.
func TestThePageNamesDangerSigns(t *testing.T) {
	out, _, err := session(t, "colic-check", "Bracken", "to heart rate", "66", "to pain signs", "rolls", "finish", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "Danger signs from published studies of colic: 2 of 4 seen, 2 not checked")
	assert.Contains(t, out, "not checked: abnormal gum color, no gut sound in a quadrant")
}
