package episode_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/episode"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func start() time.Time { return time.Date(2026, 3, 2, 11, 0, 0, 0, time.UTC) }

// yard is a desk with one horse and a clock that is set by hand.
type yard struct {
	desk.Desk
	t     *testing.T
	horse exam.HorseID
	now   time.Time
}

func begin(t *testing.T) *yard {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	store, all := examtest.NewStore(), steps.Table()
	y := &yard{Desk: desk.Desk{Store: store, Steps: all, Routines: steps.Routines(), Judge: judge.New(table, all)}, t: t, now: start()}
	born := exam.Birth{At: time.Date(2018, 4, 1, 0, 0, 0, 0, time.UTC)}
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Thistle", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born}, "Ann Bell", y.now)
	require.NoError(t, err)
	y.horse = h.ID
	return y
}

// check begins a check, answers heart, temperature and gums, and closes it.
func (y *yard) check(next string, heart, temp float64, gums string) exam.VisitID {
	y.t.Helper()
	m := notation.Moment{}
	if next != "" {
		var err error
		m, err = notation.ReadMoment(next, y.now)
		require.NoError(y.t, err)
	}
	o, err := y.Again(y.horse, desk.NextCheck{Next: m}, "Ann Bell", y.now)
	require.NoError(y.t, err)
	require.NoError(y.t, o.Partly)
	for step, v := range map[exam.StepID]exam.Value{
		"heart.rate":  {Kind: exam.KindCount, Number: &notation.Quantity{Value: heart, Unit: notation.PerMinute}},
		"temp.rectal": {Kind: exam.KindNumber, Number: &notation.Quantity{Value: temp, Unit: notation.Celsius}},
		"gum.colour":  {Kind: exam.KindPick, Words: []string{gums}},
	} {
		_, err := y.Write(exam.Entry{Visit: o.Visit.ID, Kind: exam.EntryFinding, Step: step, Value: &v, At: y.now.Add(time.Minute), By: "Ann Bell"})
		require.NoError(y.t, err)
	}
	_, err = y.Close(o.Visit.ID, desk.Ending{Without: "the vet stands here"}, "Ann Bell", func() time.Time { return y.now.Add(5 * time.Minute) })
	require.NoError(y.t, err)
	return o.Visit.ID
}

func (y *yard) episode(id exam.VisitID) (episode.Episode, bool) {
	y.t.Helper()
	e, checks, err := y.Episode(y.horse, id, nil, y.now)
	require.NoError(y.t, err)
	return e, len(checks) > 0
}

// A horse is looked at every half hour, four times: the checks stand side by side, what
// changed is said against its range, and when the next is due.
func TestAnEpisodeOfFourChecks(t *testing.T) {
	y := begin(t)
	_, found := y.episode("")
	assert.False(t, found)
	first := y.check("30 min", 64, 38.0, "pale")
	e, found := y.episode("")
	require.True(t, found)
	require.NotNil(t, e.Next)
	assert.Equal(t, "11:30", e.Next.Time.Format("15:04"))
	assert.Empty(t, e.Turns)

	y.now = y.now.Add(32 * time.Minute)
	y.check("30 min", 62, 38.0, "pale")
	y.now = y.now.Add(30 * time.Minute)
	y.check("20 min", 48, 38.1, "pink")
	y.now = y.now.Add(20 * time.Minute)
	last := y.check("20 min", 70, 38.1, "pink")
	e, found = y.episode(first)
	require.True(t, found)
	require.Len(t, e.Table.Columns, 4)
	assert.Equal(t, last, e.Table.Columns[0].ID)
	assert.Equal(t, "12:42", e.Next.Time.Format("15:04"))
	require.Len(t, e.Turns, 1, "%v", e.Turns)
	assert.Equal(t, exam.StepID("heart.rate"), e.Turns[0].Step)
	assert.Equal(t, episode.Further, e.Turns[0].Way)
	assert.Contains(t, e.Turns[0].Words(), "48 -> 70 /min, further from usual; tell the vet")
	past, err := y.Store.Past(y.horse, 0)
	require.NoError(t, err)
	assert.Equal(t, 20*time.Minute, episode.Interval(past))
}

// What goes back to its range is closer to usual, and what is still out of it says so.
func TestTheWayOfAChange(t *testing.T) {
	y := begin(t)
	y.check("30 min", 80, 38.0, "pale")
	y.now = y.now.Add(30 * time.Minute)
	y.check("30 min", 60, 38.0, "pink")
	e, _ := y.episode("")
	ways := map[exam.StepID]string{}
	for _, turn := range e.Turns {
		ways[turn.Step] = turn.Words()
	}
	assert.Contains(t, ways["heart.rate"], "80 -> 60 /min, closer to usual; still tell the vet")
	assert.Contains(t, ways["gum.colour"], "closer to usual")
	assert.NotContains(t, ways, exam.StepID("temp.rectal"), "38.0 twice is no change")
}

// The hour that was set last holds; one that was met is over.
func TestTheNextCheck(t *testing.T) {
	y := begin(t)
	y.check("30 min", 40, 38, "pink")
	y.now = y.now.Add(10 * time.Minute) // earlier than set
	y.check("1h", 40, 38, "pink")
	e, _ := y.episode("")
	assert.Equal(t, "12:10", e.Next.Time.Format("15:04"), "it takes the place of 11:30")
	y.now = y.now.Add(time.Hour)
	y.check("", 40, 38, "pink")
	e, _ = y.episode("")
	assert.Nil(t, e.Next, "12:10 was met, and none is set")
}

// Two visits of a day that nobody tied together are no episode, nor are checks of two days.
func TestWhatIsNoEpisode(t *testing.T) {
	y := begin(t)
	y.check("30 min", 40, 38, "pink")
	y.now = y.now.Add(24 * time.Hour)
	last := y.check("30 min", 40, 38, "pink")
	e, _ := y.episode(last)
	assert.Len(t, e.Table.Columns, 1)

	plain := begin(t)
	for range 2 {
		h, err := plain.Store.Horse(plain.horse)
		require.NoError(t, err)
		_, err = plain.Begin(exam.Opening{Horse: h, Routine: steps.Default}, exam.Context{}, "Ann Bell", plain.now)
		require.NoError(t, err)
		plain.now = plain.now.Add(time.Hour)
	}
	_, found := plain.episode("")
	assert.False(t, found)
}

// One visit of a horse is open at a time, and the reason of the first is that of the next.
func TestAgain(t *testing.T) {
	y := begin(t)
	h, err := y.Store.Horse(y.horse)
	require.NoError(t, err)
	o, err := y.Begin(exam.Opening{Horse: h, Routine: steps.Default, Reason: "colic"}, exam.Context{}, "Ann Bell", y.now)
	require.NoError(t, err)
	_, err = y.Again(y.horse, desk.NextCheck{}, "Ann Bell", y.now.Add(30*time.Minute))
	require.ErrorAs(t, err, new(*notation.Refusal))
	assert.Contains(t, err.Error(), "the visit begun at 11:00 is not finished")
	j, err := y.Read(o.Visit.ID)
	require.NoError(t, err)
	_, err = y.Close(o.Visit.ID, desk.Ending{Left: j.Left, Reason: "no time", Without: "the vet stands here"}, "Ann Bell", func() time.Time { return y.now })
	require.NoError(t, err)
	again, err := y.Again(y.horse, desk.NextCheck{}, "Ann Bell", y.now.Add(30*time.Minute))
	require.NoError(t, err)
	assert.Equal(t, "colic", again.Visit.Reason)
	assert.Equal(t, steps.FiveMinutes, again.Visit.Routine)
}
