package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/storage"
)

func (e *env) importCommand() *cobra.Command {
	var mapping string
	var dryRun, again bool
	c := &cobra.Command{
		Use: "import FILE [--map MAP.yaml]", Short: "earlier exams from a spreadsheet, or an export, into the record", Args: cobra.ExactArgs(1),
		Long: `Without --map, import reads a file that loosebox export wrote (JSON lines or CSV)
and makes the same record of it, line for line; what is in the record already is
passed over.

With --map, import reads earlier exams from a spreadsheet saved as CSV, one exam a row, and
writes them to the record, all or none. The mapping says what every column means:

  horse:
    kind: pony                   # of every horse, where no column says so
  visit:
    by: Sue Hart                 # of every visit, where no column says so
    routine: tpr-recheck
  columns:                       # every column of the file, once
    Name: horse name
    Date: {is: date, format: DD/MM/YYYY}
    Temp: {step: temp.rectal, unit: F}
    Gums: {step: gum.colour, values: {P: pink, W: white}}
    Remarks: {note: remarks}
    Invoice: ignore

A column holds a step, or is one of: ignore, note, horse name, kind, sex, breed,
colour, owner, place, chip, birth, age class, date, by, reason, at rest. A field
that is mapped to a step and empty becomes a step not done.

A file with one finding a row has columns that are the step, the value and, where
it needs them, the site and the unit; rows that agree in all others are one visit:

  Test: {is: step, values: {T: temp.rectal, HR: heart.rate}}
  Result: value
  Unit: unit

Dates without a format are read as 2019-05-04 or 4 May 2019; of 25/03/2019 the file
must show which number is the day, else the mapping is asked for it.

A horse of the record with the same chip number, or the same name and kind, takes
the visits. A file that was imported before is refused unless --again is given.`,
		RunE: func(c *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			switch {
			case mapping == "" && (dryRun || again):
				return usage("--dry-run and --again belong to a spreadsheet: --map names the file that says what its columns mean")
			case mapping == "":
				return e.importExport(c.Context(), args[0])
			}
			visits, err := e.readImport(args[0], mapping)
			if err != nil {
				return err
			}
			if dryRun {
				return e.tryImport(visits, again)
			}
			return e.record(func(r *storage.Record) error { return e.importVisits(c.Context(), r, visits, again) })
		},
	}
	c.Flags().StringVar(&mapping, "map", "", "the mapping file (YAML)")
	c.Flags().BoolVar(&dryRun, "dry-run", false, "say what would be written and write nothing")
	c.Flags().BoolVar(&again, "again", false, "take visits that are in the record already a second time")
	return c
}

// readImport reads mapping and spreadsheet.
func (e *env) readImport(file, mapping string) ([]intake.Visit, error) {
	var m intake.Map
	err := e.withInput(mapping, func(in io.Reader, name string) (err error) {
		m, err = intake.ReadMap(in, name, e.steps)
		return err
	})
	if err != nil {
		return nil, err
	}
	if name := m.Routine(); name != "" {
		if _, ok := steps.Find(e.routines, name); !ok {
			return nil, fmt.Errorf("the mapping names the routine %q, which is not there; nothing was written", notation.CleanLine(name, 40))
		}
	}
	now := e.now()
	m.Zone, m.Latest = now.Location(), now
	var visits []intake.Visit
	err = e.withInput(file, func(in io.Reader, name string) (err error) {
		visits, err = m.Apply(in, name)
		return err
	})
	return visits, err
}

// tryImport says what an import would write. The record is opened for reading
// only, and not made where there is none.
func (e *env) tryImport(visits []intake.Visit, again bool) error {
	report := func(store exam.Store) error {
		p, err := planImport(store, visits, again)
		if err != nil {
			return err
		}
		return e.printImport(p, "would be written; --dry-run wrote nothing")
	}
	err := e.recordIn(e.dataDir(), storage.Options{ReadOnly: true}, func(r *storage.Record) error { return report(r) })
	if errors.Is(err, fs.ErrNotExist) {
		return report(nil)
	}
	return err
}

func (e *env) importVisits(ctx context.Context, r *storage.Record, visits []intake.Visit, again bool) error {
	p, err := planImport(r, visits, again)
	if err != nil {
		return err
	}
	if err := r.Import(ctx, p.batch); err != nil {
		return fmt.Errorf("the import was given up and the record is as it was: %w", err)
	}
	return e.printImport(p, "written to the record")
}

// plan is what an import writes.
type plan struct {
	batch          []storage.Imported
	fresh, known   int // horses new and in the record already
	visits         int
	found, notDone int
	notes          int
	notices        []string
}

// planImport sets the visits beside the record, which may be nil for none, and
// refuses what is in it already.
func planImport(store exam.Store, visits []intake.Visit, again bool) (*plan, error) {
	p := &plan{visits: len(visits)}
	var all []exam.Found
	if store != nil {
		var err error
		if all, err = store.Horses(); err != nil {
			return nil, err
		}
		if err := refuseSameFile(store, visits, again); err != nil {
			return nil, err
		}
	}
	for _, group := range intake.ByHorse(visits) {
		one := storage.Imported{Horse: group.Horse}
		known, ok, err := knownHorse(all, group)
		if err != nil {
			return nil, err
		}
		if ok {
			p.known++
			one.Horse = known
			if err := refuseSameVisits(store, known, group, again); err != nil {
				return nil, err
			}
		} else {
			p.fresh++
		}
		for _, v := range group.Visits {
			one.Entries = append(one.Entries, v.Entries)
			p.count(v)
		}
		p.batch = append(p.batch, one)
	}
	return p, nil
}

func (p *plan) count(v intake.Visit) {
	p.notices = append(p.notices, v.Notices...)
	for _, entry := range v.Entries {
		switch entry.Kind {
		case exam.EntryFinding:
			p.found++
		case exam.EntryNotDone:
			p.notDone++
		case exam.EntryNote:
			p.notes++
		case exam.EntryOpened, exam.EntryContext, exam.EntryClosed, exam.EntryHandedOff, exam.EntryDecision,
			exam.EntryInjection, exam.EntryDraw, exam.EntryWatch, exam.EntryRead, exam.EntryAdded, exam.EntryStruck:
		}
	}
}

// refuseSameFile looks for a visit that came from the same bytes.
func refuseSameFile(store exam.Store, visits []intake.Visit, again bool) error {
	if again {
		return nil
	}
	past, err := store.Recent(0)
	if err != nil {
		return err
	}
	for _, v := range past {
		if intake.SameFile(v.Source, visits[0].Source()) {
			return fmt.Errorf("this file was imported before, as %s; nothing was written. --again takes it a second time", notation.CleanLine(v.Source, 0))
		}
	}
	return nil
}

// refuseSameVisits looks for visits of the horse at the very times of the file.
func refuseSameVisits(store exam.Store, h exam.Horse, group intake.HorseVisits, again bool) error {
	if again {
		return nil
	}
	past, err := store.Past(h.ID, 0)
	if err != nil {
		return err
	}
	for _, v := range group.Visits {
		for _, old := range past {
			if old.OpenedAt.Equal(v.At()) {
				return fmt.Errorf("line %d: the record has a visit of %s at that time already (%s); nothing was written. --again takes all of the file all the same",
					v.Line, h.Name, v.At().Format("2006-01-02 15:04"))
			}
		}
	}
	return nil
}

// knownHorse finds the horse of the record that a horse of the file is: by chip
// number, or by name where no more than one has it and nothing speaks against it.
func knownHorse(all []exam.Found, group intake.HorseVisits) (exam.Horse, bool, error) {
	want, line := group.Horse, group.Visits[0].Line
	var named []exam.Horse
	for _, f := range all {
		h := f.Horse
		bothChipped := h.Chip != "" && want.Chip != ""
		switch {
		case bothChipped && h.Chip == want.Chip:
			return h, true, nil
		case !bothChipped && strings.EqualFold(h.Name, want.Name):
			named = append(named, h)
		}
	}
	switch {
	case len(named) == 0:
		return exam.Horse{}, false, nil
	case len(named) > 1:
		return exam.Horse{}, false, fmt.Errorf("line %d: %d horses of the record are called %q; nothing was written. A column with the chip number tells them apart",
			line, len(named), want.Name)
	case named[0].Kind != want.Kind:
		return exam.Horse{}, false, fmt.Errorf("line %d: %s is a %s in the file and a %s in the record; nothing was written. Two horses need two names, or chip numbers",
			line, want.Name, want.Kind, named[0].Kind)
	case named[0].Owner != "" && want.Owner != "" && !strings.EqualFold(named[0].Owner, want.Owner):
		return exam.Horse{}, false, fmt.Errorf("line %d: %s belongs to another owner in the record; nothing was written. Two horses need two names, or chip numbers",
			line, want.Name)
	}
	return named[0], true, nil
}

func (e *env) printImport(p *plan, done string) error {
	e.notices(p.notices)
	horses := notation.Counted(p.fresh, "new horse")
	if p.known > 0 {
		horses += fmt.Sprintf(", %d in the record already", p.known)
	}
	return e.printf("%s (%s): %s, %s not done, %s: %s\n", notation.Counted(p.visits, "visit"), horses,
		notation.Counted(p.found, "finding"), notation.Counted(p.notDone, "step"), notation.Counted(p.notes, "note"), done)
}
