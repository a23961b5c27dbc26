package plain

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
)

// soundPlayed is what the settings hold where a simulated horse is played as sound.
const soundPlayed = "played"

// plays says that what is to be heard is played: then it is not told.
func (s *Session) plays() bool { return s.played.sound && s.Deps.Player != nil && s.Wait != nil }

// playFor plays what is heard at a place for so many seconds and waits for its end.
func (s *Session) playFor(k exam.Key, from, seconds float64) {
	wav, err := soundOf(s.Horse, k, from, seconds)
	stop := func() {}
	if err == nil {
		if running := s.Deps.Player(wav); running != nil {
			stop = running
		}
	}
	s.Wait(time.Duration(seconds * float64(time.Second)))
	stop()
	s.line("  %s s were played.", notation.FormatNumber(seconds, 0))
}

// soundOf is what is heard at a place, as a WAVE file.
func soundOf(h *rehearse.Horse, k exam.Key, from, seconds float64) ([]byte, error) {
	var b bytes.Buffer
	err := rehearse.WriteWAV(&b, h.Sound(k, from, from+seconds))
	return b.Bytes(), err
}

// bySound switches the sound, or writes what is heard from now on into a file: sound on, sound off, sound FILE [SECONDS].
func (s *Session) bySound(k exam.Key, rest string) {
	words := strings.Fields(rest)
	switch {
	case len(words) == 1 && words[0] == "off":
		s.played.sound = false
		s.line("Silent: what is heard is told in words and times.")
	case len(words) == 1 && words[0] == "on" && (s.Deps.Player == nil || s.Wait == nil):
		s.line("No player was found on this machine. Type sound FILE.wav to write what is heard into a file.")
	case len(words) == 1 && words[0] == "on":
		s.played.sound = true
		s.line("What is heard is played now, while you listen, and is not told.")
	case len(words) == 0 || s.WriteFile == nil:
		s.line("Type sound on, sound off, or sound FILE.wav and 1 to %d seconds.", mostListenS)
	default:
		s.soundFile(k, words)
	}
}

// soundFile writes a file and lets as many seconds pass as it holds; times of taps count from its beginning.
func (s *Session) soundFile(k exam.Key, words []string) {
	seconds := 60.0
	if last := words[len(words)-1]; len(words) > 1 {
		n, err := strconv.ParseFloat(strings.TrimSuffix(last, "s"), 64)
		if err != nil || !(n >= 1 && n <= mostListenS) {
			s.line("Type sound FILE.wav and 1 to %d seconds.", mostListenS)
			return
		}
		seconds, words = n, words[:len(words)-1]
	}
	if s.Horse.Look(k, 0).Listen == exam.ListenNone {
		s.line("There is nothing to hear at this step.")
		return
	}
	from, name := s.seconds(), strings.Join(words, " ")
	wav, err := soundOf(s.Horse, k, from, seconds)
	if err == nil {
		err = s.WriteFile(name, wav)
	}
	if err != nil {
		s.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
		return
	}
	s.played.heard, s.played.zeroS, s.played.listens = k, from, true
	s.pass(seconds)
	s.line("%s s are in %s. Times of taps count from its beginning.", notation.FormatNumber(seconds, 0), notation.CleanLine(name, 80))
}
