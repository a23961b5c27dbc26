package notation_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/notation"
)

// A label without a day holds to the end of its month: the convention of medicine
// packs (for people: EU guideline on the packaging of medicines; from memory).
func TestExpiryOfALabel(t *testing.T) {
	for text, want := range map[string]string{
		"02/27": "2027-02-28", "2/2027": "2027-02-28", "02-2028": "2028-02-29", "EXP 02/28": "2028-02-29", "2027-02": "2027-02-28",
		"Feb 2027": "2027-02-28", "FEB27": "2027-02-28", "15 Feb 2027": "2027-02-15", "Exp. 12.26": "2026-12-31", "2027-02-15": "2027-02-15",
		"28/02/2027": "2027-02-28", "02/28/2027": "2027-02-28", "04/04/27": "2027-04-04", "expiry: sept 2026": "2026-09-30", "31/01/2027": "2027-01-31",
	} {
		e, err := notation.ReadExpiry(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, e.Last, text)
	}
	for _, text := range []string{
		"", "soon", "13/27", "00/27", "2027-02-29", "29/02/2027", "31/04/27", "04/05/2027", "27", "0227", "02/1999", "02/2127", "1/2/3/4", "Feb",
		"02/\x1b[31m", "-02/27-1e9", "99999999999999999999", "2027-00-10", "2027-02-00", "0 Feb 2027", strings.Repeat("9/", 500),
	} {
		e, err := notation.ReadExpiry(text)
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, "%q gave %v", text, e)
		assert.NotContains(t, err.Error(), "\x1b")
	}
}

func TestExpiryPasses(t *testing.T) {
	e, err := notation.ReadExpiry("02/27")
	require.NoError(t, err)
	east := time.FixedZone("", 14*3600)
	assert.False(t, e.Passed(time.Date(2027, 2, 28, 23, 59, 59, 0, east)), "good to the end of the day where the horse stands")
	assert.True(t, e.Passed(time.Date(2027, 3, 1, 0, 0, 0, 0, east)))
}

func TestAnyTextIsAnExpiryOrARefusal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[0-9]{0,4}[-/. ]?[0-9a-cefmnoprsu]{0,4}[-/. ]?[0-9]{0,4}`)).Draw(rt, "text")
		e, err := notation.ReadExpiry(text)
		if err != nil {
			var refusal *notation.Refusal
			require.ErrorAs(rt, err, &refusal)
			return
		}
		last, err := time.Parse(notation.DayForm, e.Last)
		require.NoError(rt, err)
		require.Equal(rt, 20, last.Year()/100)
		again, err := notation.ReadExpiry(e.Last)
		require.NoError(rt, err)
		require.Equal(rt, e.Last, again.Last)
	})
}

func TestDaysOfPapers(t *testing.T) {
	now := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	for _, good := range []string{"2025", "2026-03", "2026-03-02", "2024-02-29"} {
		day, err := notation.ReadDay(good, now)
		require.NoError(t, err)
		assert.Equal(t, good, day)
	}
	for _, bad := range []string{"2026-03-03", "2026-04", "2027", "1802", "2025-02-29", "last spring", "", "03/02/2026"} {
		_, err := notation.ReadDay(bad, now)
		require.Error(t, err, bad)
	}
	_, err := notation.ReadComing("2026-03-02", now)
	require.NoError(t, err)
	for _, bad := range []string{"2026-03-01", "2026-02-30", "tomorrow", "9999-01-01"} {
		_, err := notation.ReadComing(bad, now)
		require.Error(t, err, bad)
	}
}

func TestADayAhead(t *testing.T) {
	now := time.Date(2026, 1, 31, 9, 0, 0, 0, time.UTC)
	for text, want := range map[string]string{
		"3d": "2026-02-03", "3 d": "2026-02-03", "2w": "2026-02-14", "1mo": "2026-02-28", "13mo": "2027-02-28", "25MO": "2028-02-29", "1y": "2027-01-31",
		"tomorrow": "2026-02-01", "2026-03-04": "2026-03-04", "2026-01-31": "2026-01-31",
	} {
		day, err := notation.ReadAhead(text, now)
		require.NoError(t, err, text)
		assert.Equal(t, want, day, text)
	}
	for _, bad := range []string{"", "d", "0d", "-3d", "3", "3 fortnights", "9999y", "99999d", "2026-01-30", "3d3", "\x1b[2J"} {
		_, err := notation.ReadAhead(bad, now)
		require.Error(t, err, bad)
	}
}
