package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// sliceVisits is how many visits go into one transaction. What is written is there; an import that ends early goes on with
// the same command, because what is in the record is passed over.
const sliceVisits = 1000

// importSheet takes a sheet in by its map.
func (e *env) importSheet(ctx context.Context, file string, f importFlags) error {
	m, err := e.readMapping(f.mapping)
	if err != nil {
		return err
	}
	return e.importMapped(ctx, file, m, f)
}

// taker is who imports: who is named, or the person of this machine; empty where neither is known.
func (e *env) taker(by string) (string, error) {
	if by != "" {
		return notation.CleanLine(by, 0), nil
	}
	err := e.inExisting(func(store exam.Store) error {
		if store == nil {
			return nil
		}
		set, err := store.Settings()
		by = set.Person
		return err
	})
	return by, err
}

// importMapped takes a sheet in.
func (e *env) importMapped(ctx context.Context, file string, m intake.Map, f importFlags) error {
	by, err := e.taker(f.by)
	if err != nil {
		return err
	}
	f.by = by
	r, err := e.reading(file, m, f)
	if err != nil {
		return err
	}
	if f.dryRun {
		return e.inExisting(func(store exam.Store) error {
			p, err := planImport(store, r, m.Answered, e.steps)
			if err != nil {
				return err
			}
			return e.printImport(p, importDone{}, f, "would be saved; --dry-run saved nothing")
		})
	}
	if len(r.Exams) == 0 { // nothing to make a record for
		return e.printImport(&importPlan{Result: r, bad: r.Bad}, e.writeRest(file, r, r.Bad, f), f, "")
	}
	return e.record(func(rec *storage.Record) error {
		p, err := planImport(rec, r, m.Answered, e.steps)
		if err != nil {
			return err
		}
		rest := e.writeRest(file, r, p.bad, f)
		if rest.err != nil {
			return rest.err
		}
		done, err := e.writePlan(ctx, rec, p)
		done.rest = rest.rest
		if err != nil {
			return fmt.Errorf("the import stopped: %d of %d visits are in the record, whole. Import again; these are skipped. %w", done.visits, p.visits, err)
		}
		return e.printImport(p, done, f, "saved in the record")
	})
}

// importDone is what an import wrote.
type importDone struct {
	visits, found, notDone, comments int
	rest                             string // the file of the rows that did not come in
	err                              error
}

func (d *importDone) count(entries []exam.Entry) {
	for _, e := range entries {
		switch e.Kind {
		case exam.EntryFinding:
			d.found++
		case exam.EntryNotDone:
			d.notDone++
		case exam.EntryNote:
			d.comments++
		default: // an opening, what was before, a closing
		}
	}
}

// writePlan writes the visits in slices, and says what is written.
func (e *env) writePlan(ctx context.Context, rec *storage.Record, p *importPlan) (importDone, error) {
	var done, slice importDone
	var batch []storage.Imported
	bar := e.bar("importing", p.visits)
	defer bar.end()
	flush := func() error {
		if len(batch) == 0 {
			return nil
		}
		if err := rec.Import(ctx, batch); err != nil {
			return err
		}
		done.visits, done.found, done.notDone, done.comments = done.visits+slice.visits, done.found+slice.found, done.notDone+slice.notDone, done.comments+slice.comments
		batch, slice = nil, importDone{}
		bar.at(done.visits)
		return nil
	}
	for _, g := range p.groups {
		one := storage.Imported{Horse: g.horse}
		if one.Horse.ID == "" { // known by it in the next slice
			id, err := uuid.NewV7()
			if err != nil {
				return done, err
			}
			one.Horse.ID = exam.HorseID(id.String())
		}
		for _, i := range g.exams {
			v := p.Visit(i)
			one.Entries = append(one.Entries, v.Entries)
			slice.visits++
			slice.count(v.Entries)
			if slice.visits == sliceVisits {
				batch = append(batch, one)
				one.Entries = nil
				if err := flush(); err != nil {
					return done, err
				}
			}
		}
		if len(one.Entries) > 0 {
			batch = append(batch, one)
		}
	}
	return done, flush()
}

// writeRest writes the rows that do not come in beside the sheet, into a file that is not there yet.
func (e *env) writeRest(file string, r *intake.Result, bad []intake.BadRow, f importFlags) importDone {
	if len(bad) == 0 || f.dryRun {
		return importDone{}
	}
	var name string
	var err error
	if f.rest != "" {
		name = f.rest
		var out *os.File
		if out, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600); err == nil {
			err = errors.Join(r.WriteRest(out, bad), out.Close())
		}
	} else {
		base := strings.TrimSuffix(file, filepath.Ext(file))
		if file == "-" {
			base = "stdin"
		}
		name, err = saveNew(base, "-to-correct.csv", func(w io.Writer) error { return r.WriteRest(w, bad) })
	}
	if err != nil {
		err = fmt.Errorf("the file for wrong rows cannot be written, so nothing was imported; --rest names another file: %w", err)
	}
	return importDone{rest: name, err: err}
}
