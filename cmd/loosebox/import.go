package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/intake/charset"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// importFlags are those of the import of a spreadsheet.
type importFlags struct {
	mapping, by, charset, sheet, rest string
	dryRun, strict, propose, asJSON   bool
	copies                            bool // of visits, made for teaching
}

func (e *env) importCommand() *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use: "import FILE [--map MAP.yaml]", Short: "import earlier exams from a spreadsheet or an export", Args: cobra.ExactArgs(1),
		Long: `import reads the JSON lines that loosebox export wrote, with all signatures. It
skips what is in the record already. It sets aside what does not fit, with the
reason, and imports the rest.

It reads FHIR R4 in JSON too: one document, or one a line as export writes them.
It takes animals, findings, notes, and vaccinations as past doses. It matches
horses by identity or chip. What was decided, given and drawn there stays there.
So does an unfinished visit. It lists all that it does not take.

It also reads spreadsheets: .xlsx, .ods, or CSV in any character set. A map says
what each column means. In a terminal, import FILE proposes a map and asks about
each column. Elsewhere --propose prints the map.

  loosebox import yard.xlsx --propose > yard.map.yaml
  loosebox import yard.xlsx --map yard.map.yaml

A map looks like this:

  horse:
    kind: pony                   # of every horse, where no column says so
  visit:
    by: Sue Hart                 # of every visit, where no column says so
  columns:                       # every column of the file, once
    Name: horse name
    Date: {is: date, format: DD/MM/YYYY}
    Temp: {step: temp.rectal, unit: F}
    Gums: {step: gum.colour, values: {P: pink, W: white}, else: as written}
    TPR: {steps: [temp.rectal, heart.rate, breath.rate], split: /}
    Remarks: {note: remarks}
    Invoice: ignore

A column is a step, or one of these:
  ignore, note, horse name, kind, sex, breed, colour, owner, place,
  chip, birth, age, age class, date, time, by, reason, at rest
An empty field of a step becomes a step not done.

A file can have one finding in each row. Its columns are the step, the value and,
if needed, the site and the unit. Rows with equal other columns are one visit:

  Test: {is: step, values: {T: temp.rectal, HR: heart.rate, PCV: note}}
  Result: value
  Unit: unit

Horses are matched by chip number, or by name and kind. Visits that are in the
record already are skipped, so a longer sheet can be imported again. A wrong row
does not stop the others. It goes to a file with the same columns and the reason.
Correct it there and import that file. With --strict nothing is imported while any
row is wrong. imports lists all imports; imports --take-back voids one.`,
		RunE: func(c *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			switch {
			case f.propose && f.mapping != "":
				return usage("--propose makes a map; it takes none")
			case f.propose:
				return e.proposeMap(args[0], f)
			case f.mapping != "":
				return e.importSheet(c.Context(), args[0], f)
			}
			return e.importWithoutMap(c.Context(), args[0], f)
		},
	}
	c.Flags().StringVar(&f.mapping, "map", "", "the map of the sheet (YAML)")
	c.Flags().BoolVar(&f.propose, "propose", false, "look at the sheet and print a map for it; nothing is written")
	c.Flags().BoolVar(&f.dryRun, "dry-run", false, "show what would be imported; save nothing")
	c.Flags().BoolVar(&f.strict, "strict", false, "import nothing while any row is wrong")
	byFlag(c, &f.by, "who imports")
	c.Flags().StringVar(&f.charset, "charset", "", "the character set of the file, if it cannot be detected")
	c.Flags().StringVar(&f.sheet, "sheet", "", "the sheet, where the file has several")
	c.Flags().StringVar(&f.rest, "rest", "", "file for the rows that are not imported (default: beside FILE)")
	jsonFlag(c, &f.asJSON)
	c.Flags().BoolVar(&f.copies, "teaching", false, "import copies made for teaching anyway")
	return c
}

// how is what the flags say of the file, over what its map says.
func (f importFlags) how(h intake.How) (intake.How, error) {
	if f.charset != "" {
		n, ok := charset.Named(f.charset)
		if !ok {
			return h, usage("%q is no character set that is known here; it is one of %v", notation.CleanLine(f.charset, 30), charset.Names())
		}
		h.Charset = n
	}
	if f.sheet != "" {
		h.Sheet = f.sheet
	}
	return h, nil
}

// readMapping reads a map and checks the routine that it names.
func (e *env) readMapping(mapping string) (intake.Map, error) {
	var m intake.Map
	err := e.withInput(mapping, func(in io.Reader, name string) (err error) {
		m, err = intake.ReadMap(in, name, e.steps)
		return err
	})
	if err != nil {
		return m, err
	}
	return m, e.checkRoutine(m)
}

func (e *env) checkRoutine(m intake.Map) error {
	if name := m.Routine(); name != "" {
		if _, ok := steps.Find(e.routines, name); !ok {
			return fmt.Errorf("the mapping names the routine %q, which is not there; nothing was saved", notation.CleanLine(name, 40))
		}
	}
	return nil
}

// reading reads a sheet by its map.
func (e *env) reading(file string, m intake.Map, f importFlags) (*intake.Result, error) {
	how, err := f.how(m.How)
	if err != nil {
		return nil, err
	}
	m.How, m.Taker = how, f.by
	m.Latest = e.now().Truncate(0)
	m.Zone = m.Latest.Location()
	var r *intake.Result
	err = e.withInput(file, func(in io.Reader, name string) (err error) {
		r, err = m.Read(in, name)
		return err
	})
	if err == nil && f.strict {
		err = r.Strict()
	}
	return r, err
}

// inExisting reads the record where there is one, and gives nil where there is none; nothing is made.
func (e *env) inExisting(work func(exam.Store) error) error {
	err := e.recordIn(e.dataDir(), storage.Options{ReadOnly: true, Beside: true}, func(r *storage.Record) error { return work(r) })
	if errors.Is(err, fs.ErrNotExist) {
		return work(nil)
	}
	return err
}
