package storage

import (
	"fmt"
	"time"

	"loosebox/exam"
)

// Bounds of what the record may hold. They keep a hostile or broken file from
// filling the disk; no exam comes near them.
const (
	maxBody    = 256 << 10 // bytes of one entry or horse
	maxEntries = 10000     // lines of one visit
)

func tooMuch(what string) error {
	return fmt.Errorf("%s holds more than any exam does; nothing was saved", what)
}

func checkSigned(by string, at time.Time) error {
	switch {
	case by == "":
		return fmt.Errorf("a line of the record needs the name of the person who wrote it; nothing was saved")
	case at.IsZero():
		return fmt.Errorf("a line of the record needs a time; nothing was saved")
	}
	return nil
}

func cleanHorseLine(l horseLine) (horseLine, error) {
	l, err := exam.Clean(l)
	if err != nil {
		return l, err
	}
	return l, checkSigned(l.By, l.At)
}
