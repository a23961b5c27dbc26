package screentest

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// InColour gives screens the theme of the pictures, or the one that LOOSEBOX_THEME names.
func InColour(d *nav.Deps) {
	name := theme.Dark
	if own := os.Getenv("LOOSEBOX_THEME"); own != "" {
		name = theme.Name(own)
	}
	d.Theme = theme.New(name, false)
}

// Story adds Bramble, an invented mare with visits: two in one week two years ago, one without remarks this winter, and an
// open one now, with a dull horse and no gut sounds at the right. The temperature and everything from the heart on are
// open in it; Told answers temperature and heart. It returns the mare and the open visit.
func Story(t testing.TB, s exam.Store) (exam.Horse, exam.Visit) {
	t.Helper()
	h, err := s.SaveHorse(exam.Horse{
		Revision: 1, Name: "Bramble", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born("2017-04-02", "seen"),
		Owner: "P. Duarte", Place: "Long Meadow", Cautions: []string{"kicks", "needle-shy"},
	}, "Ann Bell", Now())
	require.NoError(t, err)
	var now exam.Visit
	for _, v := range []struct {
		date, at            string
		temp, heart, breath float64
		gums, demeanour     string
		gut                 string // at the right, above
	}{
		{"2024-01-15", "09:20", 38.6, 46, 18, "pink", "quiet", "heard"},
		{"2024-01-19", "09:35", 38.0, 38, 14, "pink", "bright", "heard"},
		{"2025-11-04", "10:10", 37.9, 36, 12, "pink", "bright", "heard"},
		{"2025-12-30", "16:40", 38.1, 35, 12, "pink", "bright", "heard"},
		{"2026-01-30", "09:35", 38.0, 36, 11, "pink", "bright", "heard"},
		{"2026-03-02", "11:05", 38.7, 64, 20, "pale pink", "dull", "none"},
	} {
		at, err := time.ParseInLocation("2006-01-02 15:04", v.date+" "+v.at, time.UTC)
		require.NoError(t, err)
		now, err = s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: steps.Default}})
		require.NoError(t, err)
		add(t, s, now, exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateRest}}})
		pick(t, s, now, "approach", exam.NoSite, "held")
		pick(t, s, now, "demeanour", exam.NoSite, v.demeanour)
		Number(t, s, now, "breath.rate", exam.NoSite, v.breath, notation.PerMinute)
		pick(t, s, now, "manure", exam.NoSite, "formed")
		pick(t, s, now, "gum.colour", exam.NoSite, v.gums)
		for _, site := range []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightLower} {
			pick(t, s, now, "gut.sounds", site, "heard")
		}
		pick(t, s, now, "gut.sounds", exam.RightUpper, v.gut)
		for _, step := range []exam.StepID{"posture", "breath.effort", "pain.signs", "gait.look", "urine", "belly.shape", "skin.look", "cough", "mouth.look"} {
			usual(t, s, now, step)
		}
		pick(t, s, now, "condition.score", exam.NoSite, "5")
		for _, step := range []exam.StepID{"pain.grimace", "weight.body"} {
			add(t, s, now, exam.Entry{Kind: exam.EntryNotDone, Step: step, Reason: string(exam.ReasonNoTime)})
		}
		if now.OpenedAt.Before(Now()) {
			Number(t, s, now, "temp.rectal", exam.NoSite, v.temp, notation.Celsius)
			Number(t, s, now, "heart.rate", exam.NoSite, v.heart, notation.PerMinute)
			add(t, s, now, exam.Entry{Kind: exam.EntryClosed})
		}
	}
	now, err = s.Visit(now.ID)
	require.NoError(t, err)
	return h, now
}

// Told answers two steps that Story left open: a temperature to recheck and a fast heart.
func Told(t testing.TB, s exam.Store, v exam.Visit) {
	t.Helper()
	Number(t, s, v, "temp.rectal", exam.NoSite, 38.7, notation.Celsius)
	Number(t, s, v, "heart.rate", exam.NoSite, 64, notation.PerMinute)
}

// usual answers a step as it is defined to be usual, where it is.
func usual(t testing.TB, s exam.Store, v exam.Visit, id exam.StepID) {
	t.Helper()
	step, ok := steps.Table().ByID(id)
	if !ok {
		return
	}
	if value, ok := step.UsualValue(); ok {
		add(t, s, v, exam.Entry{Kind: exam.EntryFinding, Step: id, Value: &value})
	}
}
