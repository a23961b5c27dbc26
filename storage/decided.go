package storage

import (
	"loosebox/exam"
	"loosebox/exam/authorization"
)

// checkDecided refuses a procedure that no decision of the veterinarian covers, whoever writes it.
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
