package rehearse_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/rehearse"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// to answers every place in order up to one.
func (s *stage) to(k exam.Key) {
	s.t.Helper()
	for _, ask := range s.routine.For(s.horse.Class, s.deps.Steps).Asks {
		for _, own := range ask.Keys() {
			if own == k {
				s.question(k, slips{})
				return
			}
			s.answer(own, slips{})
		}
	}
	require.Fail(s.t, "the routine does not ask", k)
}

// row is the line of the right side that begins with a word.
func (s *stage) row(word string) string {
	for _, line := range strings.Split(s.view(), "\n") {
		if _, right, found := strings.Cut(line, "│"); found && strings.HasPrefix(strings.TrimSpace(right), word) {
			return strings.TrimSpace(right)
		}
	}
	return ""
}

// The pulse stands on every beat and on nothing else, with the bell only where it
// is wanted: both are checked against the horse's own beats.
func TestThePulseIsDrawnAtEachBeat(t *testing.T) {
	s := newStage(t, usual())
	s.begin("merrow", 4, "tpr-recheck", rehearse.Modes{})
	s.to(exam.Key{Step: "heart.rate"})
	beats := func(from, to float64) []float64 { return s.horse.Beats(from, to) }
	for _, b := range beats(s.seconds()+1, s.seconds()+15) {
		s.until(s.at(b).Add(-5 * time.Millisecond))
		assert.NotContains(t, s.row("beat"), "█", "before the beat at %.3f", b)
		s.pass(0.01)
		assert.Contains(t, s.row("beat"), "█", "at the beat at %.3f", b)
		s.pass(0.15)
		assert.NotContains(t, s.row("beat"), "█", "after it")
	}
	assert.Zero(t, s.rung, "silent as long as nobody asks")
	s.tap("ctrl+l")
	assert.Contains(t, s.row("beat"), "(bell)")
	from := s.seconds()
	s.pass(20)
	assert.Equal(t, len(beats(from, from+20)), s.rung, "the bell rings once a beat")
	s.tap("ctrl+l")
	rung := s.rung
	s.pass(5)
	assert.Equal(t, rung, s.rung, "off again, as nothing can play")
}

// The flank moves out at each breath; gut sounds appear when they are there, at
// their own quadrant.
func TestBreathsAndGutSoundsAppearInTime(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 6, "colic-check", rehearse.Modes{})
	s.to(exam.Key{Step: "breath.rate"})
	for _, b := range s.horse.Breaths(s.seconds()+1, s.seconds()+40) {
		s.until(s.at(b).Add(-5 * time.Millisecond))
		in := len(s.row("flank"))
		s.pass(0.01)
		assert.Greater(t, len(s.row("flank")), in, "at the breath at %.3f", b)
	}
	s = newStage(t, usual())
	s.begin("clover", 6, "colic-check", rehearse.Modes{})
	site := exam.LeftUpper
	s.to(exam.Key{Step: "gut.sounds", Site: site})
	heard := 0
	for _, g := range s.horse.Sounds(site, s.seconds()+1, s.seconds()+240) {
		s.until(s.at(g.AtS).Add(5 * time.Millisecond))
		assert.Contains(t, s.row("listening"), string(g.Kind))
		s.until(s.at(g.AtS + g.LengthS).Add(5 * time.Millisecond))
		assert.NotContains(t, s.row("listening"), string(g.Kind), "it is over")
		heard++
	}
	assert.Positive(t, heard)
	s.press("right")
	assert.Contains(t, s.row("listening"), "listening 0:00", "another quadrant is listened to anew")
}

// The horse moves by itself, and the screen shows that for some seconds.
func TestTheHorseMoves(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 4, "tpr-recheck", rehearse.Modes{})
	s.to(exam.Key{Step: "breath.rate"})
	moves := s.horse.Moves(s.seconds(), s.seconds()+900)
	require.NotEmpty(t, moves)
	for _, m := range moves {
		s.until(s.at(m.AtS).Add(time.Millisecond))
		assert.True(t, s.reads("▴ "+m.Words), "%s\n%s", m.Words, s.view())
		s.pass(6)
		assert.False(t, s.reads(m.Words))
	}
}

// What is being typed as a question comes up does not answer it, and a question
// waits until a count is over.
func TestAQuestionIsNotAnsweredByWhatWasBeingTyped(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", s.seedWith("clover", "swings its quarters"), "tpr-recheck", rehearse.Modes{})
	for _, id := range []exam.StepID{"approach", "demeanour", "breath.rate", "breath.effort"} {
		s.answer(exam.Key{Step: id}, slips{})
	}
	s.pass(4.9) // the quarters swing five seconds after the thermometer is in
	s.tap("3")
	s.pass(0.2)
	require.True(t, s.reads("swings its quarters"), s.view())
	before := s.stored().Entries
	for _, key := range []string{"2", "enter", "enter"} {
		s.pass(0.1)
		s.tap(key)
	}
	assert.Equal(t, before, s.stored().Entries, "nothing was chosen")
	assert.True(t, s.reads("swings its quarters"))
	s.pass(1)
	s.question(exam.Key{Step: "temp.rectal"}, slips{})
	s.tap("8")
	assert.Contains(t, s.row("> 38"), "38", "what was typed before is still there")
}

func TestAQuickAnswerDoesNotPassTheQuestionBy(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", s.seedWith("clover", "swings its quarters"), "tpr-recheck", rehearse.Modes{})
	for _, id := range []exam.StepID{"approach", "demeanour", "breath.rate", "breath.effort"} {
		s.answer(exam.Key{Step: id}, slips{})
	}
	for _, key := range []string{"3", "7", ".", "6", "enter"} {
		s.pass(0.1)
		s.tap(key)
	}
	assert.True(t, s.reads("swings its quarters"), "it comes first\n%s", s.view())
	_, ok := s.stored().Finding(exam.Key{Step: "temp.rectal"})
	assert.False(t, ok)
	s.pass(1)
	s.question(exam.Key{Step: "temp.rectal"}, slips{})
	s.press("enter")
	_, ok = s.stored().Finding(exam.Key{Step: "temp.rectal"})
	assert.True(t, ok, s.view())
}

func TestCountsByEarSayWhenTheyBegan(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 12, "tpr-recheck", rehearse.Modes{})
	s.play(slips{byEar: true})
	s.close()
	m := s.mark()
	assert.Empty(t, faults(m), rehearse.Text(m, 80))
	for _, c := range m.Counts {
		assert.Contains(t, c.Basis, "in your window of 60 s")
	}
}

// A blind rehearsal shows neither order nor how, asks what comes next, and the
// marks see the order that was kept.
func TestABlindRehearsalAsksWhatComesNext(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 7, "tpr-recheck", rehearse.Modes{Blind: true, Timed: true})
	assert.True(t, s.reads("What do you examine next?"), s.view())
	assert.NotContains(t, s.view(), "│", "there is no order to look at")
	assert.NotContains(t, s.view(), " of 8")
	for _, id := range []exam.StepID{"demeanour", "approach", "heart.rhythm"} {
		step, _ := s.deps.Steps.ByID(id)
		for _, r := range strings.ToLower(step.Name) {
			s.tap(string(r))
		}
		require.True(t, s.reads("> "+step.Name), s.view())
		s.press("enter")
		s.question(exam.Key{Step: id}, slips{})
		require.True(t, s.reads(step.Name), s.view())
		s.tap("h")
		for _, how := range step.How {
			assert.False(t, s.reads(how))
		}
		s.answer(exam.Key{Step: id}, slips{})
		assert.True(t, s.reads("What do you examine next?"), s.view())
	}
	s.tap("t")
	s.tap("esc")
	assert.True(t, s.reads("find: _"), "esc clears what was typed")
	for _, r := range "the end" {
		s.tap(string(r))
	}
	s.press("enter")
	require.Contains(t, s.view(), "Review")
	s.press("f", "3", "enter")
	m := s.mark()
	assert.Equal(t, rehearse.Modes{Blind: true, Timed: true}, rehearse.ModesIn(s.stored()))
	assert.Equal(t, 3, m.Order.Answered)
	assert.Len(t, m.Order.OutOfOrder, 1, "demeanour came before the approach")
	assert.Len(t, m.Missed, 4, "the note is no step to miss")
}

func TestATimedRehearsalShowsTheTime(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 7, "tpr-recheck", rehearse.Modes{Timed: true})
	s.to(exam.Key{Step: "breath.rate"})
	at := s.seconds()
	s.pass(65.5)
	total := int(at + 65.5)
	assert.Contains(t, s.view(), fmt.Sprintf("%d:%02d, step 1:05", total/60, total%60))
}

// After a crash the rehearsal goes on: the same horse, and a moment that was
// answered does not come again.
func TestARehearsalGoesOnAfterACrash(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 2, "tpr-recheck", rehearse.Modes{Timed: true})
	s.to(exam.Key{Step: "demeanour"})
	beats := s.horse.Beats(0, 100)
	again := tui.New(s.deps, tui.Screens(), nav.Address{Screen: nav.Home})
	s.app, s.waiting = again, nil
	s.resize()
	s.run(s.app.Init())
	s.pass(60)
	s.press("j", "right")
	require.True(t, s.reads("Tarn of 11:05"), s.view())
	s.press("ctrl+s")
	require.True(t, s.reads("Demeanor"), s.view())
	s.met("tarn")
	assert.Equal(t, beats, s.horse.Beats(0, 100), "the same horse")
	s.tap("shift+tab")
	assert.True(t, s.reads("Approach and handler"))
	s.pass(2)
	assert.False(t, s.reads(s.horse.Moments()[0].Happens), "that was answered")
	s.tap("tab")
	for _, id := range []exam.StepID{"demeanour", "breath.rate", "breath.effort", "temp.rectal", "heart.rate", "heart.rhythm", "note"} {
		s.answer(exam.Key{Step: id}, slips{})
	}
	s.handOff()
	s.close()
	assert.Empty(t, faults(s.mark()), rehearse.Text(s.mark(), 80))
}

// At the door before anything is stored the rehearsal comes back to the door; a
// rehearsal of yesterday, or whose case is gone, is not offered.
func TestWhichRehearsalsCanBeGoneOnWith(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 2, "tpr-recheck", rehearse.Modes{})
	for range 3 {
		s.tap("esc")
	}
	s.press("j", "right", "ctrl+s")
	assert.True(t, s.reads(s.horse.Moments()[0].Happens), s.view())
	s.tap("esc")
	s.pass(13 * 3600)
	s.press("j")
	assert.False(t, s.reads("a new rehearsal"), s.view())
}

func TestAStoreThatFailsLosesNothing(t *testing.T) {
	s := newStage(t, usual())
	full := errors.New("no space left on the disk")
	store, ok := s.deps.Rehearsals.(*examtest.Store)
	require.True(t, ok)
	s.press("j", "ctrl+s")
	require.True(t, s.reads("At the door"), s.view())
	store.FailWith(full)
	s.press("1", "space", "ctrl+s")
	assert.True(t, s.reads("NOT saved"), s.view())
	store.FailWith(nil)
	s.press("ctrl+s")
	require.True(t, s.reads("1-3 do it"), s.view())
	store.FailWith(full)
	s.press("1")
	assert.True(t, s.reads("NOT saved"), s.view())
	store.FailWith(nil)
	assert.True(t, s.reads("1-3 do it"), "the question stands")
	s.press("1")
	assert.False(t, s.reads("1-3 do it"), s.view())
}

func TestWithoutAStoreOfRehearsalsNoneIsBegun(t *testing.T) {
	s := newStage(t, small())
	s.deps.Rehearsals = nil
	s.press("j", "enter", "ctrl+s")
	assert.True(t, s.reads("This record holds no rehearsals, so none"), s.view())
}

// What is kept on the way belongs to the machine, not to the rehearsal.
func TestTheScatterOfARehearsalIsKeptInTheRecord(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 4, "tpr-recheck", rehearse.Modes{})
	s.play(slips{})
	s.close()
	require.True(t, s.reads("How steadily you tap"), s.view())
	s.press("ctrl+s")
	set, err := s.deps.Store.Settings()
	require.NoError(t, err)
	m := s.mark()
	require.NotEmpty(t, m.Counts)
	for _, c := range m.Counts {
		if c.Step == "heart.rate" {
			assert.InDelta(t, *c.SigmaS, set.Scatter["Ann Bell"].SigmaS, 1e-9)
			assert.InDelta(t, 0.03, *c.SigmaS, 0.015, "as the hand of the test scatters")
		}
	}
	s.press("n")
	assert.True(t, s.reads("Rehearse an exam"), s.view())
	s.press("ctrl+s")
	assert.Equal(t, 1, strings.Count(s.view(), nav.RehearsalSign), s.view())
}

// No screen of a rehearsal breaks with hostile words of a teacher.
func TestHostileCases(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			s := newStage(t, size)
			cases, _ := s.deps.RehearsalCases()
			c := cases[0]
			c.Title, c.About, c.Reason, c.Horse.Name, c.Horse.Place = text, text, text, text, text
			c.Seen = map[exam.Key]string{{Step: "demeanour"}: text}
			s.deps.Cases = func() ([]rehearse.Case, []string) { return []rehearse.Case{c}, []string{text} }
			s.press("j")
			s.view()
			s.press("right", "down", "ctrl+s")
			s.view()
			s.press("ctrl+s")
			s.view()
			s.press("1", "enter", "1", "enter")
			s.view()
		}
	}
}

// A second at the heart: about three looks and the frames that follow them.
func BenchmarkASecondAtTheHeart(b *testing.B) {
	s := newStage(b, usual())
	s.begin("clover", 7, "tpr-recheck", rehearse.Modes{Timed: true})
	s.to(exam.Key{Step: "heart.rate"})
	for b.Loop() {
		s.pass(1)
		s.app.View()
	}
}

// seedWith is a seed at which a case brings up a moment of danger with the words.
func (s *stage) seedWith(name, words string) uint64 {
	s.t.Helper()
	cases, _ := s.deps.RehearsalCases()
	c, ok := rehearse.CaseNamed(cases, name)
	require.True(s.t, ok)
	for seed := uint64(1); seed < 500; seed++ {
		h, err := rehearse.New(c, seed, s.now, s.deps.Steps, s.deps.Ranges)
		require.NoError(s.t, err)
		if slices.ContainsFunc(h.Moments(), func(m rehearse.DangerMoment) bool { return strings.Contains(m.Happens, words) }) {
			return seed
		}
	}
	require.Fail(s.t, "no seed", words)
	return 0
}

// A rehearsal is learnt step by step: the key for the rest of an area answers nothing there.
func TestTheRestOfAnAreaIsNoKeyInARehearsal(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 6, "colic-check", rehearse.Modes{})
	s.to(exam.Key{Step: "demeanour"})
	before, err := s.deps.Rehearsals.Visit(s.visit)
	require.NoError(t, err)
	s.press("z")
	after, err := s.deps.Rehearsals.Visit(s.visit)
	require.NoError(t, err)
	assert.Equal(t, before.Entries, after.Entries)
	assert.NotContains(t, s.view(), "rest looks usual")
}
