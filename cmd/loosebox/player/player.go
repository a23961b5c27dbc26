// Package player plays a WAVE file with whatever player the machine has. It is
// silent where there is none, and where playing fails: a sound is never needed.
package player

import (
	"os"
	"os/exec"
	"strings"
	"sync"
)

// Player plays one sound at a time. It is safe for use by several goroutines.
type Player struct {
	command []string // the name of the file is put behind it, or in place of {}

	mu      sync.Mutex
	playing *sound // the last one begun; nil before
}

// sound is one run of the player.
type sound struct {
	cmd  *exec.Cmd
	file string
	over chan struct{}
}

// file stands in a command for the name of the file.
const file = "{}"

// candidates are the players of a system, the best first: those that take a file
// and need no window.
func candidates(system string) [][]string {
	switch system {
	case "windows":
		play := "(New-Object System.Media.SoundPlayer '" + file + "').PlaySync()"
		return [][]string{{"powershell", "-NoProfile", "-NonInteractive", "-Command", play}}
	case "darwin":
		return [][]string{{"afplay"}}
	}
	return [][]string{{"paplay"}, {"pw-play"}, {"aplay", "-q"}}
}

// Find finds the player of a system (as runtime.GOOS names it); nil where there
// is none. look is exec.LookPath.
func Find(system string, look func(string) (string, error)) *Player {
	for _, c := range candidates(system) {
		if path, err := look(c[0]); err == nil {
			return &Player{command: append([]string{path}, c[1:]...)}
		}
	}
	return nil
}

// args is the command for a file.
func (p *Player) args(name string) []string {
	out, put := make([]string, 0, len(p.command)+1), false
	for _, a := range p.command {
		if strings.Contains(a, file) {
			a, put = strings.ReplaceAll(a, file, strings.ReplaceAll(name, "'", "''")), true
		}
		out = append(out, a)
	}
	if !put {
		out = append(out, name)
	}
	return out
}

// Play begins to play a WAVE file in place of what plays now, and returns what
// stops it; nil where it cannot be played.
func (p *Player) Play(wav []byte) (stop func()) {
	name, err := write(wav)
	if err != nil {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.playing.end()
	args := p.args(name)
	s := &sound{cmd: exec.Command(args[0], args[1:]...), file: name, over: make(chan struct{})}
	if err := s.cmd.Start(); err != nil {
		_ = os.Remove(name) // a sound is never needed
		return nil
	}
	p.playing = s
	go s.wait()
	return s.end
}

// Close stops what plays and waits until its file is gone.
func (p *Player) Close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.playing.end()
	p.playing = nil
}

func write(wav []byte) (string, error) {
	f, err := os.CreateTemp("", "loosebox-*.wav")
	if err != nil {
		return "", err
	}
	_, err = f.Write(wav)
	if shut := f.Close(); err == nil {
		err = shut
	}
	if err != nil {
		_ = os.Remove(f.Name()) // nothing was played
	}
	return f.Name(), err
}

func (s *sound) wait() {
	_ = s.cmd.Wait()      // a player that fails is no matter
	_ = os.Remove(s.file) // the system clears what stays
	close(s.over)
}

// end stops the player, if it still plays, and waits for it. It may be called
// more than once.
func (s *sound) end() {
	if s == nil {
		return
	}
	select {
	case <-s.over:
		return
	default:
	}
	_ = s.cmd.Process.Kill() // it may have ended by itself meanwhile
	<-s.over
}
