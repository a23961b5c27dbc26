package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/ranges"
)

// A standing says the same as the remark of its finding.
func TestStandingsAgreeWithRemarks(t *testing.T) {
	j := whole(t)
	rapid.Check(t, func(r *rapid.T) {
		v := drawVisit(r, t, rapid.SampledFrom(ranges.Classes()).Draw(r, "class"))
		earlier := []exam.Visit{before(v.Horse, 1e15, v.Findings...)}
		standings, level := j.Standings(v, earlier)
		assert.Equal(t, j.Visit(v, earlier).Level, level)
		for _, s := range standings {
			f, _ := v.Finding(exam.Key{Step: s.Step, Site: s.Site})
			alone, ok := j.Standing(v, f, earlier)
			assert.True(t, ok)
			assert.Equal(t, s, alone)
			if remark, ok := j.Finding(v, f, earlier); ok {
				assert.Equal(t, remark.Level, s.Level)
				assert.Equal(t, remark.Unit, s.Unit)
				assert.Equal(t, remark.High, s.High)
				assert.Equal(t, remark.Borderline, s.Borderline)
			}
		}
	})
}
