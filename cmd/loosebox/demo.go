package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/storage"
	"loosebox/storage/unfinished"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

func (e *env) demoCommand() *cobra.Command {
	var keep string
	c := &cobra.Command{
		Use: "demo", Short: "the home screen on a temporary copy of an invented yard", Args: cobra.NoArgs,
		Long: `demo makes a record of an invented yard and opens the home screen on it. The
record is deleted at the end, unless --keep names a folder for it. Without a
terminal it plays one whole exam through the plain prompts and prints the page.`,
		RunE: func(*cobra.Command, []string) error {
			return e.inDemoFolder(keep, func(dir string) error { return e.demo(dir) })
		},
	}
	c.Flags().StringVar(&keep, "keep", "", "keep the demo's record in this folder, which must be new or empty")
	return c
}

// inDemoFolder lets work use a folder of its own, which is removed afterwards
// unless it is to be kept.
func (e *env) inDemoFolder(keep string, work func(dir string) error) (err error) {
	if keep != "" {
		list, err := os.ReadDir(keep)
		if err == nil && len(list) > 0 {
			return usage("%s is not empty; the demo does not write into a folder in use", keep)
		}
		if err := os.MkdirAll(keep, 0o700); err != nil {
			return fmt.Errorf("the folder for the demo cannot be made: %w", err)
		}
		return work(keep)
	}
	e.invented = true
	folder, err := unfinished.MakeFolder(os.TempDir(), "loosebox-demo-", ofARecord)
	if err != nil {
		return fmt.Errorf("the folder for the demo cannot be made: %w", err)
	}
	defer func() { err = errors.Join(err, folder.Remove()) }()
	return work(folder.Path)
}

// ofARecord says whether a file is one that a record makes in its folder.
func ofARecord(name string) bool {
	name, _, _ = strings.Cut(name, ".new-")
	name, _, _ = strings.Cut(name, ".read-")
	return name == storage.FileName || name == storage.KeyName || name == storage.CountName || name == storage.OpenName
}

func (e *env) demo(dir string) error {
	e.dir = dir
	if err := e.tables(); err != nil {
		return err
	}
	return e.record(func(r *storage.Record) error {
		if err := e.fillYard(r); err != nil {
			return err
		}
		if e.lineByLine() {
			return e.playDemo(r)
		}
		d, err := e.deps(r)
		if err != nil {
			return err
		}
		d.Demo = true
		return e.screens(d, nav.Address{Screen: nav.Home})
	})
}

// fillYard writes the invented yard, and what invented people rehearsed, into an empty record.
func (e *env) fillYard(r *storage.Record) error {
	yard, err := demo.Yard(e.now(), e.steps, e.routines)
	if err != nil {
		return err
	}
	if err := r.Import(e.context(), e.imported(yard)); err != nil {
		return err
	}
	rehearsed, err := demo.Rehearsals(e.now(), e.steps, e.ranges, e.routines)
	if err != nil {
		return err
	}
	if err := r.ImportRehearsals(e.context(), e.imported(rehearsed)); err != nil {
		return err
	}
	return r.SaveSettings(exam.Settings{Person: "Nell Harrow"})
}

func (e *env) imported(animals []demo.History) []storage.Imported {
	batch := make([]storage.Imported, len(animals))
	for i, a := range animals {
		batch[i] = storage.Imported{Horse: a.Horse, By: "demo", At: e.now(), Entries: a.Visits}
	}
	return batch
}

// playDemo plays a whole exam of one horse through the plain prompts.
func (e *env) playDemo(r *storage.Record) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	h, err := findHorse(r, demo.Played)
	if err != nil {
		return err
	}
	id, err := e.begin(r, h, examFlags{reason: "the demo's exam"}, d.Settings)
	if err != nil {
		return err
	}
	v, err := r.Visit(id)
	if err != nil {
		return err
	}
	routine := d.Routines[0].For(v.Class(), e.steps)
	script := demo.Script(routine, e.steps)
	s := &plain.Session{
		Deps: d, In: strings.NewReader(strings.Join(script, "\n") + "\n"), Out: e.out, Person: d.Settings.Person, Echo: true,
	}
	return s.Exam(id)
}
