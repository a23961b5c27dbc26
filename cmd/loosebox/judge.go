package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/storage/outside"
)

// maxNotices is how many notices about a file are said.
const maxNotices = 20

func (e *env) judgeCommand() *cobra.Command {
	var ignore []string
	var asJSON bool
	c := &cobra.Command{
		Use: "judge FILE", Short: "remarks for many exams at once, from a table", Args: cobra.ExactArgs(1),
		Long: `judge compares the findings of many exams with the ranges of each animal's class
and prints what stands out. Nothing is saved in the record.

The table is CSV, one exam a row, or JSON, an array of objects with the same
names; "-" reads stdin. The columns are:

  id
  kind        a horse if it is empty
  age         9y, 8mo, 5d, 10h, adult, foal
  breed, sex
  in_foal     yes, no, 9mo
  at_rest, worked, excited, travelled, heat     yes, no
  medicine    none, not known, pain, calm, other (last 24 hours; with commas)
  each step   heart.rate, gut.sounds:left upper (a site after a colon)

A number is in the step's unit, or has its own (101.2F). "under 3 s" and "3 s or
more" are bounds. An empty cell is a step that was not recorded.

A file has at most 10,000 exams and 10 MB; split a larger one. An unknown column
is an error unless --ignore names it.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			e.tell()
			return e.judgeTable(args[0], ignore, asJSON)
		},
	}
	c.Flags().StringArrayVar(&ignore, "ignore", nil, "a column to leave out; may be given several times")
	jsonFlag(c, &asJSON)
	return c
}

// withInput opens a file, or stdin for "-", and lets work read it under the name
// that messages use.
func (e *env) withInput(file string, work func(in io.Reader, name string) error) error {
	if file == "-" {
		return work(e.typed(), "stdin")
	}
	f, err := outside.Open(file, 0) // who reads it knows the limit
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			return exam.NoSuch("%s is not there", notation.CleanLine(file, 0))
		}
		return fmt.Errorf("the file cannot be read: %w", err)
	}
	defer f.Close() //nolint:errcheck // read only
	in := &readBar{Reader: f}
	if info, err := os.Stat(file); err == nil {
		in.bar = e.bar("reading "+notation.CleanLine(filepath.Base(file), 20), int(info.Size()))
		defer in.bar.end()
	}
	return work(in, filepath.Base(file))
}

// readBar draws how much of a file is read.
type readBar struct {
	io.Reader
	bar  *bar // nil for none
	done int
}

func (r *readBar) Read(p []byte) (int, error) {
	n, err := r.Reader.Read(p)
	if r.done += n; r.bar != nil {
		r.bar.at(r.done)
	}
	return n, err
}

func (e *env) judgeTable(file string, ignore []string, asJSON bool) error {
	var rows []intake.ExamRow
	err := e.withInput(file, func(in io.Reader, name string) (err error) {
		rows, err = intake.ReadExams(in, name, e.steps, ignore)
		return err
	})
	if err != nil {
		return err
	}
	var notices []string
	list := make([]judgedJSON, len(rows))
	for i, r := range rows {
		notices = append(notices, r.Notices...)
		list[i] = judgedOf(r, e.judge)
	}
	e.notices(notices)
	if asJSON {
		return e.printJSON(struct {
			Schema string       `json:"schema"`
			Visits []judgedJSON `json:"visits"`
		}{"loosebox/judge/1", list})
	}
	return e.printJudged(list)
}

// notices says what was taken although it is odd.
func (e *env) notices(list []string) {
	for i, text := range list {
		if i == maxNotices {
			e.say(fmt.Sprintf("and %d more notices of this kind", len(list)-i))
			return
		}
		e.say(notation.CleanLine(text, 300))
	}
}
