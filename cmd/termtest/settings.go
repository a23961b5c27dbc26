//go:build unix

package termtest

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strconv"

	"golang.org/x/sys/unix"
)

// PID is the number of the program's process.
func (t *Terminal) PID() int { return t.cmd.Process.Pid }

// Signal sends a signal to the program; an error where it ended.
func (t *Terminal) Signal(s os.Signal) error {
	if err := t.cmd.Process.Signal(s); err != nil {
		return fmt.Errorf("signal the program: %w", err)
	}
	return nil
}

// Stopped reports whether the program is stopped (by SIGTSTP or SIGSTOP); false where the system cannot tell.
func (t *Terminal) Stopped() bool {
	pid := strconv.Itoa(t.PID())
	state, err := exec.Command("ps", "-o", "stat=", "-p", pid).Output() //nolint:noctx,gosec // at once, of our own number
	if err != nil {
		stat, err := os.ReadFile("/proc/" + pid + "/stat") // a system without ps
		if err != nil {
			return false
		}
		_, state, _ = bytes.Cut(stat, []byte(") "))
	}
	return bytes.HasPrefix(state, []byte("T"))
}

// HangUp closes the window, as a person or a lost connection does. No output is read afterwards.
func (t *Terminal) HangUp() error {
	if err := t.master.Close(); err != nil {
		return fmt.Errorf("close the window: %w", err)
	}
	// The file closes only when the read that waits for output returns: make the program draw once more.
	return t.Signal(unix.SIGWINCH)
}

// Cooked reports whether the terminal echoes and reads by lines, as a shell leaves it; false in raw mode or without
// echo. An error where its settings cannot be read.
func (t *Terminal) Cooked() (bool, error) { return cooked(t.slave) }

func cooked(terminal *os.File) (bool, error) {
	s, err := unix.IoctlGetTermios(int(terminal.Fd()), getSettings)
	if err != nil {
		return false, fmt.Errorf("ask for the terminal's settings: %w", err)
	}
	return s.Lflag&unix.ECHO != 0 && s.Lflag&unix.ICANON != 0, nil
}

// Cook switches echo, reading by lines and signals of keys on, as a shell does.
func (t *Terminal) Cook() error {
	s, err := unix.IoctlGetTermios(int(t.slave.Fd()), getSettings)
	if err != nil {
		return fmt.Errorf("ask for the terminal's settings: %w", err)
	}
	s.Lflag |= unix.ECHO | unix.ICANON | unix.ISIG
	if err := unix.IoctlSetTermios(int(t.slave.Fd()), setSettings, s); err != nil {
		return fmt.Errorf("set the terminal: %w", err)
	}
	return nil
}

// CookedAtEnd is Cooked at the end of the program; false until then.
func (t *Terminal) CookedAtEnd() bool {
	select {
	case <-t.ended:
		return t.left
	default:
		return false
	}
}

// Scribble writes into the window from outside the program, as another program does; it returns bytes written.
func (t *Terminal) Scribble(text string) (int, error) { return t.slave.WriteString(text) }

// Coloured reports whether any character of the window has a foreground colour.
func (t *Terminal) Coloured() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	for y := range t.screen.Height() {
		for x := range t.screen.Width() {
			if c := t.screen.CellAt(x, y); c != nil && c.Style.Fg != nil {
				return true
			}
		}
	}
	return false
}
