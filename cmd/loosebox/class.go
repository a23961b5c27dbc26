package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/class"
	"loosebox/exam/rehearse/progress"
	"loosebox/exam/report"
	"loosebox/exam/report/pdf"
	"loosebox/storage"
	"loosebox/tui/screen/marks"
)

// classFlags are the flags of class.
type classFlags struct{ as, file, student, paper string }

func (e *env) classCommand() *cobra.Command {
	var f classFlags
	c := &cobra.Command{
		Use: "class EXAM-FILE", Short: "what a class made of a set exam: by person, by step, by fault", Args: cobra.ExactArgs(1),
		Long: `class shows what everybody who took the set exam of a file made of it: points and
result by person, what went wrong by step, and who made which fault. It reads the
rehearsals of this record (--data DIR for another). An attempt counts when it is
finished, in time and within those allowed; of several the best.

--sheet NAME gives the mark sheet of one student, to print and sign.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if f.as != formText && f.as != formPDF && (f.as != "csv" || f.student != "") {
				return usage("a class is shown as text, csv or pdf, a mark sheet as text or pdf, not as %q", notation.CleanLine(f.as, 20))
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.class(r, args[0], f) })
		},
	}
	c.Flags().StringVar(&f.as, "as", formText, "text, csv or pdf")
	c.Flags().StringVar(&f.student, "sheet", "", "the mark sheet of this student")
	c.Flags().StringVar(&f.paper, "paper", "", "of a PDF: A4 or Letter")
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
	all, err := e.setMarks(r.Rehearsals(), set, marks.Reader(d))
	if err != nil {
		return err
	}
	c := class.New(set, all)
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

// setMarks marks every rehearsal of a set exam; what cannot be marked is said.
func (e *env) setMarks(store exam.Store, set rehearse.Set, reader progress.Reader) ([]rehearse.Marks, error) {
	visits, err := store.Recent(0)
	if err != nil {
		return nil, fmt.Errorf("the rehearsals cannot be read: %w", err)
	}
	var out []rehearse.Marks
	for _, v := range visits {
		if s, ok := rehearse.SetIn(v, e.steps); !ok || s.Digest != set.Digest {
			continue
		}
		entries, err := store.Entries(v.ID)
		if err != nil {
			return nil, fmt.Errorf("a rehearsal cannot be read: %w", err)
		}
		m, err := reader.Marks(entries)
		switch {
		case errors.Is(err, progress.ErrCannotMark):
			e.say(fmt.Sprintf("not marked: %s, %s: %v", notation.CleanLine(v.By, 40), shortNumber(v.ID), err))
		case err != nil:
			return nil, err
		default:
			out = append(out, m)
		}
	}
	return out, nil
}

func (e *env) printClass(c class.Class, f classFlags) error {
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
