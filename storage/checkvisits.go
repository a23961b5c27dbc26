package storage

import (
	"loosebox/exam"
	"loosebox/exam/progress"
)

// checkedVisit is a visit read from its lines, with what is to be compared to it.
type checkedVisit struct {
	id      id
	head    head
	wrong   error // its head cannot be read
	lines   int
	fold    exam.Visit
	why     error // it cannot be folded
	belongs error
	// stored is why its snapshot cannot be read; fits, that it is the fold.
	stored error
	fits   bool
	thin   thinSum // of a closed visit
}

// readVisitAlone reads and folds a visit; it may run beside others.
func readVisitAlone(tx txn, key, data []byte) (c checkedVisit) {
	c.id = id(key)
	if c.head, c.wrong = decodeHead(data); c.wrong != nil || c.head.waiting {
		return c
	}
	list, _, err := entriesAt(tx, c.id, c.head.where)
	c.lines, c.why = len(list), err
	if err == nil {
		c.fold, c.why = exam.Fold(list)
	}
	if c.why != nil {
		return c
	}
	c.belongs = belongs(tx.namespace, c.fold)
	if c.fold.Closed() {
		c.fits, c.stored = snapshotIs(tx, c.id, c.fold)
		if c.thin, err = sumThin(c.fold.Thin()); err != nil {
			c.stored = err
		}
	}
	return c
}

// aFew is how many visits one core is given at a time.
const aFew = 32

// visits reads every line of every visit and folds it, on all cores.
func (c *checker) visits(tx txn) error {
	n, err := readTotals(tx)
	if err != nil {
		n = totals{} // it is damaged, which the check of the totals says
	}
	type row struct{ key, data []byte }
	var work []func([]row) ([]checkedVisit, error)
	for _, t := range c.beside {
		own := t.in(c.namespace)
		work = append(work, func(rows []row) (out []checkedVisit, err error) {
			for _, r := range rows {
				out = append(out, readVisitAlone(own, r.key, r.data))
			}
			return out, nil
		})
	}
	a := newAssembly(work, func(few []checkedVisit) error {
		for _, v := range few {
			c.visit(v)
		}
		progress.Say(c.ctx, "visits", c.totals.visits, n.visits)
		return c.ctx.Err()
	})
	var few []row
	err = eachRow(tx, bucketVisits, func(key, data []byte) error {
		if len(key) != 16 {
			return damaged("a visit has a wrong key")
		}
		if few = append(few, row{key, data}); len(few) < aFew {
			return nil
		}
		now := few
		few = nil
		return a.Put(now)
	})
	if err == nil && len(few) > 0 {
		err = a.Put(few)
	}
	return a.End(err)
}

// visit counts a visit that was read, and sets it beside its head and its horse.
func (c *checker) visit(v checkedVisit) {
	if v.wrong != nil {
		c.note(v.id.String(), v.wrong)
		return
	}
	if v.head.waiting {
		c.Waiting++
		c.found[exam.LineEntry] += v.head.where.lines()
		return
	}
	c.totals.visits++
	if c.namespace == rehearsalsNamespace {
		c.Rehearsals++
	} else {
		c.Visits++
	}
	c.Entries += v.lines
	c.found[exam.LineEntry] += v.lines
	if v.why != nil {
		c.note(v.id.String(), v.why)
		return
	}
	c.note(v.id.String(), v.belongs)
	c.compare(v)
}

// compare sets one visit beside its head and its snapshot.
func (c *checker) compare(v checkedVisit) {
	fold, h := v.fold, v.head
	horse, ok := parseID(string(fold.Horse.ID))
	if s := c.now[horse]; !ok || s == nil {
		c.broken(v.id, 1, "its horse %q is not in the record", fold.Horse.ID)
	} else {
		s.addVisit(slotOf(v.id, fold.OpenedAt), !fold.Closed())
		if !fold.Stands() {
			s.strikeVisit(v.id)
		}
		s.settleVisit(v.id, len(fold.Unsettled()) > 0)
	}
	switch {
	case h.seq != fold.Entries || h.last != fold.Last:
		c.broken(v.id, fold.Entries, "%d entries are there, %d were written", fold.Entries, h.seq)
	case h.closed != fold.Closed() || h.struck == fold.Stands() || h.horse != horse:
		c.broken(v.id, 0, "its head does not fit its entries")
	}
	if fold.Closed() && fold.Stands() && ok {
		c.thin[horse] = c.thin[horse].with(v.id, v.thin)
	}
	switch {
	case !fold.Closed():
	case v.stored != nil:
		c.note(v.id.String(), v.stored)
	case !v.fits:
		c.broken(v.id, 0, "its snapshot is not the fold of its entries")
	}
}
