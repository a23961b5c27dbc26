package storage

import (
	"cmp"
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
	f := exam.Found{Horse: h, Visits: s.count() - len(s.Struck)/16, Stamp: s.Stamp}
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
		return *h, fmt.Errorf("%q cannot be a horse's identity; nothing was saved: leave it empty for a new horse", h.ID)
	}
	s, newest, err := summaryOrNew(tx, key)
	if err != nil {
		return *h, err
	}
	if h.Revision != newest+1 {
		return *h, fmt.Errorf("%s was %w; nothing was saved (newest revision %d, offered %d). Read the horse again and repeat the change",
			h.Name, exam.ErrStale, newest, h.Revision)
	}
	line.Settles, h.Settles, h.Differ = h.Settles, nil, nil
	if err := putHorse(tx, key, line); err != nil {
		return *h, err
	}
	said, err := revisions(tx, key)
	if err != nil {
		return *h, err
	}
	stored, err := exam.FoldHorse(said)
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

// putHorse writes one revision.
func putHorse(tx txn, key id, line horseLine) error {
	p, _, _, err := add(tx, exam.LineHorse, line)
	if err != nil {
		return err
	}
	return addRun(tx, bucketHorseLines, key[:], p)
}

// revisions reads what was said of a horse, oldest first. The number of a revision is
// its place.
func revisions(tx txn, key id) ([]horseLine, error) {
	where, err := readRuns(tx, bucketHorseLines, key[:])
	if err != nil {
		return nil, err
	}
	lines, err := readLines(tx, where)
	if err != nil {
		return nil, err
	}
	out := make([]horseLine, len(lines))
	for i, l := range lines {
		if err := l.read(exam.LineHorse, &out[i]); err != nil {
			return nil, err
		}
		if out[i].Horse.ID != key.horse() {
			return nil, damaged("revision %d of horse %s is of another horse", i+1, key)
		}
		out[i].Horse.Revision = i + 1
	}
	if len(out) == 0 {
		return nil, damaged("what was said of horse %s is missing", key)
	}
	if ofOneLog(lines) {
		return out, nil
	}
	missing, err := unseen(tx, lines)
	for i := range missing {
		out[i].Unseen = missing[i]
	}
	return out, err
}
