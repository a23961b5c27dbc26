package main

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
)

// stayOne saves of a horse that was joined, while somebody else said that it is two, that it is one.
func (e *env) stayOne(store exam.Store, h exam.Horse, typed []string, f joinFlags) error {
	said, err := store.Joinings()
	if err != nil {
		return err
	}
	disputes := said.DisputesOf(h)
	if len(disputes) == 0 {
		return usage("%q and %q are one horse in the record already", notation.CleanLine(typed[0], 40), notation.CleanLine(typed[1], 40))
	}
	if f.look {
		return e.showJoined(h, f.asJSON)
	}
	return e.join(store, settle.StayOne(disputes[0]), h, h, f)
}
