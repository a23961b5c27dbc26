//go:build unix

package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// visitsEach is how many visits each horse has.
const visitsEach = 20

// horses is how many horses the record has.
func (b *bench) horses() int { return max(1, b.visits/visitsEach) }

// measured is the horse that the screens are measured with; it is the first by
// name.
const measured = "Aster 0000"

// fill writes the record, from the visits of the demo's yard, and returns the size of its file in bytes. A folder that was
// filled before is used as it is.
func (b *bench) fill() (int64, error) {
	if b.data == "" {
		b.data = filepath.Join(b.dir, "record")
	}
	name := filepath.Join(b.data, filledName)
	if text, err := os.ReadFile(name); err == nil {
		if _, err := fmt.Sscan(string(text), &b.visits); err != nil {
			return 0, fmt.Errorf("%s: %w", name, err)
		}
		return sizeOf(filepath.Join(b.data, storage.FileName))
	}
	if err := os.MkdirAll(b.data, 0o700); err != nil {
		return 0, err
	}
	r, err := storage.Open(b.data, storage.Options{})
	if err != nil {
		return 0, err
	}
	yard, err := demo.Yard(b.now, steps.Table(), steps.Routines())
	if err != nil {
		return 0, err
	}
	whole := wholeVisits(yard)
	for from := 0; from < b.horses(); from += 25 {
		var batch []storage.Imported
		for i := from; i < min(from+25, b.horses()); i++ {
			batch = append(batch, b.horse(i, whole))
		}
		if err := r.Import(context.Background(), batch); err != nil {
			return 0, err
		}
	}
	if err := open(r, b.now); err != nil {
		return 0, err
	}
	if err := r.SaveSettings(exam.Settings{Person: "Nell Harrow"}); err != nil {
		return 0, err
	}
	if err := r.Close(); err != nil {
		return 0, err
	}
	if err := os.WriteFile(name, []byte(fmt.Sprintln(b.visits)), 0o600); err != nil {
		return 0, err
	}
	return sizeOf(filepath.Join(b.data, storage.FileName))
}

// filledName is the file beside a completely filled record; it holds the number of visits.
const filledName = "filled"

func sizeOf(name string) (int64, error) {
	info, err := os.Stat(name)
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// open leaves a visit of the measured horse open, without any answer.
func open(r *storage.Record, now time.Time) error {
	found, err := r.Horses()
	if err != nil {
		return err
	}
	_, err = r.Begin(exam.Entry{Kind: exam.EntryOpened, At: now, By: "Nell Harrow", Opening: &exam.Opening{Horse: found[0].Horse, Routine: steps.Default}})
	return err
}

// wholeVisits are the yard's full exams of grown horses that were closed.
func wholeVisits(yard []demo.History) [][]exam.Entry {
	var out [][]exam.Entry
	for _, a := range yard {
		if a.Horse.Kind != exam.AnimalHorse || a.Horse.Cautions == nil {
			continue
		}
		for _, v := range a.Visits {
			if v[0].Opening.Routine == steps.Default && v[len(v)-1].Kind == exam.EntryClosed {
				out = append(out, v)
			}
		}
	}
	return out
}

// horse is a horse with its visits, a fortnight apart.
func (b *bench) horse(i int, whole [][]exam.Entry) storage.Imported {
	birth := exam.Birth{At: b.now.AddDate(-9, -i%12, 0), Precision: exam.BornDay, Basis: "passport"}
	one := storage.Imported{By: "Nell Harrow", At: b.now.AddDate(-2, 0, 0), Horse: exam.Horse{
		Name: fmt.Sprintf("Aster %04d", i), Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: birth, Breed: "warmblood cross",
		Colour: "bay", Owner: "P. Lindqvist", Place: "Hollow Farm", Cautions: []string{"needle-shy"},
	}}
	for v := range visitsEach {
		entries := append([]exam.Entry(nil), whole[(i+v)%len(whole)]...)
		first := b.now.Add(-time.Duration(visitsEach-v)*14*24*time.Hour - time.Duration(i)*time.Minute)
		move := first.Sub(entries[0].At)
		for n := range entries {
			entries[n].At = entries[n].At.Add(move)
		}
		one.Entries = append(one.Entries, entries)
	}
	return one
}
