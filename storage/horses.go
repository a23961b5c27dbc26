package storage

import (
	"cmp"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// horseLine is one revision of a horse as it is stored.
type horseLine = exam.HorseLine

// Horses lists every horse by name, without opening its visits.
func (r *Record) Horses() ([]exam.Found, error) {
	var list []exam.Found
	err := r.view(func(tx txn) error {
		return eachSummary(tx, func(horse id, s *summary) error {
			f, err := s.found()
			if err != nil {
				return err
			}
			if f.Horse.ID != horse.horse() {
				return damaged("horse %s is out of place", horse)
			}
			list = append(list, f)
			return nil
		})
	})
	if err != nil {
		return nil, err
	}
	slices.SortFunc(list, func(a, b exam.Found) int {
		return cmp.Or(cmp.Compare(strings.ToLower(a.Horse.Name), strings.ToLower(b.Horse.Name)), cmp.Compare(a.Horse.ID, b.Horse.ID))
	})
	return list, nil
}

func (s *summary) found() (exam.Found, error) {
	h, err := s.horse()
	f := exam.Found{Horse: h, Visits: s.count() - len(s.Struck)/16}
	if last := s.newest(1); len(last) > 0 {
		f.LastAt = last[0].at()
	}
	if open := s.open(); len(open) > 0 {
		f.Open = open[0].visit.visit()
	}
	return f, err
}

// Horse returns the newest revision of a horse, or exam.ErrNotFound.
func (r *Record) Horse(which exam.HorseID) (exam.Horse, error) {
	key, ok := parseID(string(which))
	if !ok {
		return exam.Horse{}, exam.NoSuch("no horse has the number %q in the record", notation.CleanLine(string(which), 60))
	}
	var h exam.Horse
	err := r.view(func(tx txn) error {
		s, err := readSummary(tx, key)
		if err != nil {
			return err
		}
		h, err = s.horse()
		return err
	})
	return h, err
}

// SaveHorse adds a revision of a horse. A horse without identity is new and
// gets one. Where Revision is not one more than the newest, the error wraps
// exam.ErrStale and nothing is written.
func (r *Record) SaveHorse(h exam.Horse, by string, at time.Time) (exam.Horse, error) {
	line, err := cleanHorseLine(horseLine{Horse: h, By: by, At: at})
	if err != nil {
		return exam.Horse{}, err
	}
	err = r.update(func(tx txn) error {
		line.Horse, err = r.saveHorse(tx, line)
		return err
	})
	if err != nil {
		return exam.Horse{}, err
	}
	return line.Horse, nil
}

func (r *Record) saveHorse(tx txn, line horseLine) (exam.Horse, error) {
	h := &line.Horse
	if h.ID == "" {
		h.ID = exam.HorseID(r.newID())
	}
	key, ok := parseID(string(h.ID))
	if !ok {
		return *h, fmt.Errorf("%q cannot be a horse's identity, nothing was written: leave it empty for a new horse", h.ID)
	}
	s, newest, err := summaryOrNew(tx, key)
	if err != nil {
		return *h, err
	}
	if h.Revision != newest+1 {
		return *h, fmt.Errorf("%s was %w, nothing was written (revision %d is the newest, %d was offered): read the horse again and repeat the change",
			h.Name, exam.ErrStale, newest, h.Revision)
	}
	stored, err := putHorse(tx, key, line)
	if err != nil {
		return *h, err
	}
	if err := s.setHorse(stored); err != nil {
		return *h, err
	}
	return stored, s.write(tx, key)
}

// summaryOrNew returns a horse's summary and its newest revision; a new horse
// is counted and has revision 0.
func summaryOrNew(tx txn, key id) (*summary, int, error) {
	data, err := getRow(tx, bucketSummaries, key[:])
	if err != nil {
		return nil, 0, err
	}
	if data != nil {
		s, err := decodeSummary(data)
		if err != nil {
			return nil, 0, err
		}
		old, err := s.horse()
		return s, old.Revision, err
	}
	n, err := readTotals(tx)
	if err != nil {
		return nil, 0, err
	}
	n.horses++
	return &summary{}, 0, n.write(tx)
}

// putHorse writes one revision and returns it as it will be read back.
func putHorse(tx txn, key id, line horseLine) (exam.Horse, error) {
	sealed, err := exam.SealHorse(line)
	if err != nil {
		return exam.Horse{}, err
	}
	if len(sealed.Body) > maxBody {
		return exam.Horse{}, fmt.Errorf("what is said of the horse is too long (%d bytes of %d), nothing was written", len(sealed.Body), maxBody)
	}
	digest, err := digestBytes(sealed.Hash)
	if err != nil {
		return exam.Horse{}, err
	}
	horses, err := bucket(tx, bucketHorses)
	if err != nil {
		return exam.Horse{}, err
	}
	at := key.numbered(line.Horse.Revision)
	if horses.Get(at) != nil {
		return exam.Horse{}, damaged("revision %d of horse %s is there already", line.Horse.Revision, key)
	}
	row := append(digest, sealed.Body...)
	if err := horses.Put(at, row); err != nil {
		return exam.Horse{}, fmt.Errorf("write horse: %w", err)
	}
	if _, err := chain(tx, linkHorse, key, line.Horse.Revision, digest); err != nil {
		return exam.Horse{}, err
	}
	back, err := readHorseLine(at, row)
	return back.Horse, err
}

// readHorseLine reads a stored revision and checks it against digest and key.
func readHorseLine(key, row []byte) (horseLine, error) {
	horse, revision, ok := splitNumbered(key)
	if !ok || len(row) < 32 || len(row) > maxRow {
		return horseLine{}, damaged("a revision of a horse is out of shape")
	}
	line, err := exam.UnsealHorse(exam.Line{Kind: exam.LineHorse, Body: row[32:], Hash: exam.Hash(hex.EncodeToString(row[:32]))})
	if err != nil {
		return horseLine{}, fmt.Errorf("revision %d of horse %s: %w", revision, horse, err)
	}
	if line.Horse.ID != horse.horse() || line.Horse.Revision != revision {
		return horseLine{}, damaged("revision %d of horse %s is out of place", revision, horse)
	}
	return line, nil
}
