package plain_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

func TestAHandOffIsReadOutAndWrittenDown(t *testing.T) {
	x := sit(t)
	out, err := x.typed((*plain.Session).HandOff, "", "Dr Vale", "by tel", "", "yes")
	require.NoError(t, err)
	for _, part := range []string{"WHY I CALL", "WHAT I ASK", "  A  left empty: for the veterinarian", "A few words are needed.", "Saved: handed off to Dr Vale, by telephone."} {
		assert.Contains(t, out, part)
	}
	require.Len(t, x.visit().HandOffs, 1)
	l := x.visit().HandOffs[0].HandOffLine
	assert.Equal(t, exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, Asked: "This is for your information. Do you want anything else?", ReadBack: true}, l)
}

func TestADecisionIsAskedLineByLine(t *testing.T) {
	x := sit(t)
	screentest.HandOff(t, x.store, x.id)
	out, err := x.typed((*plain.Session).Decide, "", "by telephone", "Give Vaccine A, and draw blood.", "go",
		"injection:Vaccine A:up", "injection:Vaccine A:IM:2 spoons", "injection:Vaccine A:IM:1 dose", "draw", "", "10:00", "18:00", "yes", "2026-03-09", "the neck")
	require.NoError(t, err, out)
	for _, part := range []string{"Enter alone: Dr Vale.", `"up" is no route`, "is over today", "Saved. What follows:", "to do: injection: give Vaccine A, IM, 1 dose.", "to do: blood draw: draw blood."} {
		assert.Contains(t, out, part)
	}
	until := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
	v := x.visit()
	require.Len(t, v.Decisions, 1)
	assert.Equal(t, exam.Decision{
		Words: "Give Vaccine A, and draw blood.", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Until: &until, ReadBack: true,
		Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, Dose: "1 dose"}, {Kind: exam.Drawing}},
	}, v.Decisions[0].Decision)
	assert.Equal(t, "the neck", v.Rechecks[0].What)
}

func TestAGoAheadForNothingIsAskedAgainAndALeftDecisionIsNone(t *testing.T) {
	x := sit(t)
	out, err := x.typed((*plain.Session).Decide, "Dr Vale", "here", "go on", "go ahead", "", "", "no", "", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "go ahead with what?")
	assert.Empty(t, x.visit().Decisions)
}

func TestADecisionIsCorrectedLineByLine(t *testing.T) {
	x := sit(t)
	seq := screentest.Add(t, x.store, x.id, exam.Entry{
		Kind: exam.EntryDecision, Recheck: &exam.RecheckLine{On: "2026-03-09", What: "neck"},
		Decision: &exam.Decision{Words: "give it", Vet: "Dr Quist", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Vaccine()}},
	}).Seq
	correct := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Decide(id, seq) }
	out, err := x.typed(correct, "Dr Vale", "here", "", "go ahead", "", "", "no", "the name was wrong")
	require.NoError(t, err, out)
	assert.Contains(t, out, "It unlocks nothing new")
	v := x.visit()
	require.Len(t, v.Decisions, 2)
	assert.True(t, v.Decisions[0].Corrected)
	assert.Equal(t, "Dr Vale", v.Decisions[1].Vet)
	assert.Equal(t, "give it", v.Decisions[1].Words)
	assert.Equal(t, []exam.CoveredProcedure{screentest.Vaccine()}, v.Decisions[1].Covers)
	require.Len(t, v.Rechecks, 1)
	_, err = x.typed(correct, "quit")
	require.ErrorIs(t, err, exam.ErrNotFound, "it does not stand any more")
}

func TestWhatFollowsIsSaid(t *testing.T) {
	x := sit(t)
	out, err := x.typed((*plain.Session).After)
	require.NoError(t, err)
	assert.Contains(t, out, "locked: injection: an injection. The veterinarian has not decided yet.")
	assert.Contains(t, out, "to do: hand-off: not handed off yet.")
}

// At the end of an exam everything that follows is one word away.
func TestFromTheExamToTheDecision(t *testing.T) {
	x := sit(t)
	exam := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }
	out, err := x.typed(exam, "finish", "after", "hand off", "Dr Vale", "here", "", "yes", "decide", "", "here", "wait for me", "wait", "", "", "no", "", "after", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Contains(t, out, "Type finish, hand off, decide, inject, draw, observe, after or quit.")
	assert.Contains(t, out, `locked: injection: an injection. Dr Vale said wait: "wait for me".`)
	assert.Len(t, x.visit().Decisions, 1)
	assert.Equal(t, 3, strings.Count(out, "to do: close: close the visit"), out)
}

func TestHostileWordsAreClean(t *testing.T) {
	for _, text := range screentest.Hostile() {
		x := sit(t)
		line := strings.NewReplacer("\n", " ", "\r", " ").Replace(text)
		_, err := x.typed((*plain.Session).HandOff, line, "here", line, "yes")
		_ = err // some of them are empty once they are clean, so that the input ends
		_, err = x.typed((*plain.Session).Decide, line, "here", line, "wait", "injection:"+line, "", "", "no", "")
		_ = err
		for _, d := range x.visit().Decisions {
			assert.NotContains(t, d.Vet+d.Words+d.Covers[0].Product, "\x1b")
			assert.NotContains(t, d.Vet+d.Words+d.Covers[0].Product, "\u202e")
		}
	}
}
