package storage

import (
	"errors"
	"maps"
	"slices"

	"loosebox/exam"
)

// Past lists a horse's visits that stand, newest first, at most limit (0 for all); none
// for a horse that is not in the record.
func (r *Record) Past(which exam.HorseID, limit int) ([]exam.Visit, error) {
	horse, ok := parseID(string(which))
	if !ok {
		return nil, nil
	}
	return r.list(limit, func(tx txn) ([]slot, error) {
		all, err := summaries(tx, horse)
		if errors.Is(err, exam.ErrNotFound) {
			return nil, nil
		}
		var slots []slot
		for _, s := range all {
			slots = append(slots, s.newest(limit)...)
		}
		return slots, err
	})
}

// Struck lists a horse's struck visits newest first; none for a horse that is
// not in the record.
func (r *Record) Struck(which exam.HorseID) ([]exam.Visit, error) {
	horse, ok := parseID(string(which))
	if !ok {
		return nil, nil
	}
	return r.list(0, func(tx txn) ([]slot, error) {
		all, err := summaries(tx, horse)
		if errors.Is(err, exam.ErrNotFound) {
			return nil, nil
		}
		var slots []slot
		for _, s := range all {
			slots = append(slots, s.those(s.struckSet())...)
		}
		return slots, err
	})
}

// Recent lists visits of all horses newest first, at most limit (0 for all).
func (r *Record) Recent(limit int) ([]exam.Visit, error) {
	return r.list(limit, func(tx txn) ([]slot, error) {
		var slots []slot
		var oldest *slot // of the newest so far; older ones are not asked for
		err := eachSummary(tx, func(_ id, s *summary) error {
			if oldest != nil {
				if one := s.newest(1); len(one) == 0 || one[0].compare(*oldest) < 0 {
					return nil
				}
			}
			slots = append(slots, s.newest(limit)...)
			if limit > 0 && len(slots) > 4*limit {
				slots = newestOf(slots, limit)
				last := slots[limit-1]
				oldest = &last
			}
			return nil
		})
		return slots, err
	})
}

// Unfinished lists the visits that are not closed, newest first.
func (r *Record) Unfinished() ([]exam.Visit, error) {
	return r.list(0, func(tx txn) ([]slot, error) {
		var slots []slot
		err := eachSummary(tx, func(_ id, s *summary) error {
			slots = append(slots, s.open()...)
			return nil
		})
		return slots, err
	})
}

// Unsettled lists the visits in which somebody must look at something that two laptops
// wrote without knowing of each other, newest first, and closed ones that were open at once
// with another that is listed.
func (r *Record) Unsettled() ([]exam.Visit, error) {
	atOnce := map[exam.VisitID]bool{}
	return r.listOn(0, func(tx txn) ([]slot, error) {
		var slots []slot
		err := eachSummary(tx, func(_ id, s *summary) error {
			both := setOf(s.AtOnce)
			for v := range both {
				atOnce[v.visit()] = true
			}
			maps.Copy(both, setOf(s.Unsettled))
			slots = append(slots, s.those(both)...)
			return nil
		})
		return slots, err
	}, func(v exam.Visit) bool { return !v.Closed() || atOnce[v.ID] })
}

// open returns the visits of a horse that are not closed, newest first.
func (s *summary) open() []slot { return s.those(s.openSet()) }

// those returns the visits of a set, newest first.
func (s *summary) those(left map[id]bool) []slot {
	slots := make([]slot, 0, len(left))
	for i := s.count() - 1; i >= 0 && len(slots) < len(left); i-- {
		if v := s.slot(i); left[v.visit] {
			slots = append(slots, v)
		}
	}
	return slots
}

// newest returns at most limit visits of a horse that stand (0 for all).
func (s *summary) newest(limit int) []slot {
	struck := s.struckSet()
	n := s.count() - len(struck)
	if limit <= 0 || limit > n {
		limit = max(n, 0)
	}
	slots := make([]slot, 0, limit)
	for i := s.count() - 1; i >= 0 && len(slots) < limit; i-- {
		if v := s.slot(i); !struck[v.visit] {
			slots = append(slots, v)
		}
	}
	return slots
}

// list reads the newest of the visits that find returns; open ones say on which laptops they are.
func (r *Record) list(limit int, find func(txn) ([]slot, error)) ([]exam.Visit, error) {
	return r.listOn(limit, find, func(v exam.Visit) bool { return !v.Closed() })
}

// listOn is list; those that are wanted say on which laptops they are.
func (r *Record) listOn(limit int, find func(txn) ([]slot, error), wanted func(exam.Visit) bool) ([]exam.Visit, error) {
	var visits []exam.Visit
	err := r.view(func(tx txn) error {
		slots, err := find(tx)
		if err != nil {
			return err
		}
		if visits, err = readSlots(tx, newestOf(slots, limit)); err != nil {
			return err
		}
		if err := onLaptops(tx, visits, wanted); err != nil {
			return err
		}
		return asOne(tx, visits)
	})
	if err != nil {
		return nil, err
	}
	return visits, nil
}

// readSlots reads the visits of slots, in their order.
func readSlots(tx txn, slots []slot) ([]exam.Visit, error) {
	visits := make([]exam.Visit, len(slots))
	for i, s := range slots {
		var err error
		if visits[i], err = listed(tx, s.visit); err != nil {
			return nil, err
		}
	}
	return visits, nil
}

// newestOf sorts visits newest first and leaves at most limit (0 for all).
func newestOf(slots []slot, limit int) []slot {
	slices.SortFunc(slots, func(a, b slot) int { return b.compare(a) })
	if limit > 0 && len(slots) > limit {
		return slots[:limit]
	}
	return slots
}

// listed reads a visit that a summary names: that it is not there is damage.
func listed(tx txn, visit id) (exam.Visit, error) {
	v, err := readVisit(tx, visit)
	if errors.Is(err, exam.ErrNotFound) {
		return v, damaged("visit %s is listed but not there", visit)
	}
	return v, err
}
