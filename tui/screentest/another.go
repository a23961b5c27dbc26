package screentest

import (
	"time"

	"loosebox/exam"
)

// OnAnother is the store with the visits that are open now shown as open on a colleague's laptop, "truck". An error where
// they cannot be read.
func OnAnother(store exam.Store) (exam.Store, error) {
	open, err := store.Unfinished()
	there := map[exam.VisitID]bool{}
	for _, v := range open {
		there[v.ID] = true
	}
	return onAnother{store, there}, err
}

type onAnother struct {
	exam.Store
	visits map[exam.VisitID]bool
}

func (o onAnother) there(list ...exam.Visit) []exam.Visit {
	for i := range list {
		if v := &list[i]; o.visits[v.ID] {
			v.Elsewhere = true
			v.Laptops = []exam.OnLaptop{{Laptop: "truck", Named: true, By: []string{v.By}, From: v.OpenedAt, To: v.OpenedAt.Add(22 * time.Minute), Holds: true}}
		}
	}
	return list
}

// Visit is Visit of the store, open on the other laptop.
func (o onAnother) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := o.Store.Visit(id)
	return o.there(v)[0], err
}

// Past is Past of the store, open visits on the other laptop.
func (o onAnother) Past(h exam.HorseID, limit int) ([]exam.Visit, error) {
	list, err := o.Store.Past(h, limit)
	return o.there(list...), err
}

// Unfinished is Unfinished of the store, on the other laptop.
func (o onAnother) Unfinished() ([]exam.Visit, error) {
	list, err := o.Store.Unfinished()
	return o.there(list...), err
}
