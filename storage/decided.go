package storage

import (
	"loosebox/exam"
	"loosebox/exam/authorization"
)

// checkDecided lets no procedure in that the veterinarian did not decide, whatever a
// screen or a command forgot.
func checkDecided(tx txn, visit id, h head, e exam.Entry) error {
	if e.Injection == nil && e.Draw == nil {
		return nil
	}
	v, err := foldVisit(tx, visit, h)
	if err != nil {
		return err
	}
	if err := onLaptop(tx, h, &v); err != nil {
		return err
	}
	return authorization.CheckDecided(v, e)
}
