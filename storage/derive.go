package storage

import (
	"encoding/json"
	"fmt"
	"slices"

	"loosebox/exam"
)

// Derived rows follow from the lines alone. A write to a visit updates them itself (append.go);
// here they are made from the beginning, where lines come from elsewhere or everything is rebuilt.

// deriveVisit writes head, snapshot and the horse's summary of a visit whose lines lie
// at some places. A visit whose opening or horse is not here waits: it is in no list
// and counts nowhere until they come.
func deriveVisit(tx txn, visit id, where runs) error {
	d, err := foldedAt(tx, visit, where)
	if err != nil {
		return err
	}
	return d.write(tx)
}

// derived is what follows from the lines of a visit.
type derived struct {
	visit    id
	head     head
	fold     exam.Visit
	snapshot []byte // of a closed visit
}

// gathered are the lines of a visit and its horse, as far as it is here.
type gathered struct {
	visit id
	where runs
	list  []exam.Entry
	horse id
	here  bool
}

// gather reads what a visit is derived from.
func gather(tx txn, visit id, where runs) (g gathered, err error) {
	g.visit, g.where = visit, where
	if g.list, _, err = entriesAt(tx, visit, where); err != nil {
		return g, err
	}
	g.horse, g.here, err = horseOf(tx, g.list[0])
	return g, err
}

// fold derives a visit of a namespace; it may run beside others.
func (g gathered) fold(b namespace) (d derived, err error) {
	d.visit = g.visit
	if !g.here {
		d.head = head{waiting: true, seq: len(g.list), last: g.list[len(g.list)-1].Hash, where: g.where}
		return d, nil
	}
	if d.fold, err = exam.Fold(g.list); err != nil {
		return d, fmt.Errorf("visit %s: %w", g.visit, err)
	}
	if err := belongs(b, d.fold); err != nil {
		return d, err
	}
	d.head = head{seq: d.fold.Entries, last: d.fold.Last, closed: d.fold.Closed(), struck: !d.fold.Stands(), horse: g.horse, where: g.where}
	if d.head.closed {
		d.snapshot, err = encodeSnapshot(d.fold)
	}
	return d, err
}

// foldedAt derives a visit from its lines; it writes nothing.
func foldedAt(tx txn, visit id, where runs) (derived, error) {
	g, err := gather(tx, visit, where)
	if err != nil {
		return derived{visit: visit}, err
	}
	return g.fold(tx.namespace)
}

// write stores what was derived.
func (d derived) write(tx txn) error {
	if d.head.waiting {
		return wait(tx, d.visit, d.head)
	}
	if err := listVisit(tx, d.visit, d.fold, d.head); err != nil {
		return err
	}
	if err := d.head.write(tx, d.visit); err != nil || !d.head.closed {
		return err
	}
	return putRow(tx, bucketSnapshots, d.visit[:], d.snapshot)
}

// horseOf is the horse of a visit by its first line; false where the line is no
// opening, or the horse is not here.
func horseOf(tx txn, first exam.Entry) (id, bool, error) {
	if first.Kind != exam.EntryOpened || first.Opening == nil {
		return id{}, false, nil
	}
	horse, ok := parseID(string(first.Opening.Horse.ID))
	if !ok {
		return horse, false, damaged("visit %s names no horse", first.Visit)
	}
	data, err := getRow(tx, bucketSummaries, horse[:])
	return horse, data != nil, err
}

// belongs says whether a visit is kept in the right namespace.
func belongs(b namespace, v exam.Visit) error {
	if (exam.Opening{Source: v.Source}).IsRehearsal() != (b == rehearsalsNamespace) {
		return damaged("visit %s belongs into the other book of the record", v.ID)
	}
	return nil
}

// listVisit brings the horse's summary up to a visit.
func listVisit(tx txn, visit id, v exam.Visit, h head) error {
	s, err := readSummary(tx, h.horse)
	if err != nil {
		return err
	}
	data, err := getRow(tx, bucketVisits, visit[:])
	if err != nil {
		return err
	}
	old, err := head{waiting: true}, error(nil)
	if data != nil {
		if old, err = decodeHead(data); err != nil {
			return err
		}
	}
	if old.waiting {
		s.addVisit(slotOf(visit, v.OpenedAt), !h.closed)
		n, err := readTotals(tx)
		if err != nil {
			return err
		}
		n.visits++
		if err := n.write(tx); err != nil {
			return err
		}
	}
	if h.closed {
		s.closeVisit(visit)
	}
	if h.struck {
		s.strikeVisit(visit)
	}
	s.settleVisit(visit, len(v.Unsettled()) > 0)
	return s.write(tx, h.horse)
}

// deriveHorse writes a horse's summary as its lines say; its visits stay.
func deriveHorse(tx txn, horse id) (fresh bool, err error) {
	g, err := readGroups(tx)
	if err != nil {
		return false, err
	}
	now, err := foldHorse(tx, g, horse)
	if err != nil {
		return false, err
	}
	s, newest, err := summaryOrNew(tx, horse)
	if err != nil {
		return false, err
	}
	if err := s.setHorse(now); err != nil {
		return false, err
	}
	return newest == 0, s.write(tx, horse)
}

// rowWaiting is the row of meta that lists the visits that wait.
const rowWaiting = "waiting"

func waitingVisits(tx txn) ([]exam.VisitID, error) {
	data, err := getRow(tx, bucketMeta, []byte(string(tx.namespace)+rowWaiting))
	if err != nil || data == nil {
		return nil, err
	}
	var list []exam.VisitID
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, damaged("the visits that wait cannot be read (%v)", err)
	}
	return list, nil
}

func writeWaiting(tx txn, list []exam.VisitID) error {
	data, err := json.Marshal(list)
	if err != nil {
		return fmt.Errorf("write the visits that wait: %w", err)
	}
	return putRow(tx, bucketMeta, []byte(string(tx.namespace)+rowWaiting), data)
}

// wait notes a visit that cannot be read yet.
func wait(tx txn, visit id, h head) error {
	list, err := waitingVisits(tx)
	if err != nil {
		return err
	}
	if !slices.Contains(list, visit.visit()) {
		if err := writeWaiting(tx, append(list, visit.visit())); err != nil {
			return err
		}
	}
	return h.write(tx, visit)
}

// lookAgain derives the visits that wait: what they waited for may be here now.
func lookAgain(tx txn) error {
	list, err := waitingVisits(tx)
	if err != nil || len(list) == 0 {
		return err
	}
	if err := writeWaiting(tx, nil); err != nil {
		return err
	}
	for _, v := range list {
		visit, ok := parseID(string(v))
		if !ok {
			return damaged("a visit that waits has no identity")
		}
		h, err := headHere(tx, visit)
		if err != nil {
			return err
		}
		if err := deriveVisit(tx, visit, h.where); err != nil {
			return err
		}
	}
	return nil
}
