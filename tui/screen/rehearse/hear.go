package rehearse

import (
	"bytes"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// hearing is what of a simulated horse is heard, as the settings keep it.
type hearing string

const (
	silent hearing = ""
	bell   hearing = "bell"   // the terminal's bell at each beat
	played hearing = "played" // heart, breath and gut, synthesised
)

func hearingOf(set string) hearing {
	switch h := hearing(set); h {
	case bell, played:
		return h
	case silent:
	}
	return silent
}

// next is the next choice; what cannot be played is passed over.
func (h hearing) next(player bool) hearing {
	switch {
	case h == silent:
		return bell
	case h == bell && player:
		return played
	}
	return silent
}

// stretchS is how much is synthesised and played at once.
const stretchS = 60.0

// playing is the sound that is out now. It is begun in a command and ended in
// Update.
type playing struct {
	mu   sync.Mutex
	run  int
	stop func()
}

// end stops what sounds, and keeps what is still being made from sounding.
func (p *playing) end() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.run++
	if p.stop != nil {
		p.stop()
		p.stop = nil
	}
}

// begin lets a sound out unless another run began meanwhile.
func (p *playing) begin(run int, play func() (stop func())) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if run != p.run {
		return false
	}
	p.stop = play()
	return p.stop != nil
}

// now is the run that may sound.
func (p *playing) now() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.run
}

type (
	// playingMsg says that a stretch has begun to sound.
	playingMsg struct {
		of  *patient
		run int
	}
	// overMsg says that a stretch is over.
	overMsg struct {
		of  *patient
		run int
	}
)

// play makes the next stretch of what is to be heard at the place and plays it.
func (p *patient) play() tea.Cmd {
	p.playing.end()
	if p.hearing != played || p.deps.Player == nil || !p.here || p.seen.Listen == exam.ListenNone {
		return nil
	}
	run, from, k, horse, player := p.playing.now(), p.now(), p.place, p.horse, p.deps.Player
	return func() tea.Msg {
		wav := stretch(horse, k, from)
		if wav == nil || !p.playing.begin(run, func() func() { return player(wav) }) {
			return nil // a rehearsal goes on without sound
		}
		return playingMsg{p, run}
	}
}

// stretch is the sound at a place from a second on, as a WAVE file; nil where
// there is none.
func stretch(h *rehearse.Horse, k exam.Key, from float64) []byte {
	samples := h.Sound(k, from, from+stretchS)
	if samples == nil {
		return nil
	}
	var b bytes.Buffer
	if err := rehearse.WriteWAV(&b, samples); err != nil {
		return nil
	}
	return b.Bytes()
}

// playOn asks for the next stretch when this one is over.
func (p *patient) playOn(m playingMsg) tea.Cmd {
	if m.of != p || m.run != p.playing.now() {
		return nil
	}
	return p.deps.Later(time.Duration(stretchS*float64(time.Second)), overMsg{p, m.run})
}
