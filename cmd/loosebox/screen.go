package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"

	"github.com/adrg/xdg"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"loosebox/cmd/loosebox/player"
	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/round"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// deps gathers what the screens and the plain prompts are made of.
func (e *env) deps(r *storage.Record) (*nav.Deps, error) {
	settings, err := r.Settings()
	if err != nil {
		return nil, err
	}
	_ = r.Host() // where there is no network within the machine, other commands wait for the record's file
	d := &nav.Deps{
		Desk: e.desk(e.kept(r)), Rehearsals: r.Rehearsals(), Ranges: e.ranges,
		Now: e.now, Settings: settings, Theme: e.theme(settings), Bell: e.bell(), Folder: e.dataDir(),
		Syringes: e.syringes(),
		Schedule: e.scheduleOnce(), Rounds: new(round.Reader), Warm: r.Warm,
	}
	d.Arrived = r.Arrived
	d.Unsent = func() ([]nav.Waits, error) {
		list, err := exchanges(r)
		return waits(list), err
	}
	d.Judge = d.Judge.Reads(settings.Units)
	if e.dataDir() != "" {
		d.KeepRoutine = func(own exam.Routine) error {
			err := e.keepRoutine(own)
			if err == nil {
				_, _, err = e.syncOwn(r)
			}
			return err
		}
	}
	d.Picture = readLogo
	d.BackupKey = func(text string) error {
		_, err := backup.ToKeys(text)
		return err
	}
	if len(e.problems) > 0 {
		d.Problem = strings.Join(e.problems, " ")
	}
	return d, nil
}

// desk is where the visits of a store are read and written.
func (e *env) desk(store exam.Store) desk.Desk {
	return desk.Desk{Store: store, Steps: e.steps, Routines: e.routines, Judge: e.judge, Waits: &e.waits}
}

// lineByLine says that nothing is drawn again: it was asked for, or there is no
// terminal that could.
func (e *env) lineByLine() bool {
	return e.plain || e.asJSON || !e.inTerminal || !e.outTerminal || e.lookup("TERM") == "dumb"
}

// kept is the record with its keeper, who makes a backup after each closed visit.
func (e *env) kept(r *storage.Record) exam.Store {
	if e.keeper == nil {
		return r
	}
	return e.keeper
}

func (e *env) theme(s exam.Settings) *theme.Theme {
	name := theme.Name(s.Theme)
	if e.noColour || e.lookup("NO_COLOR") != "" || e.lookup("TERM") == "dumb" {
		lipgloss.SetColorProfile(termenv.Ascii)
		name = theme.Plain
	} else {
		lipgloss.SetColorProfile(termenv.NewOutput(os.Stdout).EnvColorProfile()) // the environment says it; nothing is asked
	}
	lipgloss.SetHasDarkBackground(true) // a setting of the library that no style of ours reads
	return theme.New(name, !e.utf8())
}

// utf8 says whether the terminal's character set is UTF-8, as far as the
// environment tells; elsewhere rules and digits are drawn in ASCII.
func (e *env) utf8() bool {
	if runtime.GOOS == "windows" {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(e.lookup(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

// bell rings by writing to the terminal beside the renderer; a bell moves no cursor.
func (e *env) bell() tea.Cmd {
	return func() tea.Msg {
		_, _ = fmt.Fprint(e.errOut, "\a") // a bell that fails is no matter
		return nil
	}
}

// window is a terminal that is written to: os.File, or one that shows letters alone.
type window interface {
	io.ReadWriteCloser
	Fd() uintptr
}

// screens runs the program in the terminal until the person leaves.
func (e *env) screens(d *nav.Deps, first nav.Address, then ...nav.Address) error {
	in, okIn := e.in.(*os.File)
	out, okOut := e.out.(window)
	if !okIn || !okOut {
		return usage("the screens need a terminal")
	}
	if p := player.Find(runtime.GOOS, exec.LookPath); p != nil {
		d.Player = p.Play
		defer p.Close()
	}
	if e.sharer != nil && !d.Demo {
		d.Sharing = sharePage{e.sharer, sticks, cmp.Or(e.lookup("HOME"), xdg.Home)}
	}
	app := tui.NewKeyboard(tui.New(d, tui.Screens(), first, then...))
	keys := &keyboard{File: in, gone: func() { e.interrupt(syscall.SIGHUP) }, now: e.now}
	p := tea.NewProgram(app, tea.WithAltScreen(), tea.WithInput(keys),
		tea.WithOutput(out), tea.WithoutSignalHandler(), tea.WithContext(e.ctx))
	keys.noEsc = func() { p.Send(tui.NoEscMsg{}) }
	defer drawAgainAfterStop(p, e.terminalAsItIs())()
	if e.keeper != nil {
		e.keeper.tellBy(func(text string) { p.Send(nav.SaidMsg{Text: text}) })
		defer e.keeper.tellBy(e.say)
	}
	if d.Sharing != nil {
		e.sharer.begin(p.Send)
		defer e.sharer.end()
	}
	e.shown = true
	_, err := p.Run()
	switch {
	case e.interrupted() != nil:
		return e.interrupted()
	case err != nil:
		return fmt.Errorf("the terminal failed; every accepted answer is saved: %w", err)
	}
	return nil
}
