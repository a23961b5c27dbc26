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
// set the terminal as it needs it. asItWas sets the terminal back to how the shell
// had it.
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
				if s == syscall.SIGTSTP && !continued(signals) {
					_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
					// Another thread may take the signal, so this one runs on for a while: the
					// terminal must stay as it is until the program has been stopped and goes on.
					for s := range signals {
						if s == syscall.SIGCONT {
							break
						}
					}
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

// continued takes what has come in since, and says whether the program was told to go
// on: then it is not stopped any more.
func continued(signals <-chan os.Signal) bool {
	for {
		select {
		case s := <-signals:
			if s == syscall.SIGCONT {
				return true
			}
		default:
			return false
		}
	}
}
