package progress

import (
	"errors"
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/rehearse"
	"loosebox/ranges"
)

// Reader marks stored rehearsals again. Its zero value knows no case; all fields must be set.
type Reader struct {
	Cases    []rehearse.Case
	Routines []exam.Routine
	Steps    *exam.Steps
	Ranges   *ranges.Table
	Judge    *judge.Judge
}

// ErrCannotMark is wrapped where a rehearsal is as it was stored, and what it was made from is not there any more.
var ErrCannotMark = errors.New("it cannot be marked")

// Marks marks one rehearsal from its entries. The error wraps ErrCannotMark where the case or the routine is gone or was
// changed, or where the visit is no rehearsal.
func (r Reader) Marks(entries []exam.Entry) (rehearse.Marks, error) {
	v, err := exam.Fold(entries)
	if err != nil {
		return rehearse.Marks{}, fmt.Errorf("read a rehearsal: %w", err)
	}
	if _, ok := rehearse.OriginOf(v); !ok {
		return rehearse.Marks{}, fmt.Errorf("this visit is no rehearsal: %w", ErrCannotMark)
	}
	c, err := rehearse.CaseOf(v, r.Cases, r.Steps, r.Ranges)
	if err != nil {
		return rehearse.Marks{}, fmt.Errorf("%w: %w", err, ErrCannotMark)
	}
	routine, ok := rehearse.RoutineNamed(v.Routine, r.Steps, r.Routines)
	if !ok {
		return rehearse.Marks{}, fmt.Errorf("the routine %q is not there any more, put its file back: %w", v.Routine, ErrCannotMark)
	}
	h, err := rehearse.Again(v, c, r.Steps, r.Ranges)
	if err != nil {
		return rehearse.Marks{}, fmt.Errorf("%w: %w", err, ErrCannotMark)
	}
	m, err := rehearse.Mark(h, routine, entries, r.Judge)
	if err != nil {
		return m, fmt.Errorf("%w: %w", err, ErrCannotMark)
	}
	return m, nil
}

// Unmarked is a rehearsal that cannot be marked any more.
type Unmarked struct {
	Visit exam.VisitID `json:"visit"`
	At    time.Time    `json:"at"`
	By    string       `json:"by"`
	Why   string       `json:"why"`
}

// Read marks every rehearsal of a store, the newest first. What cannot be marked is listed with the reason; any other
// error is that of the store.
func (r Reader) Read(store exam.Store) ([]Rehearsal, []Unmarked, error) { return r.Newest(store, 0) }

// Newest is Read of so many of the newest rehearsals; 0 is all.
func (r Reader) Newest(store exam.Store, most int) ([]Rehearsal, []Unmarked, error) {
	visits, err := store.Recent(most)
	if err != nil {
		return nil, nil, fmt.Errorf("the rehearsals cannot be read, nothing was changed: %w", err)
	}
	var points []Rehearsal
	var not []Unmarked
	for _, v := range visits {
		entries, err := store.Entries(v.ID)
		if err != nil {
			return nil, nil, fmt.Errorf("a rehearsal cannot be read, nothing was changed: %w", err)
		}
		m, err := r.Marks(entries)
		switch {
		case errors.Is(err, ErrCannotMark):
			not = append(not, Unmarked{v.ID, v.OpenedAt, v.By, err.Error()})
		case err != nil:
			return nil, nil, err
		default:
			points = append(points, Of(m))
		}
	}
	return points, not, nil
}
