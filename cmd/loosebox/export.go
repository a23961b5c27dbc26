package main

import (
	"context"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/inorder"
	"loosebox/exam/notation"
	"loosebox/exam/progress"
	"loosebox/exam/report/fhir"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// teaching is the only other reader of an export than the practice itself.
const teaching = "teaching"

func (e *env) exportCommand() *cobra.Command {
	var as, reader, file string
	var each strings.Builder
	for _, f := range forms() {
		if f.record != nil {
			fmt.Fprintf(&each, "  %-6s %s\n", f.name, f.says)
		}
	}
	c := &cobra.Command{
		Use: "export -o FILE", Short: "everything out: JSON lines, CSV or FHIR R4", Args: cobra.NoArgs,
		Long: `Writes every visit of every horse into one file, which must not exist yet.

` + each.String() + `
--for teaching removes owner, location, names, chip and every typed text. It moves
all dates of a horse by the same number of days.`,
		RunE: func(c *cobra.Command, _ []string) error {
			f, ok := formOf(as, forRecord)
			switch {
			case file == "":
				return usage("-o names the file that is written")
			case !ok:
				return usage("an export is %s, not %q", formNames(" or ", forRecord), notation.CleanLine(as, 20))
			case reader != "" && reader != teaching:
				return usage("an export is whole, or --for teaching; not for %q", notation.CleanLine(reader, 20))
			case reader == teaching && !f.teaches:
				return usage("an export for teaching is %s", formNames(" or ", forTeaching))
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error {
				return e.export(c.Context(), r, f, reader == teaching, file)
			})
		},
	}
	c.Flags().StringVar(&as, "as", formJSON, formNames(" or ", forRecord))
	c.Flags().StringVar(&reader, "for", "", "teaching: without names and dates")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) export(ctx context.Context, r *storage.Record, f form, teach bool, file string) error {
	n := 0
	ctx, end := e.progress(ctx, "exporting")
	err := e.toFile(file, func() (err error) {
		n, err = f.record(e, ctx, r, teach)
		return err
	})
	end()
	if err != nil {
		return fmt.Errorf("nothing was exported: %w", err)
	}
	return e.printf("%d %s written to %s\n", n, f.counted, file)
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
		err = storage.EachSegment(ctx, r, export.TextOf, func(s signedlog.Segment, t export.SegmentText) error {
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

// exportFHIR writes one document a line for each visit, horse by horse, a horse's oldest first.
func (e *env) exportFHIR(ctx context.Context, r *storage.Record, _ bool) (n int, err error) {
	set, err := r.Settings()
	if err != nil {
		return 0, err
	}
	type ofVisit struct {
		visit exam.Visit
		past  []exam.Visit // every visit of its horse, read once for all of them
	}
	documents := inorder.OnAll(func(v ofVisit) ([]byte, error) {
		p, err := e.pageOf(r, v.visit, v.past, set)
		if err != nil {
			return nil, err
		}
		return fhir.Document(p, e.judge)
	}, func(document []byte) error {
		n++
		return e.printf("%s\n", document)
	})
	err = documents.End(eachPast(ctx, r, func(past []exam.Visit) error {
		for _, v := range slices.Backward(past) {
			if err := documents.Put(ofVisit{v, past}); err != nil {
				return err
			}
		}
		return nil
	}))
	return n, err
}

// eachPast gives take the visits of each horse that has any, newest first.
func eachPast(ctx context.Context, r *storage.Record, take func(past []exam.Visit) error) error {
	horses, err := r.Horses()
	if err != nil {
		return err
	}
	for i, h := range horses {
		progress.Say(ctx, "horses", i+1, len(horses))
		past, err := r.Past(h.Horse.ID, 0)
		if err != nil {
			return err
		}
		if len(past) == 0 {
			continue
		}
		if err := take(past); err != nil {
			return err
		}
	}
	return nil
}

// eachCopy makes copies from which nobody is to be known again, horse by horse.
func eachCopy(ctx context.Context, r *storage.Record, take func(exam.HorseLine, [][]exam.Entry) error) error {
	t := &export.Teaching{Shift: shift, NewID: export.NewID}
	return eachPast(ctx, r, func(past []exam.Visit) error {
		var visits [][]exam.Entry
		for _, v := range slices.Backward(past) {
			entries, err := r.Entries(v.ID)
			if err != nil {
				return err
			}
			visits = append(visits, entries)
		}
		return take(t.Copy(visits))
	})
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

// errSeen ends the look at a file's beginning.
var errSeen = errors.New("seen")
