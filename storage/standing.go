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
	sum, err := readSummary(s.tx, s.head.horse)
	if err != nil {
		return nil, err
	}
	return readSlots(s.tx, newestOf(sum.newest(0), 0))
}
