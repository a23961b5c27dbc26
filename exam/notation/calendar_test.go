package notation_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// The forms are those of ISO 8601 (the result), of the United States (month first) and
// of most other countries (day first).
func TestDatesAsPeopleTypeThem(t *testing.T) {
	now := time.Date(2026, 11, 29, 9, 15, 0, 0, time.UTC)
	for typed, want := range map[string]string{
		"11/25/2026":          "2026-11-25", // no month 25
		"25/11/2026":          "2026-11-25",
		"25.11.2026":          "2026-11-25",
		"4.3.2026":            "2026-03-04", // dots are day first
		"5/5/2026":            "2026-05-05",
		"25 Nov 2026":         "2026-11-25",
		"25th november 2026":  "2026-11-25",
		"Nov 25, 2026":        "2026-11-25",
		"25-Nov-2026":         "2026-11-25",
		"Nov 2026":            "2026-11",
		"11/2026":             "2026-11",
		"25.11.2026 09:30":    "2026-11-25 09:30",
		"about 25.11.2026":    "about 2026-11-25",
		"today":               "2026-11-29",
		"today 03:20":         "2026-11-29 03:20",
		"yesterday at 22:00":  "2026-11-28 22:00",
		"3d":                  "2026-11-26",
		"3 weeks old":         "2026-11-08",
		"3 weeks ago":         "2026-11-08",
		"6 h old":             "2026-11-29 03:15",
		"8 months old":        "2026-03",
		"9y":                  "about 2017",
		"2026-11-25":          "2026-11-25",
		"2026-11-25 10:00":    "2026-11-25 10:00",
		"2019":                "2019",
		"adult":               "adult",
		"tonight":             "tonight",
		"may be sold in 2027": "may be sold in 2027",
	} {
		got, err := notation.Calendar{Past: true, Now: now}.ISO(typed)
		require.NoError(t, err, typed)
		assert.Equal(t, want, got, typed)
	}
	both := "3/4/2026"
	for order, want := range map[notation.DayOrder]string{notation.MonthFirst: "2026-03-04", notation.DayFirst: "2026-04-03"} {
		got, err := notation.Calendar{Order: order}.ISO(both)
		require.NoError(t, err)
		assert.Equal(t, want, got, order)
	}
	for typed, why := range map[string]string{
		both:         "3/4/2026 is 3 April or 4 March",
		"31.11.2026": "November 2026 has no day 31",
		"29.2.2026":  "February 2026 has no day 29",
		"13.13.2026": "there is no month 13",
		"0.1.2026":   "has no day 0",
		"25/11/26":   "four digits, as 2026",
		"13/2026":    "there is no month 13",
	} {
		_, err := notation.Calendar{}.ISO(typed)
		var refused *notation.Refusal
		require.ErrorAs(t, err, &refused, typed)
		assert.Contains(t, err.Error(), why, typed)
	}
	got, err := notation.Calendar{Now: now}.ISO("3d")
	require.NoError(t, err)
	assert.Equal(t, "3d", got, "of a day to come the reader of the field decides")
}

// Every reader of a date understands them.
func TestEveryReaderTakesThem(t *testing.T) {
	now := time.Date(2026, 11, 29, 9, 15, 0, 0, time.UTC)
	b, err := exam.ReadBirth("25.11.2019", "")
	require.NoError(t, err)
	assert.Equal(t, "25 Nov 2019", b.Show())
	day, err := notation.ReadDay("3 weeks ago", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-11-08", day)
	day, err = notation.ReadComing("12/25/2026", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-12-25", day)
	m, err := notation.ReadMoment("25 Dec 2026 18:00", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-12-25 18:00", m.At.Format("2006-01-02 15:04"))
	at, err := notation.ReadWhen("25.11.2026 07:45", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-11-25 07:45", at.Format("2006-01-02 15:04"))
	_, err = notation.ReadMoment("3/4/2027", now)
	require.ErrorContains(t, err, "settings")
}

// Each day, written in every form, comes back as itself.
func TestADayInEveryFormIsTheSameDay(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		at := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 20000).Draw(r, "days"))
		for layout, order := range map[string]notation.DayOrder{
			"1/2/2006": notation.MonthFirst, "01-02-2006": notation.MonthFirst, "2/1/2006": notation.DayFirst, "02-01-2006": notation.DayFirst,
			"2.1.2006": notation.MonthFirst, "2 Jan 2006": "", "January 2, 2006": "", "2006-01-02": "",
		} {
			got, err := notation.Calendar{Order: order}.ISO(at.Format(layout))
			require.NoError(r, err)
			assert.Equal(r, at.Format(notation.DayForm), got, layout)
		}
	})
}
