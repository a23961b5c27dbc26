package main

import (
	"context"
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/report/fhir"
	"loosebox/storage"
)

const (
	formCSV  = "csv"
	teaching = "teaching"
)

func (e *env) exportCommand() *cobra.Command {
	var as, reader, file string
	c := &cobra.Command{
		Use: "export -o FILE", Short: "everything out: JSON lines, CSV or FHIR R4", Args: cobra.NoArgs,
		Long: `Writes every visit of every horse into one file, which must not exist yet.

  json   one stored line a line, with its digest: import makes the same record of it
  csv    the same for a spreadsheet; import reads it too
  fhir   one FHIR R4 document a line and visit, for other programs; one way

--for teaching leaves out owner, place, names, chip and every text that was typed,
and moves the dates of each horse by one span of days, so that intervals stay.`,
		RunE: func(c *cobra.Command, _ []string) error {
			switch {
			case file == "":
				return usage("-o names the file that is written")
			case as != formJSON && as != formCSV && as != formFHIR:
				return usage("an export is json, csv or fhir, not %q", notation.CleanLine(as, 20))
			case reader != "" && reader != teaching:
				return usage("an export is whole, or --for teaching; not for %q", notation.CleanLine(reader, 20))
			case reader == teaching && as == formFHIR:
				return usage("an export for teaching is json or csv")
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error {
				return e.export(c.Context(), r, as, reader == teaching, file)
			})
		},
	}
	c.Flags().StringVar(&as, "as", formJSON, "json, csv or fhir")
	c.Flags().StringVar(&reader, "for", "", "teaching: without what says who it was")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) export(ctx context.Context, r *storage.Record, as string, teach bool, file string) error {
	n := 0
	err := e.toFile(file, func() (err error) {
		if as == formFHIR {
			n, err = e.exportFHIR(r)
			return err
		}
		sink, err := e.sink(e.out, as)
		if err != nil {
			return err
		}
		count := func(l exam.Line) error {
			n++
			return sink.Line(l)
		}
		if teach {
			err = exportTeaching(r, count)
		} else {
			err = r.Lines(ctx, count)
		}
		if err != nil {
			return err
		}
		return sink.Close()
	})
	if err != nil {
		return fmt.Errorf("nothing was exported: %w", err)
	}
	what := "lines"
	if as == formFHIR {
		what = "documents"
	}
	return e.printf("%d %s written to %s\n", n, what, file)
}

func (e *env) sink(w io.Writer, as string) (export.Sink, error) {
	if as == formCSV {
		return export.NewCSV(w, e.steps)
	}
	return export.NewJSON(w)
}

// exportFHIR writes one document a line for each visit.
func (e *env) exportFHIR(r *storage.Record) (int, error) {
	visits, err := r.Recent(0)
	if err != nil {
		return 0, err
	}
	for i := len(visits) - 1; i >= 0; i-- {
		p, err := e.page(r, visits[i].ID)
		if err != nil {
			return 0, err
		}
		b, err := fhir.Document(p, e.judge)
		if err != nil {
			return 0, err
		}
		if err := e.printf("%s\n", b); err != nil {
			return 0, err
		}
	}
	return len(visits), nil
}

// exportTeaching writes copies from which nobody is to be known again.
func exportTeaching(r *storage.Record, take func(exam.Line) error) error {
	horses, err := r.Horses()
	if err != nil {
		return err
	}
	t := &export.Teaching{Shift: shift, NewID: export.NewID}
	for _, h := range horses {
		past, err := r.Past(h.Horse.ID, 0)
		if err != nil {
			return err
		}
		if len(past) == 0 {
			continue
		}
		var visits [][]exam.Entry
		for i := len(past) - 1; i >= 0; i-- {
			entries, err := r.Entries(past[i].ID)
			if err != nil {
				return err
			}
			visits = append(visits, entries)
		}
		lines, err := t.Lines(visits)
		if err != nil {
			return err
		}
		for _, l := range lines {
			if err := take(l); err != nil {
				return err
			}
		}
	}
	return nil
}

// shift is a span of 30 to 700 days back, from the system's own randomness.
func shift() int {
	var b [4]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic(err) // Go's reader never fails on the systems we build for
	}
	return -30 - int(binary.BigEndian.Uint32(b[:])%671)
}

// importExport reads back what export wrote, JSON lines or CSV.
func (e *env) importExport(ctx context.Context, file string) error {
	// Looked through first, so that a file that is none makes no record.
	if file != "-" {
		err := e.withInput(file, func(in io.Reader, name string) error {
			return export.Read(in, name, func(exam.Line) error { return nil })
		})
		if err != nil {
			return err
		}
	}
	return e.record(func(r *storage.Record) error {
		done, err := r.Adopt(ctx, func(take func(exam.Line) error) error {
			return e.withInput(file, func(in io.Reader, name string) error { return export.Read(in, name, take) })
		})
		if err != nil {
			return err
		}
		return e.printf("%d horses, %d visits, %d entries, %d lines of rounds written to the record; %d lines were in it already\n", done.Horses, done.Visits, done.Entries, done.Rounds, done.Known)
	})
}
