package storage

import (
	"context"

	"loosebox/exam/progress"
)

// derive copies the logs and derives everything else; it returns what each namespace holds.
func (a *anew) derive(ctx context.Context) (map[namespace]totals, error) {
	if err := a.copyLogs(ctx); err != nil {
		return nil, err
	}
	out := map[namespace]totals{}
	for _, b := range namespaces() {
		n, err := a.deriveNamespace(ctx, b)
		if err != nil {
			return nil, err
		}
		out[b] = n
	}
	return out, nil
}

// deriveNamespace derives one namespace and returns what it holds.
func (a *anew) deriveNamespace(ctx context.Context, b namespace) (totals, error) {
	var old totals
	err := a.of.run(a.of.db.View, func(tx txn) error {
		var err error
		if old, err = readTotals(tx.in(b)); err != nil {
			old = totals{} // the row is made again
		}
		return indexLogs(ctx, tx.in(b), func(list []located) error {
			return a.write(func(into txn) error { return putAll(into.in(b), list) })
		})
	})
	if err != nil {
		return totals{}, err
	}
	err = a.write(func(tx txn) error {
		if _, err := regroup(tx.in(b)); err != nil {
			return err
		}
		return deriveSettings(tx.in(b))
	})
	if err != nil {
		return totals{}, err
	}
	if err := a.eachOf(ctx, b, bucketHorseLines, func(tx txn, horse id) error {
		_, err := deriveHorse(tx, horse)
		return err
	}); err != nil {
		return totals{}, err
	}
	if err := a.visits(ctx, b, old.visits); err != nil {
		return totals{}, err
	}
	if err := a.eachOf(ctx, b, bucketHorseLines, outline); err != nil {
		return totals{}, err
	}
	var n totals
	err = a.into.run(a.into.db.View, func(tx txn) (err error) {
		n, err = readTotals(tx.in(b))
		return err
	})
	if err == nil && (n.visits < old.visits || n.horses < old.horses) {
		err = damaged("%d horses and %d visits are there, %d and %d were written", n.horses, n.visits, old.horses, old.visits)
	}
	return n, err
}

// ids lists the keys of a bucket of the new file.
func (a *anew) ids(b namespace, name string) (list []id, err error) {
	err = a.into.run(a.into.db.View, func(tx txn) error {
		return eachKey(tx.in(b), name, func(key id) error { list = append(list, key); return nil })
	})
	return list, err
}

// eachOf calls fn for every horse of a bucket, some in a transaction.
func (a *anew) eachOf(ctx context.Context, b namespace, name string, fn func(txn, id) error) error {
	list, err := a.ids(b, name)
	for err == nil && len(list) > 0 {
		now := list[:min(atOnce, len(list))]
		list = list[len(now):]
		err = a.write(func(tx txn) error {
			for _, one := range now {
				if err := fn(tx.in(b), one); err != nil {
					return err
				}
			}
			return ctx.Err()
		})
	}
	return err
}

// visits folds every visit on all cores, some at a time, and writes them in one transaction.
func (a *anew) visits(ctx context.Context, b namespace, all int) error {
	list, err := a.ids(b, bucketVisits)
	done := 0
	for err == nil && len(list) > 0 {
		now := list[:min(atOnce, len(list))]
		list = list[len(now):]
		var some []derived
		if some, err = a.fold(b, now); err != nil {
			return err
		}
		err = a.write(func(tx txn) error {
			for _, d := range some {
				if err := d.write(tx.in(b)); err != nil {
					return err
				}
			}
			return ctx.Err()
		})
		done += len(now)
		progress.Say(ctx, "visits", done, all)
	}
	return err
}

// fold derives some visits on all cores; what it reads is closed again before it returns.
func (a *anew) fold(b namespace, visits []id) (out []derived, err error) {
	err = a.into.viewOnAll(func(_ txn, beside []txn) error {
		var work []func([]id) ([]derived, error)
		for _, t := range beside {
			own := t.in(b)
			work = append(work, func(few []id) (some []derived, err error) {
				for _, visit := range few {
					g, err := gatherNow(own, visit)
					if err != nil {
						return nil, err
					}
					d, err := g.fold(b)
					if err != nil {
						return nil, err
					}
					some = append(some, d)
				}
				return some, nil
			})
		}
		all := newAssembly(work, func(some []derived) error { out = append(out, some...); return nil })
		var err error
		for len(visits) > 0 && err == nil {
			few := visits[:min(aFew, len(visits))]
			visits = visits[len(few):]
			err = all.Put(few)
		}
		return all.End(err)
	})
	return out, err
}
