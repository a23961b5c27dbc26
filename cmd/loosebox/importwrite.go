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
			return e.printImport(p, importDone{}, f, "would be written; --dry-run wrote nothing")
		})
	}
	if len(r.Exams) == 0 { // nothing to make a record for
		return e.printImport(&importPlan{Reading: r, bad: r.Bad}, e.writeRest(file, r, r.Bad, f), f, "")
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
			return fmt.Errorf("the import stopped: %d of %d visits are in the record, whole, and the others are not. Import again: what is there is passed over. %w", done.visits, p.visits, err)
		}
		return e.printImport(p, done, f, "written to the record")
	})
}

// importDone is what an import wrote.
type importDone struct {
	visits, found, notDone, notes int
	rest                          string // the file of the rows that did not come in
	err                           error
}

func (d *importDone) count(entries []exam.Entry) {
	for _, e := range entries {
		switch e.Kind {
		case exam.EntryFinding:
			d.found++
		case exam.EntryNotDone:
			d.notDone++
		case exam.EntryNote:
			d.notes++
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
		done.visits, done.found, done.notDone, done.notes = done.visits+slice.visits, done.found+slice.found, done.notDone+slice.notDone, done.notes+slice.notes
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
func (e *env) writeRest(file string, r *intake.Reading, bad []intake.BadRow, f importFlags) importDone {
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
		err = fmt.Errorf("the rows that do not come in cannot be written, so nothing was imported; --rest names another file: %w", err)
	}
	return importDone{rest: name, err: err}
}

// importJSON is what an import did.
type importJSON struct {
	Schema    string         `json:"schema"`
	Visits    int            `json:"visits"` // that came in
	NewHorses int            `json:"new_horses"`
	Horses    int            `json:"known_horses"`
	Passed    int            `json:"passed_over"` // in the record already
	Changed   []changedVisit `json:"changed"`
	NotIn     []notInJSON    `json:"not_in"`
	Rest      string         `json:"to_correct,omitempty"` // the file of the rows that did not come in
	DryRun    bool           `json:"dry_run"`
}

type notInJSON struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// maxSaid is how many rows and visits of a kind are said one by one.
const maxSaid = 20

// printImport says what came in, what did not and why.
func (e *env) printImport(p *importPlan, done importDone, f importFlags, what string) error {
	if done.err != nil {
		return done.err
	}
	if f.dryRun {
		for _, g := range p.groups {
			for _, i := range g.exams {
				done.count(p.Visit(i).Entries)
			}
		}
	}
	e.notices(p.Notices)
	if f.asJSON {
		out := importJSON{Schema: "loosebox/import/1", Visits: p.visits, NewHorses: p.fresh, Horses: p.known, Passed: p.passed, Changed: p.changed, Rest: done.rest, DryRun: f.dryRun}
		for _, b := range p.bad {
			out.NotIn = append(out.NotIn, notInJSON{b.Line, b.Why()})
		}
		return e.printJSON(out)
	}
	e.sayBad(p.bad, done.rest)
	for i, c := range p.changed {
		if i == maxSaid {
			e.say(fmt.Sprintf("and %d more that differ", len(p.changed)-i))
			break
		}
		e.say(fmt.Sprintf("line %d differs from the visit of %s at %s: %s. The record is as it was.", c.Line, c.Horse, c.At, strings.Join(c.Differ, "; ")))
	}
	if p.visits+p.passed+len(p.changed) == 0 {
		return fmt.Errorf("no exam of the sheet came in; nothing was written to the record")
	}
	horses := notation.Counted(p.fresh, "new horse")
	if p.known > 0 {
		horses += fmt.Sprintf(", %d in the record already", p.known)
	}
	if p.visits == 0 {
		if err := e.printf("Nothing new came in.\n"); err != nil {
			return err
		}
	} else if err := e.printf("%s (%s): %s, %s not done, %s: %s\n", notation.Counted(p.visits, "visit"), horses,
		notation.Counted(done.found, "finding"), notation.Counted(done.notDone, "step"), notation.Counted(done.notes, "note"), what); err != nil {
		return err
	}
	var more []string
	if p.passed > 0 {
		more = append(more, fmt.Sprintf("%s in the record already, passed over", notation.Counted(p.passed, "visit")))
	}
	if len(p.changed) > 0 {
		more = append(more, fmt.Sprintf("%s not taken, because the record has another one at that time", notation.Counted(len(p.changed), "visit")))
	}
	if len(p.bad) > 0 {
		more = append(more, fmt.Sprintf("%s did not come in", notation.Counted(len(p.bad), "row")))
	}
	if len(more) == 0 {
		return nil
	}
	return e.printf("%s\n", strings.Join(more, "\n"))
}

// sayBad says which rows did not come in and where they are.
func (e *env) sayBad(bad []intake.BadRow, rest string) {
	for i, b := range bad {
		if i == maxSaid {
			e.say(fmt.Sprintf("and %d more rows that do not come in", len(bad)-i))
			break
		}
		e.say(notation.CleanLine(fmt.Sprintf("line %d: %s", b.Line, b.Why()), 500))
	}
	if rest != "" {
		e.say(fmt.Sprintf("The rows that did not come in are in %s, each with the reason. Correct them there, and import that file with the same map.", rest))
	}
}
