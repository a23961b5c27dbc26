package class

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
)

// Gather finds every set exam that was taken in the given stores, each as its class; the exam that was begun last comes
// first. A rehearsal that stands in several stores, as after an exchange or an import, counts once. What cannot be marked
// comes back with its reason. The error says that a store cannot be read.
func Gather(stores []exam.Store, reader progress.Reader, steps *exam.Steps) ([]Results, []progress.Unmarked, error) {
	type taken struct {
		set  rehearse.Set
		all  []rehearse.Marks
		last int64
	}
	bySet := map[string]*taken{}
	seen := map[exam.VisitID]bool{}
	var not []progress.Unmarked
	for _, store := range stores {
		visits, err := store.Recent(0)
		if err != nil {
			return nil, nil, fmt.Errorf("the rehearsals cannot be read: %w", err)
		}
		for _, v := range visits {
			set, ok := rehearse.SetIn(v, steps)
			if !ok || seen[v.ID] {
				continue
			}
			seen[v.ID] = true
			entries, err := store.Entries(v.ID)
			if err != nil {
				return nil, nil, fmt.Errorf("a rehearsal cannot be read: %w", err)
			}
			m, err := reader.Marks(entries)
			switch {
			case errors.Is(err, progress.ErrCannotMark):
				not = append(not, progress.Unmarked{Visit: v.ID, At: v.OpenedAt, By: v.By, Why: err.Error()})
				continue
			case err != nil:
				return nil, nil, err
			}
			t := bySet[set.Digest]
			if t == nil {
				t = &taken{set: set}
				bySet[set.Digest] = t
			}
			t.all, t.last = append(t.all, m), max(t.last, v.OpenedAt.UnixNano())
		}
	}
	var list []*taken
	for _, t := range bySet {
		list = append(list, t)
	}
	slices.SortFunc(list, func(a, b *taken) int {
		return cmp.Or(cmp.Compare(b.last, a.last), cmp.Compare(a.set.Digest, b.set.Digest))
	})
	out := make([]Results, len(list))
	for i, t := range list {
		out[i] = New(t.set, t.all)
	}
	return out, not, nil
}
