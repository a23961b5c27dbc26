package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// mostFHIR is the longest document of FHIR that is read, mostOfAll the longest file of them, in bytes.
const (
	mostFHIR  = 20 << 20
	mostOfAll = 512 << 20
)

// importFHIR takes animals, their findings and their past doses out of FHIR R4. What is in the record already is passed
// over; what is not understood is listed.
func (e *env) importFHIR(ctx context.Context, file string, f importFlags) error {
	var found foreign
	var from intake.ImportedFrom
	err := e.withInput(file, func(in io.Reader, name string) (err error) {
		if found, err = e.readFHIR(ctx, in); err != nil {
			return fmt.Errorf("%s cannot be read as FHIR; nothing was saved: %w", notation.CleanLine(name, 0), err)
		}
		from = intake.ImportedFrom{File: name, Digest: found.digest, At: e.now().Truncate(0)}
		return nil
	})
	if err != nil {
		return err
	}
	return e.record(func(r *storage.Record) error {
		by, err := e.person(r, f.by)
		if err != nil {
			return err
		}
		from.By = by
		var batch []storage.Imported
		t := fhirTally{left: found.left}
		for _, a := range found.animals {
			one, err := e.fhirAnimal(r, a, &from, by, &t)
			if err != nil {
				return err
			}
			if one.Horse.Name == "" { // not taken, and said
				continue
			}
			batch = append(batch, one)
		}
		if f.strict && len(t.left) > 0 {
			return fmt.Errorf("nothing was written, as --strict takes all or nothing; not understood: %s", strings.Join(t.left, "; "))
		}
		if f.rest != "" && !f.dryRun && len(found.rest) > 0 {
			if err := e.toFile(f.rest, func() error { return e.printf("%s\n", bytes.Join(found.rest, []byte("\n"))) }); err != nil {
				return err
			}
			t.rest = f.rest
		}
		if !f.dryRun {
			told, end := e.progress(ctx, "importing")
			err := r.Import(told, batch)
			end()
			if err != nil {
				return fmt.Errorf("nothing was saved: %w", err)
			}
		}
		return e.printFHIRImport(t, f)
	})
}

// fhirTally counts what comes in and what does not.
type fhirTally struct {
	newHorses, horses, visits, findings, doses, passed int
	left                                               []string
	rest                                               string // the file of what was not taken
}

// fhirJSON is what an import of FHIR did.
type fhirJSON struct {
	Schema    string   `json:"schema"`
	NewHorses int      `json:"new_horses"`
	Horses    int      `json:"known_horses"`
	Visits    int      `json:"visits"`
	Answers   int      `json:"answers"`
	Doses     int      `json:"past_doses"`
	Passed    int      `json:"passed_over"`
	NotIn     []string `json:"not_in"`
	Rest      string   `json:"to_correct,omitempty"`
	DryRun    bool     `json:"dry_run"`
}

// fhirAnimal is an animal of a file with what the record does not have of it yet.
func (e *env) fhirAnimal(r *storage.Record, a fhir.ForeignAnimal, from *intake.ImportedFrom, by string, t *fhirTally) (storage.Imported, error) {
	one := storage.Imported{Horse: a.Horse, By: by, At: e.now()}
	known, err := knownAnimal(r, a.Horse)
	if err != nil {
		return one, err
	}
	var past []exam.Visit
	if known != nil && (known.Kind != a.Horse.Kind || !strings.EqualFold(known.Name, a.Horse.Name)) {
		t.left = append(t.left, fmt.Sprintf("%s, %s: the record has this identity or chip as %s, %s. Nothing of it is imported: join them in the record, or have the file corrected",
			notation.CleanLine(a.Horse.Name, 40), a.Horse.Kind, notation.CleanLine(known.Name, 40), known.Kind))
		return storage.Imported{}, nil
	}
	if known != nil {
		t.horses++
		one.Horse = *known
		if past, err = r.Past(known.ID, 0); err != nil {
			return one, err
		}
	} else {
		t.newHorses++
	}
	for _, v := range a.Visits {
		from.Line++
		visit, ok := e.fhirVisit(v, one.Horse, past, *from, t)
		if !ok {
			t.passed++
			continue
		}
		t.visits++
		one.Entries = append(one.Entries, visit)
	}
	from.Line++
	doses := []exam.Entry{{Kind: exam.EntryOpened, At: e.now(), By: by, Opening: &exam.Opening{Horse: one.Horse, Routine: exam.RoutinePapers, Source: from.String()}}}
	for _, l := range a.Doses {
		if hasDose(past, l) {
			t.passed++
			continue
		}
		l.Number = len(doses)
		doses = append(doses, exam.Entry{Kind: exam.EntryInjection, At: e.now(), By: by, Injection: &l})
	}
	if n := len(doses) - 1; n > 0 {
		t.doses += n
		one.Entries = append(one.Entries, append(doses, exam.Entry{Kind: exam.EntryClosed, At: e.now(), By: by}))
	}
	return one, nil
}

// fhirVisit are the lines of a visit of a file; false for one that the record has.
func (e *env) fhirVisit(v fhir.ForeignVisit, horse exam.Horse, past []exam.Visit, from intake.ImportedFrom, t *fhirTally) ([]exam.Entry, bool) {
	if slices.ContainsFunc(past, func(p exam.Visit) bool {
		return v.ID != "" && p.ID == v.ID || p.Routine != exam.RoutinePapers && v.Routine != exam.RoutinePapers && p.OpenedAt.Unix() == v.At.Unix()
	}) {
		return nil, false
	}
	routine := v.Routine
	if _, ok := steps.Find(e.routines, routine); !ok && routine != exam.RoutinePapers {
		routine = "full-exam"
	}
	v.Horse.ID = horse.ID
	lines := []exam.Entry{{
		Visit: v.ID, Kind: exam.EntryOpened, At: v.At, By: v.By,
		Opening: &exam.Opening{Horse: v.Horse, Routine: routine, Reason: v.Reason, Source: from.String(), From: v.From},
	}}
	for _, e := range v.Lines {
		if e.Value != nil || e.Kind == exam.EntryNotDone {
			t.findings++
		}
		if e.Injection != nil {
			t.doses++
		}
		lines = append(lines, e)
	}
	return lines, true
}

// knownAnimal is the animal of the record with the same identity or the same chip; nil for none. A name alone joins nobody.
func knownAnimal(r *storage.Record, h exam.Horse) (*exam.Horse, error) {
	all, err := r.Horses()
	if err != nil {
		return nil, err
	}
	for _, f := range all {
		if h.ID != "" && f.Horse.ID == h.ID || h.Chip != "" && f.Horse.Chip == h.Chip {
			return &f.Horse, nil
		}
	}
	return nil, nil
}

// hasDose says that a dose is in the record: the same day and diseases, given or from papers.
func hasDose(past []exam.Visit, l exam.InjectionLine) bool {
	for _, v := range past {
		for _, i := range v.Injections {
			on := i.On
			if on == "" && i.EndAt != nil {
				on = i.EndAt.Format(notation.DayForm)
			}
			if i.Counts() && on == l.On && slices.Equal(sortedCopy(i.Order.Against), sortedCopy(l.Order.Against)) {
				return true
			}
		}
	}
	return false
}

func sortedCopy(list []string) []string { return slices.Sorted(slices.Values(list)) }

func (e *env) printFHIRImport(t fhirTally, f importFlags) error {
	if f.asJSON {
		return e.printJSON(fhirJSON{
			Schema: "loosebox/import-fhir/1", NewHorses: t.newHorses, Horses: t.horses, Visits: t.visits, Answers: t.findings, Doses: t.doses, Passed: t.passed,
			NotIn: append([]string{}, t.left...), Rest: t.rest, DryRun: f.dryRun,
		})
	}
	done := "saved in the record"
	if f.dryRun {
		done = "would be saved; --dry-run saved nothing"
	}
	if err := e.printf("%d new horses, %d known; %d visits with %d answers, %d past doses: %s. Skipped, in the record already: %d.\n",
		t.newHorses, t.horses, t.visits, t.findings, t.doses, done, t.passed); err != nil {
		return err
	}
	if len(t.left) == 0 {
		return nil
	}
	if t.rest != "" {
		e.say("What was not taken is in " + notation.CleanLine(t.rest, 0) + ": correct it there, and import that file.")
	}
	return e.printf("Not imported:\n  %s\n", strings.Join(t.left, "\n  "))
}
