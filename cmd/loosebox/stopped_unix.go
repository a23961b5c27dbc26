//go:build unix

package main

import (
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// stoppedMsg says that the program is stopped from outside; no screen has a use for it.
type stoppedMsg struct{}

// drawAgainAfterStop gives the terminal back while the program is stopped, and
// takes it and draws the screen again when it goes on: the shell in between has
// set the terminal as it needs it.
// asItWas sets the terminal back to how the shell had it.
func drawAgainAfterStop(p *tea.Program, asItWas func()) (end func()) {
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, syscall.SIGTSTP, syscall.SIGCONT)
	over := make(chan struct{})
	go func() {
		for {
			select {
			case <-over:
				return
			case s := <-signals:
				p.Send(stoppedMsg{}) // returns when the screens have begun
				_ = p.ReleaseTerminal()
				asItWas() // also where the screens were not reading yet
				if s == syscall.SIGTSTP {
					_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP) // it goes on here after fg
				}
				_ = p.RestoreTerminal() // a terminal that vanished meanwhile ends the run
			}
		}
	}()
	return func() {
		signal.Stop(signals)
		close(over)
	}
}
