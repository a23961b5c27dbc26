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
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		return eachSummary(tx, func(horse id, s *summary) error {
			if g.lead(horse) != horse {
				return nil // it is listed with the one that leads
			}
			f, err := s.found()
			if err == nil {
				err = f.add(tx, g.with(horse)[1:])
			}
			if err != nil {
				return err
			}
			if f.Horse.ID != horse.horse() {
				return damaged("horse %s is out of place", horse)
			}
			list = append(list, f.Found)
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

// found is a horse of a list, which grows by what was joined to it.
type found struct {
	exam.Found
	open slot // the newest that is open
}

func (s *summary) found() (found, error) {
	h, err := s.horse()
	f := found{Found: exam.Found{Horse: h, Stamp: s.Stamp}}
	f.visits(s)
	return f, err
}

// standing is how many visits of the horse stand.
func (s *summary) standing() int { return s.count() - len(s.Struck)/16 }

func (f *found) visits(s *summary) {
	f.Visits += s.standing()
	if last := s.newest(1); len(last) > 0 && last[0].at().After(f.LastAt) {
		f.LastAt = last[0].at()
	}
	if open := s.open(); len(open) > 0 && (f.Open == "" || open[0].compare(f.open) > 0) {
		f.Open, f.open = open[0].visit.visit(), open[0]
	}
}

// add takes in the horses that are joined to one.
func (f *found) add(tx txn, others []id) error {
	if len(others) > 0 {
		f.Each = map[exam.HorseID]int{f.Horse.ID: f.Visits}
	}
	for _, h := range others {
		s, err := readSummary(tx, h)
		if err != nil {
			return err
		}
		f.visits(s)
		f.Each[h.horse()] = s.standing()
		f.Stamp = f.Stamp*31 + s.Stamp + uint64(sum(bucketSummaries, h[:], nil))
	}
	return nil
}

// Horse returns the newest revision of a horse, or exam.ErrNotFound; of one that was joined
// to others the horse that they are.
func (r *Record) Horse(which exam.HorseID) (exam.Horse, error) {
	key, ok := parseID(string(which))
	if !ok {
		return exam.Horse{}, exam.NoSuch("no horse has the number %q in the record", notation.CleanLine(string(which), 60))
	}
	var h exam.Horse
	err := r.view(func(tx txn) error {
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		s, err := readSummary(tx, g.lead(key))
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
	all, err := joined(tx, key)
	if err != nil {
		return *h, err
	}
	key, h.ID = all[0], all[0].horse()
	var united exam.Horse
	s, err := readSummaryHere(tx, key)
	if err == nil && s != nil {
		united, err = s.horse()
	}
	if err != nil {
		return *h, err
	}
	if newest := united.Revision; h.Revision != newest+1 {
		return *h, fmt.Errorf("%s was %w; nothing was saved (newest revision %d, offered %d). Read the horse again and repeat the change",
			h.Name, exam.ErrStale, newest, h.Revision)
	}
	line.Settles, h.Settles, h.Differ, h.Joined = h.Settles, nil, nil, nil
	if len(all) == 1 {
		err = putHorse(tx, key, line)
	} else {
		err = saveJoined(tx, all, line, united)
	}
	if err != nil {
		return *h, err
	}
	for _, one := range all {
		if _, err := deriveHorse(tx, one); err != nil {
			return *h, err
		}
	}
	if s, err = readSummary(tx, key); err != nil {
		return *h, err
	}
	return s.horse()
}

// summaryOrNew returns a horse's summary and its newest revision; a new horse
// is counted and has revision 0.
func summaryOrNew(tx txn, key id) (*summary, int, error) {
	s, err := readSummaryHere(tx, key)
	if err != nil {
		return nil, 0, err
	}
	if s != nil {
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

// readSummaryHere reads a horse's summary; nil where there is none.
func readSummaryHere(tx txn, key id) (*summary, error) {
	data, err := getRow(tx, bucketSummaries, key[:])
	if err != nil || data == nil {
		return nil, err
	}
	return decodeSummary(data)
}

// putHorse writes one revision.
func putHorse(tx txn, key id, line horseLine) error {
	p, _, _, err := add(tx, exam.LineHorse, line)
	if err != nil {
		return err
	}
	return addRun(tx, bucketHorseLines, key[:], p)
}

// revisions reads every line that was written for a horse, oldest first, whether it counts
// now or not. The number of a revision is its place.
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
	return out, nil
}
