package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/report/fhir"
	"loosebox/storage"
)

// mostFHIR is the largest file of FHIR that is read, in bytes.
const mostFHIR = 20 << 20

// fhirOf is the bytes of a file that is FHIR in JSON, and its name; nil for any other.
func (e *env) fhirOf(file string) (document []byte, name string, err error) {
	if file == "-" { // a stream is read once, as an export
		return nil, "", nil
	}
	err = e.withInput(file, func(in io.Reader, n string) error {
		b, err := io.ReadAll(io.LimitReader(in, mostFHIR+1))
		if err != nil {
			return fmt.Errorf("the file cannot be read: %w", err)
		}
		begin := b[:min(len(b), 4<<10)]
		if !bytes.HasPrefix(bytes.TrimLeft(begin, "\ufeff \t\r\n"), []byte("{")) || !bytes.Contains(begin, []byte(`"resourceType"`)) {
			return nil
		}
		if len(b) > mostFHIR {
			return fmt.Errorf("%s is larger than %d MB; nothing was saved", notation.CleanLine(n, 0), mostFHIR>>20)
		}
		document, name = b, n
		return nil
	})
	return document, name, err
}

// importFHIR takes animals, their findings and their past doses out of FHIR R4. What is in the record already is passed
// over; what is not understood is listed.
func (e *env) importFHIR(ctx context.Context, document []byte, name string, f importFlags) error {
	found, err := fhir.Read(document, e.steps)
	if err != nil {
		return fmt.Errorf("%s cannot be read as FHIR; nothing was saved: %w", notation.CleanLine(name, 0), err)
	}
	sum := sha256.Sum256(document)
	from := intake.Origin{File: name, Digest: hex.EncodeToString(sum[:len(sum)/2]), At: e.now().Truncate(0)}
	return e.record(func(r *storage.Record) error {
		by, err := e.person(r, f.by)
		if err != nil {
			return err
		}
		from.By = by
		var batch []storage.Imported
		t := fhirTally{left: found.Left}
		for _, a := range found.Animals {
			one, err := e.fhirAnimal(r, a, from, by, &t)
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
		if f.rest != "" && !f.dryRun && len(found.Rest) > 0 {
			if err := e.writeFHIRRest(f.rest, found.Rest); err != nil {
				return err
			}
			t.rest = f.rest
		}
		if !f.dryRun {
			if err := r.Import(ctx, batch); err != nil {
				return fmt.Errorf("nothing was saved: %w", err)
			}
		}
		return e.printFHIRImport(t, f)
	})
}

// writeFHIRRest writes what was not taken as a Bundle, to be corrected and imported.
func (e *env) writeFHIRRest(name string, bundle []byte) error {
	return e.toFile(name, func() error { return e.printf("%s\n", bundle) })
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
func (e *env) fhirAnimal(r *storage.Record, a fhir.ForeignAnimal, from intake.Origin, by string, t *fhirTally) (storage.Imported, error) {
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
		if slices.ContainsFunc(past, func(p exam.Visit) bool { return p.OpenedAt.Unix() == v.At.Unix() }) {
			t.passed++
			continue
		}
		from.Line++
		lines := []exam.Entry{{Visit: v.ID, Kind: exam.EntryOpened, At: v.At, By: v.By, Opening: &exam.Opening{Horse: one.Horse, Routine: "full-exam", Reason: v.Reason, Source: from.String()}}}
		lines = append(lines, v.Entries...)
		closed := v.Entries[len(v.Entries)-1].At
		if v.End.After(closed) {
			closed = v.End
		}
		one.Entries = append(one.Entries, append(lines, exam.Entry{Kind: exam.EntryClosed, At: closed, By: v.By, Reason: "imported"}))
		t.visits, t.findings = t.visits+1, t.findings+len(v.Entries)
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
