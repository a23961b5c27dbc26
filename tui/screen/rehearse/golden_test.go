package rehearse_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/screentest"
)

// golden draws the stage at one moment in every size.
func golden(t *testing.T, name string, play func(s *stage)) {
	t.Helper()
	for _, size := range screentest.Sizes() {
		t.Run(name, func(t *testing.T) {
			s := newStage(t, size)
			play(s)
			screentest.GoldenView(t, name, s.view(), size)
		})
	}
}

func TestGoldens(t *testing.T) {
	colic := func(s *stage, k exam.Key) {
		s.begin("tarn", 2, "colic-check", rehearse.Modes{Timed: true})
		s.to(k)
	}
	golden(t, "rehearse", func(s *stage) { s.press("j", "right", "right") })
	golden(t, "rehearse-door", func(s *stage) {
		s.press("j", "right", "right", "right", "ctrl+s")
	})
	golden(t, "rehearse-question", func(s *stage) {
		s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
		s.pass(1)
	})
	golden(t, "rehearse-wrong", func(s *stage) {
		s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
		s.press("2")
		require.True(s.t, s.reads("Not safe"), s.view())
	})
	golden(t, "rehearse-heart", func(s *stage) {
		colic(s, exam.Key{Step: "heart.rate"})
		for _, b := range s.horse.Beats(s.seconds()+1, s.seconds()+20) {
			s.until(s.at(b))
			s.tap("space")
		}
		s.pass(0.05)
	})
	golden(t, "rehearse-gut", func(s *stage) {
		colic(s, exam.Key{Step: "gut.sounds", Site: exam.LeftUpper})
		if list := s.horse.Sounds(exam.LeftUpper, s.seconds()+1, s.seconds()+600); len(list) > 0 {
			s.until(s.at(list[0].AtS + 0.1))
		}
	})
	golden(t, "rehearse-blind", func(s *stage) {
		s.begin("clover", 7, "full-exam", rehearse.Modes{Blind: true})
		for _, r := range "gu" {
			s.tap(string(r))
		}
	})
}

// The sound of a place is made from the horse's own time, plays while one listens
// there, goes on, and ends with leaving.
func TestTheSoundFollowsTheEar(t *testing.T) {
	s := newStage(t, layout.Size{W: 80, H: 24})
	var got [][]byte
	stopped := 0
	s.deps.Player = func(wav []byte) func() {
		got = append(got, wav)
		return func() { stopped++ }
	}
	s.deps.Settings.Rehearsal = "played"
	s.begin("clover", 7, "tpr-recheck", rehearse.Modes{})
	s.to(exam.Key{Step: "demeanour"})
	assert.Empty(t, got, "nothing is to be heard here")
	s.answer(exam.Key{Step: "demeanour"}, slips{})
	require.Len(t, got, 1)
	assert.Contains(t, s.row("flank"), "(played)")
	assert.Equal(t, "RIFF", string(got[0][:4]))
	assert.InDelta(t, 60*rehearse.SampleRate*2, len(got[0]), 200, "a minute at a time")
	s.pass(60.5)
	assert.Len(t, got, 2, "then the next")
	s.press("tab")
	assert.Len(t, got, 3, "the effort is heard too, from its own moment")
	assert.Equal(t, 2, stopped)
	s.press("tab")
	assert.Len(t, got, 3, "the thermometer is silent")
	assert.Equal(t, 3, stopped)
	s.pass(20)
	s.question(exam.Key{Step: "temp.rectal"}, slips{})
	s.press("tab")
	s.question(exam.Key{Step: "heart.rate"}, slips{})
	require.Len(t, got, 4)
	s.press("ctrl+l")
	assert.Equal(t, 4, stopped, "off")
	s.press("ctrl+l", "ctrl+l")
	assert.Len(t, got, 5, "off, bell, played")
	s.press("r")
	assert.Equal(t, 5, stopped, "the review is silent")
	assert.WithinDuration(t, s.now, s.deps.Now(), time.Second)
}
