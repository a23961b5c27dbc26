package main

import (
	"context"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/progress"
	"loosebox/exam/report/fhir"
	"loosebox/exam/signedlog"
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

  json   every signed log, rehearsals too: import reads it back, line for line
  csv    for a spreadsheet; cannot be imported as it is
  fhir   one FHIR R4 document a line and visit, for other programs

--for teaching removes owner, location, names, chip and every typed text. It moves
all dates of a horse by the same number of days.`,
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
	c.Flags().StringVar(&reader, "for", "", "teaching: without names and dates")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) export(ctx context.Context, r *storage.Record, as string, teach bool, file string) error {
	n, what := 0, "lines"
	ctx, end := e.progress(ctx, "exporting")
	err := e.toFile(file, func() (err error) {
		switch {
		case as == formFHIR:
			what = "documents"
			n, err = e.exportFHIR(ctx, r)
		case as == formCSV:
			n, err = e.exportCSV(ctx, r, teach)
		default:
			n, err = e.exportJSON(ctx, r, teach)
		}
		return err
	})
	end()
	if err != nil {
		return fmt.Errorf("nothing was exported: %w", err)
	}
	return e.printf("%d %s written to %s\n", n, what, file)
}

// exportJSON writes every log as it was signed, or a log of copies for teaching.
func (e *env) exportJSON(ctx context.Context, r *storage.Record, teach bool) (n int, err error) {
	sink, err := export.NewJSON(e.out, teach)
	if err != nil {
		return 0, err
	}
	if teach {
		err = teachingLog(ctx, r, func(s signedlog.Segment) error {
			n += len(s.Cores)
			return sink.Segment(s)
		})
	} else {
		err = storage.EachSegment(ctx, r, export.TextOf, func(s signedlog.Segment, t export.Text) error {
			n += len(s.Cores)
			return sink.Put(t)
		})
	}
	if err != nil {
		return n, err
	}
	return n, sink.Close()
}

// exportCSV writes what every line says.
func (e *env) exportCSV(ctx context.Context, r *storage.Record, teach bool) (n int, err error) {
	sink, err := export.NewCSV(e.out, e.steps)
	if err != nil {
		return 0, err
	}
	horse := func(l exam.HorseLine) error { n++; return sink.Horse(l) }
	visit := func(list []exam.Entry) error { n += len(list); return sink.Visit(list) }
	if !teach {
		err = r.Walk(ctx, horse, visit, func(l exam.RoundLine) error { n++; return sink.Round(l) })
	} else {
		err = eachCopy(ctx, r, func(l exam.HorseLine, visits [][]exam.Entry) error {
			if err := horse(l); err != nil {
				return err
			}
			for _, list := range visits {
				if err := visit(list); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err != nil {
		return n, err
	}
	return n, sink.Close()
}

// exportFHIR writes one document a line for each visit.
func (e *env) exportFHIR(ctx context.Context, r *storage.Record) (int, error) {
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
		progress.Say(ctx, "visits", len(visits)-i, len(visits))
	}
	return len(visits), nil
}

// eachCopy makes copies from which nobody is to be known again, horse by horse.
func eachCopy(ctx context.Context, r *storage.Record, take func(exam.HorseLine, [][]exam.Entry) error) error {
	horses, err := r.Horses()
	if err != nil {
		return err
	}
	t := &export.Teaching{Shift: shift, NewID: export.NewID}
	for i, h := range horses {
		progress.Say(ctx, "horses", i+1, len(horses))
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
		if err := take(t.Copy(visits)); err != nil {
			return err
		}
	}
	return nil
}

// teachingLog makes a log of the copies, of a key that nobody keeps.
func teachingLog(ctx context.Context, r *storage.Record, take func(signedlog.Segment) error) error {
	_, key, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return fmt.Errorf("make a key for the copies: %w", err)
	}
	log := export.NewLog(key, take)
	if err := eachCopy(ctx, r, log.Horse); err != nil {
		return err
	}
	return log.Close()
}

// shift is a span of 30 to 700 days back, from the system's own randomness.
func shift() int {
	var b [4]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic(err) // Go's reader never fails on the systems we build for
	}
	return -30 - int(binary.BigEndian.Uint32(b[:])%671)
}

// importExport reads back what export wrote as JSON lines.
func (e *env) importExport(ctx context.Context, file string, f importFlags) error {
	head := func(h export.Head) error {
		if h.Teaching && !f.copies {
			return errors.New("this is a copy made for teaching, and its horses are no horses of this practice: " +
				"nothing was imported. --teaching takes it in all the same; --data names a record of its own")
		}
		return nil
	}
	// Its beginning is looked at first, so that a file that is none makes no record.
	if file != "-" {
		err := e.withInput(file, func(in io.Reader, name string) error {
			return export.Read(in, name, head, func(signedlog.Segment) error { return errSeen })
		})
		if err != nil && !errors.Is(err, errSeen) {
			return fmt.Errorf("%w; nothing was imported", err)
		}
	}
	return e.record(func(r *storage.Record) error {
		done, err := r.Adopt(ctx, func(take func(signedlog.Segment) error) error {
			return e.withInput(file, func(in io.Reader, name string) error { return export.Read(in, name, head, take) })
		})
		for _, text := range done.Aside {
			e.problem("%s", text)
		}
		if done.Settings > 0 {
			if text := e.cameOwn(r); text != "" {
				e.problem("%s", text)
			}
		}
		for _, b := range done.Branches {
			e.problem("%s", b)
		}
		whole := err == nil && len(done.Aside) == 0
		if said := e.sayAdopted(done, f.asJSON, whole); said != nil {
			return said
		}
		switch {
		case err != nil:
			return fmt.Errorf("only part of the export was read; that part is saved: %w", err)
		case !whole:
			return fmt.Errorf("%d parts of the export were set aside, the rest is written", len(done.Aside))
		}
		return nil
	})
}

// adoptedJSON is what came in of an export.
type adoptedJSON struct {
	Schema     string `json:"schema"`
	Visits     int    `json:"visits"`
	NewHorses  int    `json:"new_horses"`
	Rehearsals int    `json:"rehearsals"`
	Entries    int    `json:"entries"`
	Rounds     int    `json:"rounds"`
	Settings   int    `json:"settings"`    // lines about settings of the practice
	Passed     int    `json:"passed_over"` // lines that were in the record already
}

// sayAdopted says what came in of an export; as JSON only where all of it did, because
// anything else ends with the object of an error.
func (e *env) sayAdopted(done storage.Adopted, asJSON, whole bool) error {
	switch {
	case !asJSON:
		settings := ""
		if done.Settings > 0 {
			settings = ", " + notation.Counted(done.Settings, "setting") + " of the practice"
		}
		return e.printf("%d horses, %d visits, %d rehearsals, %d entries, %d lines of rounds%s saved in the record. %d lines were in it already\n",
			done.Horses, done.Visits, done.Rehearsals, done.Entries, done.Rounds, settings, done.Known)
	case whole:
		return e.printJSON(adoptedJSON{"loosebox/import/1", done.Visits, done.Horses, done.Rehearsals, done.Entries, done.Rounds, done.Settings, done.Known})
	}
	return nil
}

// errSeen ends the look at a file's beginning.
var errSeen = errors.New("seen")
