package storage

import (
	"cmp"
	"context"
	"fmt"

	"loosebox/exam"
)

// recount makes derived rows again after the range of lines that count has changed from was to now:
// lines that no longer count are removed from the index, others are added, and only the visits,
// horses, days and settings of those lines are derived again.
func recount(ctx context.Context, tx txn, was, now ended) error {
	for _, b := range namespaces() {
		if err := recountNamespace(ctx, tx.in(b), was, now); err != nil {
			return err
		}
	}
	return nil
}

func recountNamespace(ctx context.Context, tx txn, was, now ended) error {
	out, in, err := moved(ctx, tx, was, now)
	if err != nil || len(out)+len(in) == 0 {
		return err
	}
	a := newAdoption(tx, new(Adopted))
	for _, l := range out {
		if err := a.takeOut(tx, l); err != nil {
			return err
		}
	}
	if err := a.take(tx, in); err != nil {
		return err
	}
	if err := a.gone(tx); err != nil {
		return err
	}
	return a.derive(tx)
}

// moved are the lines of a namespace that count no more, and those that count from now on.
func moved(ctx context.Context, tx txn, was, now ended) (out, in []located, err error) {
	logs, err := logsOf(tx)
	if err != nil {
		return nil, nil, err
	}
	for _, log := range logs {
		old, upTo := max(min(was.upTo(log), log.N), log.Base), max(min(now.upTo(log), log.N), log.Base)
		if old == upTo {
			continue
		}
		into := &in
		if upTo < old {
			into = &out
		}
		from := min(old, upTo) + 1
		var wrong error
		err := readRun(tx, log, run{place{log.Number, from}, max(old, upTo) + 1 - from}, func(l line) {
			at, err := locate(tx.namespace, l)
			wrong = cmp.Or(wrong, err, ctx.Err())
			*into = append(*into, at)
		})
		if err := cmp.Or(err, wrong); err != nil {
			return nil, nil, err
		}
	}
	return out, in, nil
}

// takeOut takes a line out of the index, and notes what is to be made again.
func (a *adoption) takeOut(tx txn, l located) error {
	for _, h := range l.heads {
		if err := deleteRow(tx, bucketSeen, seenKey(l.log, l.n, h)); err != nil {
			return err
		}
	}
	switch l.kind {
	case exam.LineEntry:
		note(a.visits, tx.namespace, l.about)
		return a.takeEntryOut(tx, l)
	case exam.LineHorse:
		note(a.horses, tx.namespace, l.about)
		return takeRunOut(tx, bucketHorseLines, l.about[:], l.place)
	case exam.LineRound:
		return takeRunOut(tx, bucketRoundLines, []byte(l.day), l.place)
	case exam.LineJoin:
		return takeRunOut(tx, bucketMeta, []byte(rowJoins), l.place)
	case exam.LinePractice:
		a.settings[l.setting] = true
		return takeRunOut(tx, bucketSettingLines, []byte(l.setting), l.place)
	case exam.LineSettings:
	}
	return nil
}

// takeEntryOut takes a line out of its visit, which is in no list then until it is derived.
func (a *adoption) takeEntryOut(tx txn, l located) error {
	h, err := headHere(tx, l.about)
	if err != nil {
		return err
	}
	if !h.waiting {
		note(a.horses, tx.namespace, h.horse)
		if err := unlist(tx, l.about, h); err != nil {
			return err
		}
	}
	h.closed, h.struck, h.waiting, h.where = false, false, true, h.where.without(l.place)
	return h.write(tx, l.about)
}

// headHere is the head of a visit that has lines, listed or not.
func headHere(tx txn, visit id) (head, error) {
	data, err := getRow(tx, bucketVisits, visit[:])
	if err != nil {
		return head{}, err
	}
	return decodeHead(data)
}

// unlist takes a visit out of its horse's summary and out of the totals.
func unlist(tx txn, visit id, h head) error {
	s, err := readSummary(tx, h.horse)
	if err != nil {
		return err
	}
	if !s.forgetVisit(visit) {
		return damaged("visit %s is not among those of its horse", visit)
	}
	if err := s.write(tx, h.horse); err != nil {
		return err
	}
	n, err := readTotals(tx)
	if err != nil {
		return err
	}
	n.visits--
	if err := n.write(tx); err != nil {
		return err
	}
	return deleteRow(tx, bucketSnapshots, visit[:])
}

// takeRunOut notes one line less of a horse, a day or a setting; a row without lines goes.
func takeRunOut(tx txn, name string, key []byte, p place) error {
	r, err := readRuns(tx, name, key)
	if err != nil {
		return err
	}
	if r = r.without(p); len(r) == 0 && name != bucketMeta {
		return deleteRow(tx, name, key)
	}
	return putRow(tx, name, key, r.append(nil))
}

func deleteRow(tx txn, name string, key []byte) error {
	b, err := bucket(tx, name)
	if err != nil {
		return err
	}
	if err := b.Delete(key); err != nil {
		return fmt.Errorf("write %s: %w", tx.named(name), err)
	}
	return nil
}
