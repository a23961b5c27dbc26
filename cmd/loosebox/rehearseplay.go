package main

import (
	"cmp"
	"errors"
	"fmt"
	"os/exec"
	"runtime"
	"strconv"
	"time"

	"loosebox/cmd/loosebox/player"
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
	screen "loosebox/tui/screen/rehearse"
)

// playRehearsal plays on the screens, or line by line.
func (e *env) playRehearsal(r *storage.Record, cases func() ([]rehearse.Case, []string), c rehearse.Case, f rehearseFlags) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	d.Cases = cases
	if !e.lineByLine() {
		play := &nav.Play{Case: f.name, Seed: f.seed, By: f.by, Blind: f.blind, Timed: f.timed}
		to := nav.Address{Screen: nav.Rehearse, Routine: f.routine, Play: play}
		return e.screens(d, nav.Address{Screen: nav.Home}, to)
	}
	e.tell()
	by := notation.CleanLine(f.by, 0)
	if by == "" {
		by = d.Settings.Person
	}
	if by == "" {
		return usage("say who rehearses: --by NAME")
	}
	o := screen.Beginning{Case: c, Seed: f.seed, Routine: f.routine, By: by, Modes: rehearse.Modes{Blind: f.blind, Timed: f.timed}}
	return e.rehearseLines(d, o)
}

// rehearseLines plays line by line and prints the marks at the end.
func (e *env) rehearseLines(d *nav.Deps, o screen.Beginning) error {
	h, v, err := screen.Begin(d, o)
	if err != nil {
		return err
	}
	return e.playLines(d, h, v, o.By)
}

// playLines plays a rehearsal that is open.
func (e *env) playLines(d *nav.Deps, h *rehearse.Horse, v exam.Visit, by string) error {
	if p := player.Find(runtime.GOOS, exec.LookPath); p != nil && e.inTerminal {
		d.Player = p.Play
		defer p.Close()
	}
	s := &plain.Session{Deps: screen.Within(d, h, v), In: e.typed(), Out: e.out, Person: by, Terminal: e.inTerminal, Wait: e.wait(), Horse: h, WriteFile: e.writeNew}
	switch err := s.Rehearse(v.ID); {
	case errors.Is(err, plain.ErrLeft):
		e.say("The rehearsal is not finished; every answer is saved. loosebox rehearse --go-on continues it, and so does j on the home screen.")
		return nil
	case err != nil:
		return err
	}
	return e.printMarks(d, h, v.ID)
}

// takeSet takes a set exam on the screens, or line by line.
func (e *env) takeSet(f rehearseFlags) error {
	set, err := e.readSet(f.set)
	if err != nil {
		return err
	}
	cases := e.cases()
	return e.record(func(r *storage.Record) error {
		d, err := e.deps(r)
		if err != nil {
			return err
		}
		d.Cases = cases
		if !e.lineByLine() {
			return e.screens(d, nav.Address{Screen: nav.Home}, nav.Address{Screen: nav.Rehearse, Play: &nav.Play{By: f.by, Set: &set}})
		}
		e.tell()
		by := cmp.Or(notation.CleanLine(f.by, 0), d.Settings.Person)
		if by == "" {
			return usage("say who takes the exam: --by NAME")
		}
		all, _ := d.RehearsalCases()
		o, err := screen.SetBeginning(d, set, all, by)
		if err != nil {
			return err
		}
		return e.rehearseLines(d, o)
	})
}

// writeNew writes a file that must not exist yet.
func (e *env) writeNew(name string, data []byte) error {
	return e.toFile(name, func() error { return e.printf("%s", data) })
}

// wait lets time pass while somebody listens; a script does not wait.
func (e *env) wait() func(time.Duration) {
	if !e.inTerminal {
		return nil
	}
	return e.pause
}

func (e *env) printMarks(d *nav.Deps, h *rehearse.Horse, id exam.VisitID) error {
	entries, err := d.Rehearsals.Entries(id)
	if err != nil {
		return err
	}
	if v, err := exam.Fold(entries); err == nil {
		if set, taken := rehearse.SetIn(v, e.steps); taken && !set.MaySee(e.now()) {
			e.say(fmt.Sprintf("The exam %q is saved. Its marks are shown %s.", set.Title, set.Shown))
			return nil
		}
	}
	routine, _ := rehearse.RoutineNamed(entries[0].Opening.Routine, d.Steps, d.Routines)
	m, err := rehearse.Mark(h, routine, entries, d.Judge)
	if err != nil {
		return err
	}
	width, err := strconv.Atoi(e.lookup("COLUMNS"))
	if err != nil || width < rehearse.LeastWidth {
		width = pageWidth
	}
	return e.printf("%s", rehearse.Text(m, width))
}
