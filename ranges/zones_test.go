package ranges_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

// TestZonesAreTheLevelsOfTheRow: every row, at every number near its limits, has in its zones the level that it judges by.
func TestZonesAreTheLevelsOfTheRow(t *testing.T) {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	for _, row := range table.Rows() {
		zones := row.Zones()
		require.NotEmpty(t, zones)
		for i, z := range zones[1:] {
			assert.Equal(t, z.Level == ranges.LevelUsual && row.Usual.Empty(), z.Open)
			assert.NotEmpty(t, z.Text)
			assert.NotEqual(t, zones[i].Level, z.Level, "%s of %s: neighbors differ", row.Measure, row.Class)
			for _, v := range []float64{z.From - 0.1, z.From, z.From + 0.1} {
				want, _, _ := row.Level(v)
				got := zones[0].Level
				for i, o := range zones[1:] {
					usualEnd := zones[i].Level == ranges.LevelUsual && o.Level == ranges.LevelNote // belongs to the usual zone
					if v > o.From+1e-6 || v > o.From-1e-6 && !usualEnd {
						got = o.Level
					}
				}
				assert.Equal(t, want, got, "%s of %s at %v", row.Measure, row.Class, v)
			}
		}
	}
}
