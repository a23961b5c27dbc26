// Package examtest holds an exam.Store in memory for tests, and the checks that
// every Store must pass.
package examtest

import (
	"fmt"
	"sync"
	"time"

	"loosebox/exam"
)

// line is an entry as it would lie in a file.
type line struct {
	body []byte
	hash exam.Hash
}

// Store is an exam.Store in memory. It seals and folds entries as a file store
// does, so that what is read back went through the stored bytes. Identities
// are counted, the same ones in every run.
type Store struct {
	mu       sync.Mutex
	made     int
	horses   map[exam.HorseID][]exam.Horse // revisions, oldest first
	said     []exam.HorseLine              // of all horses, in the order in which they were saved
	joins    exam.Joinings
	lines    map[exam.VisitID][]line
	numbers  map[exam.VisitID]*exam.Numbers // of the lines, so that a write reads none of them again
	visits   map[exam.VisitID]exam.Visit
	ofHorse  map[exam.HorseID][]exam.VisitID
	rounds   map[string][]exam.RoundLine // by day
	settings exam.Settings
	common   []exam.Setting // lines about settings of the practice
	fault    error
	writes   int
	raw      bool
	simulate bool // it keeps rehearsals only
}

var _ exam.Store = (*Store)(nil)

// NewStore makes an empty store.
func NewStore() *Store {
	return &Store{
		horses:  map[exam.HorseID][]exam.Horse{},
		lines:   map[exam.VisitID][]line{},
		numbers: map[exam.VisitID]*exam.Numbers{},
		visits:  map[exam.VisitID]exam.Visit{},
		ofHorse: map[exam.HorseID][]exam.VisitID{},
		rounds:  map[string][]exam.RoundLine{},
	}
}

// NewRehearsals makes an empty store of rehearsals.
func NewRehearsals() *Store {
	s := NewStore()
	s.simulate = true
	return s
}

// FailWith makes every method return the error until it is called with nil.
func (s *Store) FailWith(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fault = err
}

// KeepAsGiven makes the store keep texts without cleaning them, as a record from
// elsewhere could hold them: for tests that nothing hostile reaches a screen.
func (s *Store) KeepAsGiven() { s.raw = true }

// Writes says how many horses, entries and settings were written so far.
func (s *Store) Writes() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.writes
}

// id makes the next identity, in the form of a UUID of version 7.
func (s *Store) id(at time.Time) string {
	s.made++
	ms := at.UnixMilli()
	return fmt.Sprintf("%08x-%04x-7000-8000-%012x", uint32(ms>>16), uint16(ms), s.made)
}
