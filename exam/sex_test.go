package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

func TestWhatAgeAndSexCannotBe(t *testing.T) {
	now := time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)
	for _, c := range []struct {
		sex    exam.Sex
		inFoal bool
		born   string
		why    string
	}{
		{exam.Mare, true, "2026-02-27", "under 1 year cannot be in foal"},
		{exam.Filly, true, "foal", "under 1 year cannot be in foal"},
		{exam.SexUnknown, true, "2026-02-27 03:20", "cannot be in foal"},
		{exam.Mare, true, "2017", ""},
		{exam.Filly, true, "2024-03-01", ""},
		{exam.Mare, true, "", ""},
		{exam.Mare, true, "adult", ""},
		{exam.Gelding, true, "2017", "a gelding cannot be in foal"},
		{exam.Colt, true, "", "a colt cannot be in foal"},
		{exam.Filly, false, "2017-05-04", "write mare"},
		{exam.Colt, false, "adult", "write stallion"},
		{exam.Colt, false, "2024-05-04", ""},
		{exam.Filly, false, "2021-09", ""},
		{exam.Filly, false, "", ""},
		{exam.Stallion, false, "2026-02-27", ""},
	} {
		birth, err := exam.ReadBirth(c.born, "")
		require.NoError(t, err, c.born)
		err = exam.CheckSex(exam.Horse{Kind: exam.AnimalHorse, Sex: c.sex, InFoal: c.inFoal, Birth: birth}, now)
		if c.why == "" {
			require.NoError(t, err, "%v", c)
			continue
		}
		require.ErrorContains(t, err, c.why, "%v", c)
	}
	for s, grown := range map[exam.Sex]exam.Sex{exam.Filly: exam.Mare, exam.Colt: exam.Stallion, exam.Gelding: exam.Gelding, exam.SexUnknown: exam.SexUnknown} {
		assert.Equal(t, grown, s.Grown())
	}
	assert.True(t, exam.Filly.Female() && exam.Colt.Entire() && !exam.Gelding.Entire() && !exam.Colt.Female())
}
