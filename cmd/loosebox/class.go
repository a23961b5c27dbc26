package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/class"
	"loosebox/exam/rehearse/progress"
	"loosebox/exam/report"
	"loosebox/exam/report/pdf"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/tui/screen/marks"
)

// classFlags are the flags of class.
type classFlags struct {
	as, file, student, paper string
	from                     []string // data folders and exports of other machines
}

func (e *env) classCommand() *cobra.Command {
	var f classFlags
	c := &cobra.Command{
		Use: "class EXAM-FILE", Short: "results of a set exam: by person, by step, by fault", Args: cobra.ExactArgs(1),
		Long: `class shows the results of a set exam. It lists points and result by person, errors
by step, and who made each error. It reads the rehearsals of this record (--data
DIR for another). An attempt counts if it is finished, in time and allowed. Of
several attempts the best counts.

--from gathers other laptops too: a data folder, or an export of one; it may be given
several times. Nothing of them is written. A rehearsal in several of them counts once.

--sheet NAME gives the mark sheet of one student, to print and sign.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if f.as != formText && f.as != formPDF && (f.as != "csv" || f.student != "") {
				return usage("a class is shown as text, csv or pdf, a mark sheet as text or pdf, not as %q", notation.CleanLine(f.as, 20))
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.classRecord(f, func(r *storage.Record) error { return e.class(r, args[0], f) })
		},
	}
	c.Flags().StringVar(&f.as, "as", formText, "text, csv or pdf")
	c.Flags().StringVar(&f.student, "sheet", "", "the mark sheet of this student")
	c.Flags().StringVar(&f.paper, "paper", "", "of a PDF: A4 or Letter")
	c.Flags().StringArrayVar(&f.from, "from", nil, "a data folder or an export of another machine, besides")
	c.Flags().StringVarP(&f.file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

// readSet reads the file of a set exam.
func (e *env) readSet(name string) (rehearse.Set, error) {
	in, err := os.Open(name)
	if err != nil {
		return rehearse.Set{}, fmt.Errorf("the exam cannot be read: %w", err)
	}
	defer func() { _ = in.Close() }()
	return rehearse.ReadSet(in, name, e.steps, e.now().Location())
}

func (e *env) class(r *storage.Record, name string, f classFlags) error {
	set, err := e.readSet(name)
	if err != nil {
		return err
	}
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	stores, done, err := e.classStores(r, f.from)
	defer done()
	if err != nil {
		return err
	}
	classes, not, err := class.Gather(stores, marks.Reader(d), e.steps)
	if err != nil {
		return err
	}
	for _, u := range not {
		e.say(fmt.Sprintf("not marked: %s, %s: %s", notation.CleanLine(u.By, 40), shortNumber(u.Visit), u.Why))
	}
	c := class.New(set, nil)
	for _, one := range classes {
		if one.Set.Digest == set.Digest {
			c = one
		}
	}
	if len(c.Students) == 0 {
		return exam.NoSuch("nobody took the exam %q in this record", set.Title)
	}
	if f.student == "" {
		return e.toFile(f.file, func() error { return e.printClass(c, f) })
	}
	for _, st := range c.Students {
		if progress.SamePerson(st.Name, f.student) {
			return e.toFile(f.file, func() error { return e.printBlocks(set.Title, c.Sheet(st), f) })
		}
	}
	return exam.NoSuch("nobody called %q took the exam", notation.CleanLine(f.student, 40))
}

// classRecord lets work have the record of this machine; a teacher who has none and gathers others gets an empty one.
func (e *env) classRecord(f classFlags, work func(*storage.Record) error) error {
	if _, err := os.Stat(filepath.Join(e.dataDir(), storage.FileName)); len(f.from) > 0 && errors.Is(err, os.ErrNotExist) {
		dir, err := os.MkdirTemp("", "loosebox-class")
		if err != nil {
			return fmt.Errorf("make a folder to gather in: %w", err)
		}
		defer func() { _ = os.RemoveAll(dir) }()
		return e.recordIn(filepath.Join(dir, "record"), storage.Options{}, work)
	}
	return e.existing(work)
}

// classStores are the rehearsals of this record and of every other one that is named. Data folders are only read; an export
// is read into a record that is gone afterwards. Done closes them, also after an error.
func (e *env) classStores(r *storage.Record, from []string) (stores []exam.Store, done func(), err error) {
	var closers []func()
	done = func() {
		for _, c := range slices.Backward(closers) {
			c()
		}
	}
	stores = []exam.Store{r.Rehearsals()}
	for _, name := range from {
		info, err := os.Stat(name)
		if err != nil {
			return nil, done, exam.NoSuch("%s is neither a data folder nor an export", notation.CleanLine(name, 0))
		}
		dir, o := name, storage.Options{MustExist: true, ReadOnly: true}
		if !info.IsDir() {
			temp, err := os.MkdirTemp("", "loosebox-class")
			if err != nil {
				return nil, done, fmt.Errorf("make a folder to gather in: %w", err)
			}
			closers = append(closers, func() { _ = os.RemoveAll(temp) })
			dir, o = filepath.Join(temp, "record"), storage.Options{}
		}
		other, err := storage.Open(dir, o)
		if err != nil {
			return nil, done, fmt.Errorf("%s: %w", notation.CleanLine(name, 0), err)
		}
		closers = append(closers, func() { _ = other.Close() })
		if !info.IsDir() {
			if err := e.adoptFor(other, name); err != nil {
				return nil, done, err
			}
		}
		stores = append(stores, other.Rehearsals())
	}
	return stores, done, nil
}

// adoptFor reads an export into a record of its own.
func (e *env) adoptFor(r *storage.Record, name string) error {
	taken, err := r.Adopt(e.context(), func(take func(signedlog.Segment) error) error {
		return e.withInput(name, func(in io.Reader, file string) error {
			return export.Read(in, file, func(export.Header) error { return nil }, take)
		})
	})
	for _, text := range taken.Aside {
		e.problem("%s", text)
	}
	if err != nil {
		return fmt.Errorf("not all of %s was read: %w", notation.CleanLine(name, 0), err)
	}
	return nil
}

func (e *env) printClass(c class.Results, f classFlags) error {
	if f.as == "csv" {
		return c.WriteCSV(e.out)
	}
	return e.printBlocks(c.Set.Title, c.Blocks(), f)
}

// printBlocks sets a page as text or PDF under its title.
func (e *env) printBlocks(title string, blocks []report.Block, f classFlags) error {
	if f.as == formText {
		return e.printf("%s\n%s", title, report.SetText(blocks, pageWidth))
	}
	size, err := paperSize(f.paper)
	if err != nil {
		return err
	}
	if err := e.noTerminal(); err != nil {
		return err
	}
	lost, err := pdf.Write(e.out, size, pdf.Page{Title: title, Foot: "rehearsal, no real animal", At: e.now(), Blocks: blocks})
	e.sayLost(lost)
	return err
}
