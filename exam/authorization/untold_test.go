package authorization_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// A visit with something for the veterinarian and no hand-off is closed only with
// a reason, which stays.
func TestClosingWithoutAHandOffNeedsAReason(t *testing.T) {
	now := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	v := exam.Visit{ID: "v", Entries: 2, Findings: []exam.Finding{{Step: "temp.rectal", Seq: 2}}}
	tell := []exam.Remark{{Step: "temp.rectal", Level: ranges.LevelTell, Value: "40.2 C", Why: "reaches 39.2."}}
	end := exam.Entry{Visit: "v", Kind: exam.EntryClosed, At: now}
	require.NoError(t, authorization.CheckEntry(v, nil, end))
	require.NoError(t, authorization.CheckEntry(v, []exam.Remark{{Step: "temp.rectal", Level: ranges.LevelRecheck}}, end), "a recheck is not asked about")
	var refusal *notation.Refusal
	require.ErrorAs(t, authorization.CheckEntry(v, tell, end), &refusal)
	assert.Contains(t, refusal.Error(), "This is for the veterinarian and is not handed off")

	end.WithoutHandOff = "the veterinarian knows it already"
	require.NoError(t, authorization.CheckEntry(v, tell, end))
	end.Seq = 3
	require.NoError(t, v.Apply(end))
	assert.Equal(t, exam.KnownAlready, v.WithoutHandOff)

	told := exam.Visit{ID: "v", Findings: v.Findings, HandOffs: []exam.HandOff{{Signed: exam.Signed{Seq: 3}}}}
	end.WithoutHandOff = ""
	require.NoError(t, authorization.CheckEntry(told, tell, end))
	told.Findings[0].Seq = 4
	require.Error(t, authorization.CheckEntry(told, tell, end), "found after the hand-off")
	danger := exam.Visit{ID: "v", Watches: []exam.Watch{{State: exam.WatchReaction, EndSeq: 5, SignWords: "hives"}}}
	require.Error(t, authorization.CheckEntry(danger, nil, end), "a sign of danger needs no remark")
}
