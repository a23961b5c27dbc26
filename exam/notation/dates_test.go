package notation_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func clock(text string) time.Time {
	at, err := time.Parse("2006-01-02 15:04:05", text)
	if err != nil {
		panic(err)
	}
	return at
}

func TestTwoMomentsOfOneDayAreToldApart(t *testing.T) {
	morning, evening, other := clock("2026-03-02 08:10:00"), clock("2026-03-02 19:22:05"), clock("2026-01-30 09:35:00")
	d := notation.NewDates(morning, evening, evening, other)
	assert.Equal(t, "2 Mar 2026 08:10", d.Show(morning))
	assert.Equal(t, "2 Mar 2026 19:22", d.Show(evening))
	assert.Equal(t, "30 Jan 2026", d.Show(other), "alone on its day, though it is named twice")
	assert.True(t, d.Clash())
	assert.False(t, notation.NewDates(evening, evening, other).Clash())
	twice := notation.NewDates(evening, evening.Add(20*time.Second))
	assert.Equal(t, "2 Mar 2026 19:22:05", twice.Show(evening), "two of one minute")
	assert.Equal(t, "2 Mar 2026", notation.NewDates().Show(morning))
	assert.Equal(t, "2 Mar 2026 08:10", notation.NewDates(evening).Show(morning), "one outside the set is told apart from it")
}

func TestSayWhen(t *testing.T) {
	now := clock("2026-03-02 20:30:00")
	for at, want := range map[string]string{
		"2026-03-02 20:29:30": "just now, 20:29", "2026-03-02 20:10:00": "20 minutes ago, 20:10", "2026-03-02 20:29:00": "one minute ago, 20:29",
		"2026-03-02 19:22:00": "one hour ago, 19:22", "2026-03-02 08:10:00": "12 hours ago, 08:10",
		"2026-03-01 23:55:00": "yesterday, Sunday 1 March, 23:55", "2026-01-30 09:35:00": "30 January", "2025-03-02 09:00:00": "2 March 2025",
		"2026-03-02 21:00:00": "at 21:00", "2026-03-03 08:00:00": "Tuesday 3 March, 08:00",
	} {
		assert.Equal(t, want, notation.SayWhen(clock(at), now), at)
	}
	assert.Equal(t, "20 minutes ago, 23:50", notation.SayWhen(clock("2026-03-01 23:50:00"), clock("2026-03-02 00:10:00")), "over midnight the minutes say it")
	east := time.FixedZone("east", 3*3600)
	assert.Equal(t, "one hour ago, 19:30", notation.SayWhen(clock("2026-03-02 19:30:00").In(east), now), "in the zone of now")
}

func TestCoverage(t *testing.T) {
	r := exam.Routine{Asks: []exam.Ask{{Step: "temp.rectal", Sites: []exam.Site{exam.NoSite}}, {Step: "gut.sounds", Sites: []exam.Site{exam.LeftUpper, exam.LeftLower}}}}
	v := exam.Visit{}
	assert.Equal(t, "Nothing is answered yet (0 of 3 steps answered)", v.Coverage(r).Level(0))
	v.Findings = []exam.Finding{{Step: "temp.rectal", NotDone: exam.ReasonRefused}, {Step: "gut.sounds", Site: exam.Overall}, {Step: "note"}}
	assert.Equal(t, "Highest level so far: usual (2 of 3 steps answered)", v.Coverage(r).Level(0), "what was not done is no answer")
	assert.False(t, v.Coverage(r).Complete())
	assert.Equal(t, "2 steps answered", v.CoverageIn(nil, nil).String(), "an imported visit follows no routine that is known")
}

// What is shown of a date of the record is understood again when it is typed, or left standing in a field.
func TestADateThatIsShownIsReadAgain(t *testing.T) {
	for iso, want := range map[string]string{
		"2026-03-04": "4 Mar 2026", "2026-03-04 20:00": "4 Mar 2026 20:00", "2026-03": "Mar 2026", "2026": "2026", "about 2019": "about 2019",
		"": "", "tonight": "tonight", "2026-13-04": "2026-13-04", "2026-03-04T20:00": "2026-03-04T20:00", "02/27": "02/27", "2026-3": "2026-3",
	} {
		shown := notation.Shown(iso)
		assert.Equal(t, want, shown, iso)
		back, err := notation.Calendar{}.ISO(shown)
		require.NoError(t, err, iso)
		assert.Equal(t, iso, back)
	}
	for at := clock("2023-12-30 00:00:00"); at.Year() < 2027; at = at.AddDate(0, 0, 1) {
		iso := at.Format(notation.DayForm)
		back, err := notation.Calendar{}.ISO(notation.Shown(iso))
		require.NoError(t, err, iso)
		require.Equal(t, iso, back)
		e, err := notation.ReadExpiry(notation.Shown(iso))
		require.NoError(t, err, iso)
		require.Equal(t, iso, e.Last)
	}
	day := func(text string) time.Time { return clock(text + " 00:00:00") }
	assert.Equal(t, "10 to 24 Mar 2026", notation.ShownSpan(day("2026-03-10"), day("2026-03-24")))
	assert.Equal(t, "28 May to 28 Jun 2026", notation.ShownSpan(day("2026-05-28"), day("2026-06-28")))
	assert.Equal(t, "10 Mar 2026", notation.ShownSpan(day("2026-03-10"), day("2026-03-10").Add(time.Hour)))
	assert.Equal(t, "20 Dec 2026 to 4 Jan 2027", notation.ShownSpan(day("2026-12-20"), day("2027-01-04")))
}
