package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// What a line names that it held is replaced; what it did not name stands, and the last that
// stands is in use.
func TestSettingsFold(t *testing.T) {
	line := func(id, value string, replaces ...exam.Hash) exam.Setting {
		return exam.Setting{Key: exam.SettingSiteML, Value: []byte(value), Line: exam.Hash(id), Replaces: replaces}
	}
	for name, c := range map[string]struct {
		lines  []exam.Setting
		stand  []exam.Hash
		inUse  string
		differ bool
	}{
		"one":                           {[]exam.Setting{line("a", "5")}, []exam.Hash{"a"}, "5", false},
		"one after the other":           {[]exam.Setting{line("a", "5"), line("b", "6", "a")}, []exam.Hash{"b"}, "6", false},
		"two unseen":                    {[]exam.Setting{line("a", "5"), line("b", "6")}, []exam.Hash{"a", "b"}, "6", true},
		"two unseen that are the same":  {[]exam.Setting{line("a", "5"), line("b", "5")}, []exam.Hash{"a", "b"}, "5", false},
		"both behind one":               {[]exam.Setting{line("a", "5"), line("b", "6", "a"), line("c", "7", "a")}, []exam.Hash{"b", "c"}, "7", true},
		"cleared beside set":            {[]exam.Setting{line("a", "5"), line("b", "", "a"), line("c", "7", "a")}, []exam.Hash{"b", "c"}, "7", true},
		"settled":                       {[]exam.Setting{line("a", "5"), line("b", "6"), line("c", "5", "a", "b")}, []exam.Hash{"c"}, "5", false},
		"settled without a third":       {[]exam.Setting{line("a", "5"), line("b", "6"), line("c", "7"), line("d", "5", "a", "b")}, []exam.Hash{"c", "d"}, "5", true},
		"what it names is not here":     {[]exam.Setting{line("b", "6", "a")}, []exam.Hash{"b"}, "6", false},
		"what it names comes behind it": {[]exam.Setting{line("b", "6", "c"), line("c", "5")}, []exam.Hash{"b"}, "6", false},
	} {
		t.Run(name, func(t *testing.T) {
			s := exam.SettingState{Key: exam.SettingSiteML, Said: exam.FoldSettings(c.lines)}
			assert.Equal(t, c.stand, s.Lines())
			assert.Equal(t, c.inUse, string(s.InUse().Value))
			assert.Equal(t, c.differ, s.Differ())
		})
	}
}

// A value from elsewhere counts only where it could have been typed here.
func TestASettingFromElsewhereIsReadLikeOneTyped(t *testing.T) {
	var c exam.Common
	for _, bad := range []struct {
		key   exam.SettingKey
		value string
	}{
		{exam.SettingSiteML, "-1"},
		{exam.SettingSiteML, "1e9"},
		{exam.SettingSiteML, "NaN"},
		{exam.SettingSiteML, "101"},
		{exam.SettingWatch, "1.5"},
		{exam.SettingWatch, "99999"},
		{exam.SettingPaper, "A0"},
		{exam.SettingRehearsals, "sold"},
	} {
		require.Error(t, c.Use(bad.key, []byte(bad.value)), "%s %s", bad.key, bad.value)
	}
	assert.Equal(t, exam.Common{}, c)
	require.NoError(t, c.Use(exam.SettingName, []byte("Hill\x1b[2J\nPractice")))
	assert.NotContains(t, c.Practice.Name, "\x1b")
	require.NoError(t, c.Use("of_a_newer_version", []byte("x")))
	require.NoError(t, c.Use(exam.SettingSiteML, []byte("7.5")))
	assert.InDelta(t, 7.5, c.SiteML, 0)
	require.NoError(t, c.Use(exam.SettingSiteML, nil))
	assert.Zero(t, c.SiteML)
}

// Only what every system takes as a name in the data folder is a file of the practice.
func TestWhichKeysAreFiles(t *testing.T) {
	for key, want := range map[exam.SettingKey]bool{
		"ranges.csv": true, "schedule.csv": true, "syringes.csv": true, "routines/evening.yaml": true, "cases/Tarn 2.yaml": true, "routines/été.yaml": true,
		"site_ml": false, "record.db": false, "own-files.json": false, "machine.key": false, "routines/../record.db": false, "routines/a/b.yaml": false, `routines/a\b.yaml`: false,
		"routines/.yaml": false, "routines/..yaml": false, "routines/.a.yaml": false, "routines/con.yaml": false, "cases/LPT1.x.yaml": false, "routines/a .yaml": false,
		"routines/a:b.yaml": false, "routines/a\nb.yaml": false, "/ranges.csv": false, "cases/a.yml": false, "other/a.yaml": false, "": false,
	} {
		assert.Equal(t, want, key.Own(), "%q", key)
	}
}
