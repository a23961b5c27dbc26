package storage

import (
	"bytes"
	"maps"
	"runtime"
	"slices"

	"loosebox/exam"
)

// derive makes what follows from the new lines again.
func (a *adoption) derive(tx txn) error {
	if err := a.mixed(tx); err != nil {
		return err
	}
	changed, err := regroup(tx)
	if err != nil {
		return err
	}
	for _, horse := range changed {
		note(a.horses, tx.namespace, horse)
	}
	g, err := readGroups(tx)
	if err != nil {
		return err
	}
	for horse := range a.horses[tx.namespace] {
		note(a.horses, tx.namespace, g.lead(horse))
	}
	for horse := range a.horses[tx.namespace] {
		fresh, err := deriveHorse(tx, horse)
		if err != nil {
			return err
		}
		if fresh && tx.namespace == visitsNamespace {
			a.done.Horses++
			a.done.Changes = max(a.done.Changes-1, 0) // its first line is the horse
		}
	}
	before, err := readTotals(tx)
	if err != nil {
		return err
	}
	if err := a.foldVisits(tx); err != nil {
		return err
	}
	if tx.namespace == visitsNamespace {
		for key := range a.settings {
			if err := deriveSetting(tx, key); err != nil {
				return err
			}
		}
		var came []exam.VisitID
		for v := range a.came[tx.namespace] {
			came = append(came, v.visit())
		}
		slices.Sort(came) // by when they were opened
		if err := arrive(tx, came); err != nil {
			return err
		}
	}
	if err := lookAgain(tx); err != nil {
		return err
	}
	if err := a.outlines(tx); err != nil {
		return err
	}
	after, err := readTotals(tx)
	if tx.namespace == visitsNamespace {
		a.done.Visits += after.visits - before.visits
	} else {
		a.done.Rehearsals += after.visits - before.visits
	}
	return err
}

// foldVisits derives the visits of which lines came: read and written here, folded on all
// cores.
func (a *adoption) foldVisits(tx txn) error {
	visits := slices.SortedFunc(maps.Keys(a.visits[tx.namespace]), func(a, b id) int { return bytes.Compare(a[:], b[:]) })
	work := make([]func(gathered) (derived, error), min(runtime.GOMAXPROCS(0), len(visits)))
	for i := range work {
		work[i] = func(g gathered) (derived, error) { return g.fold(tx.namespace) }
	}
	all := newAssembly(work, func(d derived) error { return d.write(tx) })
	var err error
	for _, visit := range visits {
		var g gathered
		if g, err = gatherNow(tx, visit); err != nil {
			break
		}
		if err = all.Put(g); err != nil {
			break
		}
	}
	return all.End(err)
}

// gatherNow reads what a visit is derived from that is indexed.
func gatherNow(tx txn, visit id) (gathered, error) {
	h, err := headHere(tx, visit)
	if err != nil {
		return gathered{}, err
	}
	return gather(tx, visit, h.where)
}

// outlines writes those of the horses whose visits came.
func (a *adoption) outlines(tx txn) error {
	for visit := range a.visits[tx.namespace] {
		h, err := headHere(tx, visit)
		if err != nil {
			return err
		}
		if !h.waiting {
			note(a.horses, tx.namespace, h.horse)
		}
	}
	for horse := range a.horses[tx.namespace] {
		if err := outline(tx, horse); err != nil {
			return err
		}
	}
	return nil
}
