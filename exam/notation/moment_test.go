package notation_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/notation"
)

// berlin is a place whose clocks changed on 29 March and 25 October 2026 (IANA tz).
func berlin(t testing.TB) *time.Location {
	t.Helper()
	at, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	return at
}

// 2 March 2026 was a Monday.
func TestTimesToCome(t *testing.T) {
	now := time.Date(2026, 3, 2, 18, 48, 20, 0, berlin(t))
	for text, want := range map[string]struct{ day, clock, words string }{
		"1h":                   {"2026-03-02", "19:48", "today 19:48, in 1 h"},
		"in 2 h":               {"2026-03-02", "20:48", "today 20:48, in 2 h"},
		"in 1 hour":            {"2026-03-02", "19:48", ""},
		"90 min":               {"2026-03-02", "20:18", "today 20:18, in 1 h 30 min"},
		"1.5 h":                {"2026-03-02", "20:18", ""},
		"1 h 30 min":           {"2026-03-02", "20:18", ""},
		"in half an hour":      {"2026-03-02", "19:18", ""},
		"20:00":                {"2026-03-02", "20:00", "today 20:00, in 1 h 12 min"},
		"8 pm":                 {"2026-03-02", "20:00", ""},
		"8:30pm":               {"2026-03-02", "20:30", ""},
		"today at 20:00":       {"2026-03-02", "20:00", ""},
		"tonight":              {"2026-03-02", "20:00", ""},
		"Tonight 22:15":        {"2026-03-02", "22:15", ""},
		"tonight 9":            {"2026-03-02", "21:00", ""},
		"tonight 2:00":         {"2026-03-03", "02:00", "tomorrow 02:00, in 7 h 12 min"},
		"tonight 3":            {"2026-03-03", "03:00", ""},
		"tomorrow 8:00":        {"2026-03-03", "08:00", "tomorrow 08:00, in 13 h 12 min"},
		"tomorrow":             {"2026-03-03", "", "tomorrow, Tuesday 3 Mar 2026"},
		"today":                {"2026-03-02", "", "today, 2 Mar 2026"},
		"Mon":                  {"2026-03-09", "", "Monday 9 Mar 2026, in 7 days"},
		"tuesday 7:30":         {"2026-03-03", "07:30", ""},
		"Fri 18:00":            {"2026-03-06", "18:00", "Friday 6 Mar 2026 18:00, in 4 days"},
		"in 3 days":            {"2026-03-05", "", "Thursday 5 Mar 2026, in 3 days"},
		"3d":                   {"2026-03-05", "", ""},
		"2w":                   {"2026-03-16", "", ""},
		"next week":            {"2026-03-09", "", ""},
		"6mo":                  {"2026-09-02", "", ""},
		"2026-03-04":           {"2026-03-04", "", ""},
		"2026-03-04 18:00":     {"2026-03-04", "18:00", ""},
		"2026-03-04T18:00":     {"2026-03-04", "18:00", ""},
		"2026-03-04T17:00:00Z": {"2026-03-04", "18:00", ""},
		"2026-07-01 02:30":     {"2026-07-01", "02:30", ""},
		"noon":                 {"", "", ""}, // over
	} {
		m, err := notation.ReadMoment(text, now)
		if want.day == "" {
			assert.Error(t, err, text)
			continue
		}
		require.NoError(t, err, text)
		assert.Equal(t, want.day, m.Day, text)
		if want.clock == "" {
			assert.Nil(t, m.At, text)
		} else if assert.NotNil(t, m.At, text) {
			assert.Equal(t, want.clock, m.At.Format("15:04"), text)
			assert.Equal(t, m.Day, m.At.Format(notation.DayForm), text)
			assert.Zero(t, m.At.Second(), text)
		}
		if want.words != "" {
			assert.Equal(t, want.words, m.Words(now), text)
		}
	}
}

func TestTimesToComeThatAreRefused(t *testing.T) {
	now := time.Date(2026, 3, 2, 18, 48, 20, 0, berlin(t))
	for text, why := range map[string]string{
		"":                  "type when: 1h, 20:00",
		"8":                 "8:00 or 20:00?",
		"tomorrow 8":        "8:00 or 20:00?",
		"12":                "12:00 or 0:00?",
		"18:00":             "is over today; for tomorrow write tomorrow 18:00",
		"2026-03-01":        "is not a day to come",
		"2026-03-02 07:00":  "is over today",
		"2025-03-04 18:00":  "is over",
		"0h":                "a minute away at least",
		"0 min":             "a minute away at least",
		"0d":                "one day away at least",
		"90 m":              "90 minutes or 90 months?",
		"tonight 12:00":     "tonight is from 18:00 to 4:59",
		"25:00":             "no time 25:00",
		"20:60":             "no time 20:60",
		"13 pm":             "the hour is 1 to 12",
		"2026-03-29 02:30":  "there is no 2:30 on 29 Mar 2026: the clocks change",
		"2026-10-25 02:30":  "comes twice on 25 Oct 2026",
		"2026-02-30":        "no time to come",
		"9999y":             "more than thirty years away",
		"soon":              "no time to come",
		"monkey":            "no time to come",
		"m":                 "no time to come",
		"in":                "no time to come",
		"2099-01-01 10:00":  "more than thirty years away",
		"2026-03-0418:00":   "no time to come",
		"tomorrow tomorrow": "no time of day",
	} {
		_, err := notation.ReadMoment(text, now)
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, text)
		assert.Contains(t, err.Error(), why, text)
	}
	eve := time.Date(2026, 3, 28, 22, 0, 0, 0, berlin(t))
	_, err := notation.ReadMoment("tonight 2:30", eve)
	assert.ErrorContains(t, err, "the clocks change")
	m, err := notation.ReadMoment("in 5 h", eve)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-29T04:00:00+02:00", m.At.Format(time.RFC3339), "five hours are five hours")
}

// The end of a decision reads the same words; a day holds to its end.
func TestTheEndOfADecisionIsATimeToCome(t *testing.T) {
	now := time.Date(2026, 3, 2, 18, 48, 0, 0, berlin(t))
	for text, want := range map[string]string{
		"90 min": "2026-03-02 20:18", "tonight": "2026-03-02 20:00", "tomorrow": "2026-03-03 23:59", "tomorrow 8:00": "2026-03-03 08:00",
		"Mon": "2026-03-09 23:59", "3d": "2026-03-05 18:48", "in 3 days": "2026-03-05 18:48", "next week": "2026-03-09 23:59", "6h": "2026-03-03 00:48",
	} {
		at, err := notation.ReadUntil(text, now)
		require.NoError(t, err, text)
		assert.Equal(t, want, at.Format("2006-01-02 15:04"), text)
	}
	for _, text := range []string{"8", "18:00", "2w ago", "13mo"} {
		_, err := notation.ReadUntil(text, now)
		assert.Error(t, err, text)
	}
}

// Whatever is typed, a time to come is to come, in whole minutes, on its own day,
// and reads back as it is written out.
func FuzzReadMoment(f *testing.F) {
	for _, text := range []string{"1h", "tonight 2", "Mon 8:00", "2026-10-25 02:30", "in 3 days", "8 pm", "next week", "٣h", "0h", "99:99", "9999w", "-1h", "1,5 h"} {
		f.Add(text, int64(1772473700))
	}
	place := berlin(f)
	f.Fuzz(func(t *testing.T, text string, unix int64) {
		now := time.Unix(unix%4_000_000_000, 0).In(place)
		m, err := notation.ReadMoment(text, now)
		if err != nil {
			var refusal *notation.Refusal
			require.ErrorAs(t, err, &refusal)
			return
		}
		require.GreaterOrEqual(t, m.Day, now.Format(notation.DayForm))
		require.NotContains(t, strings.ToLower(m.Words(now)), "-")
		if m.At == nil {
			return
		}
		require.True(t, m.At.After(now.Add(-time.Minute)))
		require.Equal(t, m.Day, m.At.Format(notation.DayForm))
		again, err := notation.ReadMoment(m.At.Format(time.RFC3339), now)
		if m.At.After(now) {
			require.NoError(t, err)
			require.True(t, again.At.Equal(*m.At))
		}
	})
}
