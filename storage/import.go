package storage

import (
	"context"
	"errors"
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/progress"
)

// Imported is a horse with visits that were made elsewhere or are all made up.
type Imported struct {
	// Horse is saved as new where its identity is empty or not known; a known
	// one takes the visits and is itself left as it is.
	Horse exam.Horse
	// By and At sign the horse; empty for those of its first entry.
	By string
	At time.Time
	// Entries are the visits, each with its opened entry first. Seq and Prev are
	// set here, and so is Visit, but where the opening says whence it was taken and
	// names the identity that the visit has there. An opening whose horse has a name keeps what it says of
	// the horse on that day; one without gets the horse as it is stored.
	Entries [][]exam.Entry
}

// Import writes many horses and visits in one transaction: all or nothing. An
// error names the horse and the visit, counted from 1, that was not taken.
func (r *Record) Import(ctx context.Context, batch []Imported) error {
	return r.update(func(tx txn) error {
		for i, one := range batch {
			if err := ctx.Err(); err != nil {
				return fmt.Errorf("the import was broken off; nothing was saved: %w", err)
			}
			if err := r.importHorse(tx, one); err != nil {
				return fmt.Errorf("horse %d (%s): %w", i+1, notation.CleanLine(one.Horse.Name, 60), err)
			}
			progress.Say(ctx, "horses", i+1, len(batch))
		}
		return nil
	})
}

// ImportRehearsals is Import into the other namespace: each opening must be that of a
// rehearsal.
func (r *Record) ImportRehearsals(ctx context.Context, batch []Imported) error {
	return (&Record{r.holding, rehearsalsNamespace}).Import(ctx, batch)
}

func (r *Record) importHorse(tx txn, one Imported) error {
	key, err := r.importedHorse(tx, one)
	if err != nil {
		return err
	}
	s, err := readSummary(tx, key)
	if err != nil {
		return err
	}
	for i, visit := range one.Entries {
		if _, err := r.importVisit(tx, s, key, visit); err != nil {
			return fmt.Errorf("visit %d: %w", i+1, err)
		}
	}
	if err := s.write(tx, key); err != nil {
		return err
	}
	return outline(tx, key)
}

// importedHorse returns the key of the horse, which it saves where it is new.
func (r *Record) importedHorse(tx txn, one Imported) (id, error) {
	if key, ok := parseID(string(one.Horse.ID)); ok {
		_, err := readSummary(tx, key)
		if !errors.Is(err, exam.ErrNotFound) {
			return key, err
		}
	}
	if len(one.Entries) > 0 && len(one.Entries[0]) > 0 {
		first := one.Entries[0][0]
		if one.By == "" {
			one.By = first.By
		}
		if one.At.IsZero() {
			one.At = first.At
		}
	}
	one.Horse.Revision = 1
	line, err := cleanHorseLine(horseLine{Horse: one.Horse, By: one.By, At: one.At})
	if err != nil {
		return id{}, err
	}
	h, err := r.saveHorse(tx, line)
	if err != nil {
		return id{}, err
	}
	key, _ := parseID(string(h.ID))
	return key, nil
}

// importVisit writes a whole visit, closed or open; the summary is changed but
// not written.
func (r *Record) importVisit(tx txn, s *summary, horse id, entries []exam.Entry) (exam.Visit, error) {
	if len(entries) == 0 || entries[0].Kind != exam.EntryOpened || entries[0].Opening == nil {
		return exam.Visit{}, fmt.Errorf("it does not begin with an entry of the kind %q; nothing was saved", exam.EntryOpened)
	}
	first, err := exam.Clean(entries[0])
	if err != nil {
		return exam.Visit{}, err
	}
	stored, err := s.horse()
	if err != nil {
		return exam.Visit{}, err
	}
	told := &first.Opening.Horse
	switch {
	case told.ID != "" && told.ID != stored.ID:
		return exam.Visit{}, errors.New("its opening names another horse; nothing was saved")
	case told.Name == "":
		*told = stored
	default:
		told.ID = stored.ID
		told.Revision = stored.Revision
	}
	v, err := r.begin(tx, s, horse, r.identityOf(tx, entries[0]), first)
	if err != nil {
		return v, err
	}
	visit, _ := parseID(string(v.ID))
	return importEntries(tx, s, visit, v, entries[1:])
}

// identityOf is the identity of a visit that was taken from elsewhere: the one that it has there, so that it is the same
// visit in every record and document; a new one where it has none that is a UUID, or where the record has it already.
func (r *Record) identityOf(tx txn, first exam.Entry) string {
	if visit, ok := parseID(string(first.Visit)); ok && first.Opening.Source != "" {
		if _, err := readHead(tx, visit); errors.Is(err, exam.ErrNotFound) {
			return string(visit.visit())
		}
	}
	return r.newID()
}

// importEntries adds the lines after the first and writes head and snapshot once.
func importEntries(tx txn, s *summary, visit id, v exam.Visit, entries []exam.Entry) (exam.Visit, error) {
	h, err := readHead(tx, visit)
	if err != nil {
		return v, err
	}
	_, numbers, err := readEntries(tx, visit, h)
	if err != nil {
		return v, err
	}
	for _, e := range entries {
		e, err := exam.Clean(e)
		if err != nil {
			return v, err
		}
		e.Visit = v.ID
		if err := checkEntry(tx, visit, h, e); err != nil {
			return v, err
		}
		back, err := putEntry(tx, visit, &h, numbers, e)
		if err != nil {
			return v, err
		}
		if err := v.Apply(back); err != nil {
			return v, err
		}
	}
	if err := h.write(tx, visit); err != nil {
		return v, err
	}
	s.settleVisit(visit, len(v.Unsettled()) > 0)
	if !h.closed {
		return v, nil
	}
	s.closeVisit(visit)
	return v, writeSnapshot(tx, visit, v)
}
