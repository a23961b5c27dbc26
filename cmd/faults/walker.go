package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/desk"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/rehearse"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// walker presses random keys in the screens, on the record of the demo. Its clock moves only as it presses, so that letters
// are not taken for a reader of chips and no timer is really waited for.
type walker struct {
	rnd    *rand.Rand
	record *storage.Record
	steps  *exam.Steps
	ranges *ranges.Table
	dir    string

	now     time.Time
	w, h    int
	model   tea.Model
	pending []pending // timers
	quit    bool

	starts, resizes, pastes int
	stored                  int // lines in the record when it was last counted
	screens                 map[string]bool
}

// pending is a message of a timer and when it is due.
type pending struct {
	at  time.Time
	msg tea.Msg
}

// tryWalk presses random keys: every line stored before must stay, every frame must fit the window, and there must be no
// panic.
func tryWalk(dir string, r rounds) (o outcome, err error) {
	o = outcome{lost: "nothing"}
	w := &walker{rnd: chance(r, 21), dir: dir, now: noon(), steps: steps.Table(), screens: map[string]bool{}}
	if w.ranges, err = ranges.BuiltIn(); err != nil {
		return o, err
	}
	if w.record, err = storage.Open(filepath.Join(dir, "yard"), storage.Options{}); err != nil {
		return o, err
	}
	defer func() { err = errors.Join(err, w.record.Close()) }()
	if err := w.fill(); err != nil {
		return o, err
	}
	for o.times < r.keys {
		if err := w.press(o.times); err != nil {
			return o, fmt.Errorf("key %d of seed %d: %w", o.times+1, r.seed, err)
		}
		o.times++
		if o.times%2500 == 0 || o.times == r.keys {
			if err := w.kept(); err != nil {
				return o, fmt.Errorf("after key %d of seed %d: %w", o.times, r.seed, err)
			}
		}
	}
	o.seen = fmt.Sprintf("%d titles of screens, %d resizes at four sizes and smaller, %d pastes, %d starts; %d lines in the record at the end, every frame as wide and high as its window, no panic",
		len(w.screens), w.resizes, w.pastes, w.starts, w.stored)
	return o, nil
}

func (w *walker) fill() error {
	yard, err := demo.Yard(w.now, w.steps, steps.Routines())
	if err != nil {
		return err
	}
	var batch []storage.Imported
	for _, a := range yard {
		batch = append(batch, storage.Imported{Horse: a.Horse, By: "demo", At: w.now, Entries: a.Visits})
	}
	if err := w.record.Import(context.Background(), batch); err != nil {
		return err
	}
	return w.record.SaveSettings(exam.Settings{Person: "Nell Harrow"})
}

// start starts the program again, as after ctrl+c.
func (w *walker) start() error {
	set, err := w.record.Settings()
	if err != nil {
		return err
	}
	cases, err := rehearse.Cases(w.steps, w.ranges)
	if err != nil {
		return err
	}
	d := &nav.Deps{
		Desk:       desk.Desk{Store: w.record, Steps: w.steps, Routines: steps.Routines(), Judge: judge.New(w.ranges, w.steps)},
		Rehearsals: w.record.Rehearsals(), Ranges: w.ranges, Settings: set, Theme: theme.New(theme.Plain, false), Folder: w.dir,
		Now:       func() time.Time { return w.now },
		Cases:     func() ([]rehearse.Case, []string) { return cases, nil },
		BackupKey: func(text string) error { _, err := backup.ToKeys(text); return err },
		Warm:      w.record.Warm, Rounds: new(round.Reader),
	}
	d.Schedule = func() (*due.Table, string, error) {
		t, err := due.BuiltIn()
		return t, "", err
	}
	d.After = func(after time.Duration, msg tea.Msg) tea.Cmd {
		w.pending = append(w.pending, pending{w.now.Add(after), msg})
		return nil
	}
	w.pending, w.quit = nil, false
	w.starts++
	w.model = tui.NewKeyboard(tui.New(d, tui.Screens(), nav.Address{Screen: nav.Home}))
	w.run(w.model.Init())
	w.size()
	return nil
}

// look draws the frame and checks that it fits the window; key is for the error.
func (w *walker) look(key string) error {
	if w.quit {
		return nil
	}
	lines := strings.Split(w.model.View(), "\n")
	if len(lines) > w.h {
		return broken("after %s a window of %d x %d has %d lines", key, w.w, w.h, len(lines))
	}
	for _, line := range lines {
		if ansi.StringWidth(line) > w.w {
			return broken("after %s a window of %d x %d has a line of %d: %s", key, w.w, w.h, ansi.StringWidth(line), line)
		}
	}
	title, _, _ := strings.Cut(strings.TrimSpace(lines[0]), "  ")
	title, _, _ = strings.Cut(title, ":")
	w.screens[title] = true
	return nil
}

// pass moves the clock on and sends the messages of the timers that are then due.
func (w *walker) pass(d time.Duration) {
	end := w.now.Add(d)
	for {
		next := -1
		for i, p := range w.pending {
			if !p.at.After(end) && (next < 0 || p.at.Before(w.pending[next].at)) {
				next = i
			}
		}
		if next < 0 {
			w.now = end
			return
		}
		one := w.pending[next]
		w.pending = slices.Delete(w.pending, next, next+1)
		if one.at.After(w.now) {
			w.now = one.at
		}
		w.send(one.msg)
	}
}

func (w *walker) send(msg tea.Msg) {
	if w.quit {
		return
	}
	next, cmd := w.model.Update(msg)
	w.model = next
	w.run(cmd)
}

// run runs a command and sends its message; those of a batch or a sequence one after the other.
func (w *walker) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	msg := cmd()
	switch m := msg.(type) {
	case nil:
		return
	case tea.QuitMsg:
		w.quit = true
		return
	case tea.BatchMsg:
		for _, c := range m {
			w.run(c)
		}
		return
	}
	if list := reflect.ValueOf(msg); list.Kind() == reflect.Slice && list.Type().Elem() == reflect.TypeFor[tea.Cmd]() { // a sequence
		for i := range list.Len() {
			c, _ := list.Index(i).Interface().(tea.Cmd)
			w.run(c)
		}
		return
	}
	w.send(msg)
}

// kept checks every line of the record, and that there are no fewer than before.
func (w *walker) kept() error {
	report, err := w.record.Check(context.Background())
	switch {
	case err != nil:
		return err
	case !report.OK:
		return broken("%v", report.Broken)
	case report.Entries < w.stored:
		return broken("the record had %d lines and has %d", w.stored, report.Entries)
	}
	w.stored = report.Entries
	return nil
}
