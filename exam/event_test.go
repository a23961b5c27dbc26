package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

func TestReadEvent(t *testing.T) {
	s := step(t, "foal.stand")
	zone := time.FixedZone("", 2*3600)
	now := time.Date(2026, 4, 3, 0, 40, 0, 0, zone)
	born := exam.Birth{At: time.Date(2026, 4, 2, 20, 10, 0, 0, time.UTC), Precision: exam.BornMinute} // 22:10 here
	for text, want := range map[string]string{
		"23:05": "2026-04-02T23:05:00+02:00", "2305": "2026-04-02T23:05:00+02:00", "0:20": "2026-04-03T00:20:00+02:00", "020": "2026-04-03T00:20:00+02:00",
		"22.10": "2026-04-02T22:10:00+02:00", "+42": "2026-04-02T22:52:00+02:00", "+1:30": "2026-04-02T23:40:00+02:00", "+ 42 min": "2026-04-02T22:52:00+02:00",
		"2026-04-02T23:05:00+02:00": "2026-04-02T23:05:00+02:00",
	} {
		v, err := s.ReadEvent(text, born, now)
		require.NoError(t, err, text)
		require.NotNil(t, v.At, text)
		assert.Equal(t, want, v.At.Format(time.RFC3339), text)
		assert.True(t, v.Has(exam.EventSeen))
	}
	for text, why := range map[string]string{
		"21:00": "lies before the birth", "0:41": "lies before the birth", "24:00": "no time of day", "12:60": "no time of day",
		"+200": "has not come yet", "12": "such as 03:40", "": "such as 03:40", "dawn": "such as 03:40",
	} {
		_, err := s.ReadEvent(text, born, now)
		require.ErrorContains(t, err, why, text)
	}
	v, err := s.ReadEvent("not yet", born, now)
	require.NoError(t, err)
	assert.Equal(t, "not yet", v.Show(s))
	v, err = s.ReadEvent("seen", born, now)
	require.NoError(t, err)
	assert.Nil(t, v.At)
	born.Precision = exam.BornDay
	_, err = s.ReadEvent("+42", born, now)
	require.ErrorContains(t, err, "the minute of birth is not known")
	v, err = s.ReadEvent("21:00", born, now)
	require.NoError(t, err, "of a birth known to the day no time of that night is too early")
	assert.Equal(t, "seen 2 Apr 21:00", v.Show(s))
}

func FuzzReadEvent(f *testing.F) {
	for _, text := range []string{"3:40", "+42", "+1:30", "not yet", "seen", "0000", "+9999", "2026-04-02T23:05:00Z"} {
		f.Add(text, uint8(3))
	}
	f.Fuzz(func(t *testing.T, text string, hours uint8) {
		s := step(t, "foal.urine")
		now := time.Date(2026, 4, 3, 0, 40, 0, 0, time.UTC)
		born := exam.Birth{At: now.Add(-time.Duration(hours) * time.Hour), Precision: exam.BornMinute}
		v, err := s.ReadEvent(text, born, now)
		if err != nil {
			return
		}
		assert.Len(t, v.Words, 1)
		assert.Equal(t, exam.KindEvent, v.Kind)
	})
}

// Of a foal of two days a time of day is the first after its birth: 18:40 is the hour after 17:20, not last evening.
func TestATimeOfDayOfAnOlderFoal(t *testing.T) {
	born := exam.Birth{At: time.Date(2026, 4, 3, 17, 20, 0, 0, time.UTC), Precision: exam.BornMinute}
	step := exam.Step{ID: "foal.nurse", Name: "Nurses", Kind: exam.KindEvent, Choices: exam.EventChoices()}
	now := born.At.Add(47 * time.Hour)
	for typed, want := range map[string]time.Duration{"18:40": 80 * time.Minute, "17:20": 0, "9:05": 15*time.Hour + 45*time.Minute, "+90": 90 * time.Minute} {
		v, err := step.ReadEvent(typed, born, now)
		require.NoError(t, err, typed)
		assert.Equal(t, want, v.At.Sub(born.At), typed)
	}
	v, err := step.ReadEvent("18:40", born, born.At.Add(2*time.Hour))
	require.NoError(t, err)
	assert.Equal(t, 80*time.Minute, v.At.Sub(born.At), "on the first day the last that has passed")
}
