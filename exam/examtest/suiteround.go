package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func picked(h exam.Horse, day, words string) exam.RoundLine {
	return exam.RoundLine{Day: day, At: noon(), By: "Ann", Horse: h.ID, Act: exam.RoundPicked, Words: words}
}

func inWords(lines []exam.RoundLine) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = l.Words
	}
	return out
}

func checkRound(t *testing.T, s exam.Store) {
	ash, moth := saved(t, s, "Ash"), saved(t, s, "Moth")
	none, err := s.RoundLines("0000-01-01", "9999-12-31")
	require.NoError(t, err)
	assert.Empty(t, none)

	require.NoError(t, s.AddToRound(picked(ash, "2026-03-03", "c"), picked(moth, "2026-03-02", "a")))
	require.NoError(t, s.AddToRound(picked(ash, "2026-03-02", "b")))
	require.NoError(t, s.AddToRound(), "nothing is no fault")
	all, err := s.RoundLines("2026-03-02", "2026-03-03")
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b", "c"}, inWords(all), "by day, then in the order in which they were added")
	assert.Equal(t, []int{1, 2, 1}, []int{all[0].Seq, all[1].Seq, all[2].Seq})
	want := picked(moth, "2026-03-02", "a")
	want.Seq = 1
	assert.True(t, want.At.Equal(all[0].At))
	assert.Equal(t, want.At.Format(time.RFC3339), all[0].At.Format(time.RFC3339), "with its offset")
	want.At, all[0].At = time.Time{}, time.Time{}
	assert.Equal(t, want, all[0])
	one, err := s.RoundLines("2026-03-03", "2026-03-09")
	require.NoError(t, err)
	assert.Equal(t, []string{"c"}, inWords(one))
	none, err = s.RoundLines("2026-03-04", "2026-03-01")
	require.NoError(t, err)
	assert.Empty(t, none)

	handed := picked(ash, "2026-03-02", "\x1b[2Jlame\u202e")
	handed.Act, handed.To = exam.RoundHanded, "Bo\r"
	require.NoError(t, s.AddToRound(handed))
	all, err = s.RoundLines("2026-03-02", "2026-03-02")
	require.NoError(t, err)
	assert.Equal(t, "lame", all[2].Words, "text cannot move the cursor")
	assert.Equal(t, "Bo", all[2].To)
}

// All or none: one bad line keeps every other out.
func checkRoundRefused(t *testing.T, s exam.Store) {
	ash := saved(t, s, "Ash")
	bad := map[string]func(*exam.RoundLine){
		"no day":                func(l *exam.RoundLine) { l.Day = "" },
		"no such day":           func(l *exam.RoundLine) { l.Day = "2026-02-30" },
		"a moment":              func(l *exam.RoundLine) { l.Day = "2026-03-02T10:00" },
		"nobody":                func(l *exam.RoundLine) { l.By = " " },
		"no time":               func(l *exam.RoundLine) { l.At = time.Time{} },
		"no act":                func(l *exam.RoundLine) { l.Act = "" },
		"another act":           func(l *exam.RoundLine) { l.Act = "sold" },
		"no horse":              func(l *exam.RoundLine) { l.Horse = "" },
		"handed to none":        func(l *exam.RoundLine) { l.Act = exam.RoundHanded },
		"handed twice":          func(l *exam.RoundLine) { l.Act, l.To, l.OnDay = exam.RoundHanded, "Bo", "2026-03-03" },
		"without a word":        func(l *exam.RoundLine) { l.Act, l.To, l.Words = exam.RoundHanded, "Bo", "" },
		"to the same day":       func(l *exam.RoundLine) { l.Act, l.OnDay = exam.RoundHanded, "2026-03-02" },
		"to a day that is none": func(l *exam.RoundLine) { l.Act, l.OnDay = exam.RoundHanded, "soon" },
		"a turn without why":    func(l *exam.RoundLine) { l.Act, l.Turn, l.Words = exam.RoundTurn, exam.TurnLast, "" },
		"another turn":          func(l *exam.RoundLine) { l.Act, l.Turn = exam.RoundTurn, "second" },
	}
	for name, spoil := range bad {
		l := picked(ash, "2026-03-02", "x")
		spoil(&l)
		var refusal *notation.Refusal
		require.ErrorAs(t, s.AddToRound(picked(ash, "2026-03-02", "good"), l), &refusal, name)
	}
	stranger := picked(exam.Horse{ID: "nobody"}, "2026-03-02", "x")
	require.ErrorIs(t, s.AddToRound(picked(ash, "2026-03-02", "good"), stranger), exam.ErrNotFound)
	left, err := s.RoundLines("0000-01-01", "9999-12-31")
	require.NoError(t, err)
	assert.Empty(t, left)
}
