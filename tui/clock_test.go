package tui_test

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// Every screen shows every time of the record by the clock of now: on one that is 17 minutes ahead of the clock by which the
// record was written, each time is 17 minutes later. What a line gives as an example stays.
func TestScreensShowTheClockOfNow(t *testing.T) {
	const ahead = 17 * time.Minute
	deps, store := screentest.Deps(t)
	deps.Steps, deps.Routines = steps.Table(), steps.Routines()
	h, v := screentest.Story(t, store)
	screentest.HandOff(t, store, v.ID)
	until, again := screentest.Now().Add(3*time.Hour), screentest.Now().Add(time.Hour)
	decided := screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
		Words: "Give the vaccine.", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Until: &until, Covers: []exam.CoveredProcedure{screentest.Vaccine()},
	}})
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryNote, Note: "again", Recheck: &exam.RecheckLine{On: "2026-03-02", What: "heart rate", Time: &again}})
	screentest.NeedleIn(t, store, v.ID)

	clock := regexp.MustCompile(`\b\d\d:\d\d\b`)
	seen := 0
	same := func(screens ...nav.Name) {
		t.Helper()
		for _, screen := range screens {
			to := nav.Address{Screen: screen, Horse: h.ID, Visit: v.ID, At: exam.Key{Step: "temp.rectal"}}
			if screen == nav.Decision {
				to.Number = decided.Seq
			}
			look := func(zone time.Duration) []string {
				deps.Rounds = new(round.Reader) // a run has one zone
				deps.Now = func() time.Time { return screentest.Now().In(time.FixedZone("", int(zone.Seconds()))) }
				return clock.FindAllString(shown(deps, to), -1)
			}
			before, after := look(0), look(ahead)
			require.Len(t, after, len(before), "%s", screen)
			for i, text := range before {
				at, err := time.Parse("15:04", text)
				require.NoError(t, err)
				if text == "18:00" {
					assert.Equal(t, text, after[i], "%s: an example", screen)
					continue
				}
				assert.Equal(t, at.Add(ahead).Format("15:04"), after[i], "%s: %s", screen, text)
				seen++
			}
		}
	}
	same(nav.Home, nav.Horse, nav.Start, nav.Exam, nav.Review, nav.Compare, nav.Trend, nav.After, nav.HandOff, nav.Decision, nav.Injection, nav.Draw,
		nav.Watch, nav.Dangers, nav.Due, nav.Round, nav.Again, nav.Episode, nav.Sums, nav.Strike, nav.Settle)
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1}})
	same(nav.Injection, nav.Watch, nav.Review)
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	same(nav.Home, nav.After, nav.Watch, nav.Review)
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchQuiet}})
	same(nav.Watch)
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryClosed, WithoutHandOff: "nobody answers"})
	same(nav.Home, nav.Horse, nav.Review, nav.After, nav.Late, nav.Strike, nav.SignOff, nav.Compare, nav.Round, nav.Episode)
	assert.Greater(t, seen, 60)
}
