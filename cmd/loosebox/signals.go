package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/charmbracelet/x/term"
)

// signalled is the error of a run that a signal ended.
type signalled struct{ signal syscall.Signal }

func (s *signalled) Error() string { return "interrupted; every accepted answer is saved" }

// code is the exit code that shells give to a program which a signal ended.
func (s *signalled) code() int { return 128 + int(s.signal) }

// impatient is how long after the first signal a second one ends the program at
// once: by then the first had its time to clean up.
const impatient = 2 * time.Second

// listen ends the context of the run when a signal asks for it, with the signal as
// its cause. What runs then removes what it had not finished and returns. The
// returned function ends the listening and gives the terminal back as it was.
func (e *env) listen() (stop func()) {
	ctx, end := context.WithCancelCause(context.Background())
	e.ctx, e.interrupt = ctx, func(s syscall.Signal) { end(&signalled{s}) }
	restore := e.terminalAsItIs()
	signals := make(chan os.Signal, 8)
	wanted := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // a run that is to outlive its terminal
		wanted = append(wanted, syscall.SIGHUP)
	}
	signal.Notify(signals, wanted...)
	over := make(chan struct{})
	go func() {
		var first time.Time
		for {
			select {
			case <-over:
				return
			case s := <-signals:
				number, ok := s.(syscall.Signal)
				if !ok {
					number = syscall.SIGINT
				}
				if !first.IsZero() && time.Since(first) > impatient {
					restore()
					os.Exit((&signalled{number}).code()) //nolint:forbidigo // the second signal: the run does not come to its end
				}
				if first.IsZero() {
					first = e.now()
				}
				e.interrupt(number)
			}
		}
	}()
	return func() {
		signal.Stop(signals)
		close(over)
		if ctx.Err() != nil {
			restore()
		}
		end(nil)
	}
}

// context ends when a signal ends the run.
func (e *env) context() context.Context {
	if e.ctx == nil {
		return context.Background() // not from a command line
	}
	return e.ctx
}

// terminalAsItIs returns what sets the terminal back to how it is now.
func (e *env) terminalAsItIs() func() {
	in, ok := e.in.(*os.File)
	if !ok || !e.inTerminal {
		return func() {}
	}
	state, err := term.GetState(in.Fd())
	if err != nil {
		return func() {}
	}
	return func() { _ = term.Restore(in.Fd(), state) } // a terminal that is gone is no matter
}

// interrupted is the signal that ended the run, or nil.
func (e *env) interrupted() *signalled {
	s, _ := context.Cause(e.context()).(*signalled) //nolint:errorlint // the cause itself
	return s
}

// pause waits, unless a signal ends the run meanwhile.
func (e *env) pause(d time.Duration) {
	select {
	case <-time.After(d):
	case <-e.context().Done():
	}
}
