package storage

import (
	"loosebox/exam"
)

// standing shows a check the visit and the horse's others as they are in the transaction that is about to write.
type standing struct {
	tx    txn
	visit id
	head  head
}

func (s standing) Visit() (exam.Visit, error) { return readVisitHere(s.tx, s.visit) }

func (s standing) Past() ([]exam.Visit, error) {
	all, err := summaries(s.tx, s.head.horse)
	if err != nil {
		return nil, err
	}
	var slots []slot
	for _, sum := range all {
		slots = append(slots, sum.newest(0)...)
	}
	visits, err := readSlots(s.tx, newestOf(slots, 0))
	if err != nil {
		return nil, err
	}
	return visits, asOne(s.tx, visits)
}
