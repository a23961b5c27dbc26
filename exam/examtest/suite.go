package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// RunStore checks everything that the comments of exam.Store promise. The
// function makes a new empty store for each check.
func RunStore(t *testing.T, make func() exam.Store) {
	t.Helper()
	for _, c := range []struct {
		name  string
		check func(*testing.T, exam.Store)
	}{
		{"horses and their revisions", checkHorses},
		{"checks are part of the write", checkChecks},
		{"horses are listed by name with their visits", checkFound},
		{"a visit is the fold of its entries", checkVisit},
		{"entries follow each other", checkChain},
		{"a closed visit takes corrections only", checkClosed},
		{"a line after the closing says why", checkAmended},
		{"a struck visit stays readable and counts nowhere", checkStruck},
		{"a struck visit is entered again", checkEnteredAgain},
		{"visits are listed newest first", checkOrder},
		{"an outline is the past, thinned", checkOutline},
		{"what is not there is not found", checkNotFound},
		{"what is returned is the caller's own", checkAliasing},
		{"text cannot move the cursor", checkHostile},
		{"several goroutines", checkParallel},
		{"settings", checkSettings},
		{"a day's round is its lines", checkRound},
		{"a round takes no bad line", checkRoundRefused},
		{"nothing is injected or drawn without a decision", checkDecided},
	} {
		t.Run(c.name, func(t *testing.T) { c.check(t, make()) })
	}
}

// noon is a moment with an offset, as records keep it.
func noon() time.Time {
	return time.Date(2026, 3, 2, 12, 0, 0, 0, time.FixedZone("", 3600))
}

func saved(t *testing.T, s exam.Store, name string) exam.Horse {
	t.Helper()
	h, err := s.SaveHorse(exam.Horse{Revision: 1, Name: name, Kind: exam.AnimalHorse, Sex: exam.Mare}, "Ann", noon())
	require.NoError(t, err)
	return h
}

func begun(t *testing.T, s exam.Store, h exam.Horse, at time.Time) exam.Visit {
	t.Helper()
	v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full"}})
	require.NoError(t, err)
	return v
}

func finding(v exam.Visit, step exam.StepID, number float64) exam.Entry {
	return exam.Entry{
		Visit: v.ID, Kind: exam.EntryFinding, At: v.OpenedAt.Add(time.Minute), By: "Ann", Step: step,
		Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: number, Unit: notation.Celsius}, Typed: "38,4"},
	}
}

func closing(v exam.Visit) exam.Entry {
	return exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: v.OpenedAt.Add(time.Hour), By: "Ann"}
}

func appended(t *testing.T, s exam.Store, e exam.Entry) exam.Entry {
	t.Helper()
	e, err := s.Append(e)
	require.NoError(t, err)
	return e
}

func checkHorses(t *testing.T, s exam.Store) {
	h := saved(t, s, "Bracken")
	require.NotEmpty(t, h.ID, "a new horse is given an identity")
	assert.Equal(t, 1, h.Revision)
	h.Owner, h.Revision = "Mill Farm", 2
	second, err := s.SaveHorse(h, "Ann", noon())
	require.NoError(t, err)
	assert.Equal(t, h, second)

	back, err := s.Horse(h.ID)
	require.NoError(t, err)
	assert.Equal(t, second, back)

	for _, revision := range []int{0, 1, 2, 4} {
		h.Revision, h.Owner = revision, "nobody"
		_, err = s.SaveHorse(h, "Ann", noon())
		require.ErrorIs(t, err, exam.ErrStale, "revision %d after 2", revision)
	}
	_, err = s.SaveHorse(exam.Horse{Name: "Moth", Revision: 2}, "Ann", noon())
	require.ErrorIs(t, err, exam.ErrStale, "a new horse begins at 1")
	back, err = s.Horse(h.ID)
	require.NoError(t, err)
	assert.Equal(t, "Mill Farm", back.Owner, "a refused revision changes nothing")
	list, err := s.Horses()
	require.NoError(t, err)
	assert.Len(t, list, 1, "a refused horse is not listed")
}

func checkFound(t *testing.T, s exam.Store) {
	list, err := s.Horses()
	require.NoError(t, err)
	assert.Empty(t, list)

	willow, ash, moth := saved(t, s, "Willow"), saved(t, s, "Ash"), saved(t, s, "Moth")
	done := begun(t, s, ash, noon())
	appended(t, s, closing(done))
	open := begun(t, s, ash, noon().Add(24*time.Hour))
	only := begun(t, s, willow, noon())
	appended(t, s, closing(only))

	list, err = s.Horses()
	require.NoError(t, err)
	require.Len(t, list, 3)
	assert.Equal(t, []exam.HorseID{ash.ID, moth.ID, willow.ID}, []exam.HorseID{list[0].Horse.ID, list[1].Horse.ID, list[2].Horse.ID})
	assert.Equal(t, 2, list[0].Visits)
	assert.Equal(t, open.ID, list[0].Open)
	assert.True(t, list[0].LastAt.Equal(open.OpenedAt))
	assert.Zero(t, list[1].Visits)
	assert.True(t, list[1].LastAt.IsZero())
	assert.Empty(t, list[2].Open, "a closed visit is not open")

	appended(t, s, closing(open))
	list, err = s.Horses()
	require.NoError(t, err)
	assert.Empty(t, list[0].Open)
}

func checkNotFound(t *testing.T, s exam.Store) {
	_, err := s.Horse("nobody")
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = s.Visit("nothing")
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = s.Entries("nothing")
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = s.Append(exam.Entry{Visit: "nothing", Kind: exam.EntryNote, Note: "x", At: noon()})
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = s.Begin(exam.Entry{Kind: exam.EntryOpened, At: noon(), Opening: &exam.Opening{Horse: exam.Horse{ID: "nobody"}}})
	require.ErrorIs(t, err, exam.ErrNotFound)
	past, err := s.Past("nobody", 0)
	require.NoError(t, err)
	assert.Empty(t, past)
	recent, err := s.Recent(5)
	require.NoError(t, err)
	assert.Empty(t, recent)
}

func checkSettings(t *testing.T, s exam.Store) {
	empty, err := s.Settings()
	require.NoError(t, err)
	assert.Empty(t, empty.Person)
	want := exam.Settings{
		Person: "Ann", Routine: "tpr", Units: map[notation.Unit]notation.Unit{notation.Celsius: notation.Fahrenheit}, WantedHeart: 2, Silent: true,
		Scatter: map[string]exam.Scatter{"Ann": {SigmaS: 0.04, Taps: 200, At: noon().UTC()}},
	}
	require.NoError(t, s.SaveSettings(want))
	got, err := s.Settings()
	require.NoError(t, err)
	assert.True(t, want.Scatter["Ann"].At.Equal(got.Scatter["Ann"].At))
	got.Scatter, want.Scatter = nil, nil
	assert.Equal(t, want, got)
	checkCommon(t, s)
}

// checkCommon sets things for the whole practice: the machine's own settings leave them alone.
func checkCommon(t *testing.T, s exam.Store) {
	set := func(key exam.SettingKey, text string, replaces []exam.Hash) {
		t.Helper()
		value, err := key.Read(text)
		require.NoError(t, err)
		require.NoError(t, s.SaveSetting(exam.Setting{Key: key, Value: value, Replaces: replaces, By: "Ann", At: noon()}))
	}
	set(exam.SettingWatch, "", nil)
	states, err := s.PracticeSettings()
	require.NoError(t, err)
	assert.Empty(t, states, "what was never set is not cleared")
	set(exam.SettingSiteML, "5 mL", nil)
	set(exam.SettingSiteML, "5", nil)
	set(exam.SettingSiteML, "7.5", nil)
	set(exam.SettingName, "Hill Practice", nil)
	own, err := s.Settings()
	require.NoError(t, err)
	own.SiteML, own.Theme = 99, "dark"
	require.NoError(t, s.SaveSettings(own))
	got, err := s.Settings()
	require.NoError(t, err)
	assert.Equal(t, []any{7.5, "Hill Practice", "dark"}, []any{got.SiteML, got.Practice.Name, got.Theme})
	states, err = s.PracticeSettings()
	require.NoError(t, err)
	require.Len(t, states, 2)
	require.Len(t, states[1].Said, 1, "the last line replaces the one before")
	assert.Equal(t, []any{"7.5 mL", "Ann", true}, []any{states[1].InUse().Shown(), states[1].InUse().By, states[1].InUse().Own})

	// A line that names nothing did not know of the other.
	set(exam.SettingSiteML, "8", []exam.Hash{})
	states, err = s.PracticeSettings()
	require.NoError(t, err)
	require.True(t, states[1].Differ())
	got, err = s.Settings()
	require.NoError(t, err)
	assert.InDelta(t, 8.0, got.SiteML, 0, "the last one is in use")
	set(exam.SettingSiteML, "7.5", nil)
	set(exam.SettingName, "", nil)
	states, err = s.PracticeSettings()
	require.NoError(t, err)
	require.False(t, states[1].Differ(), "whoever chooses names both")
	got, err = s.Settings()
	require.NoError(t, err)
	assert.Equal(t, []any{7.5, ""}, []any{got.SiteML, got.Practice.Name})
	require.Error(t, s.SaveSetting(exam.Setting{Key: "ranges.csv", Value: make([]byte, exam.MaxSetting+1), At: noon()}))
}
