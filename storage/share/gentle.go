package share

import (
	"context"
	"time"

	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// Gently is a record that takes in a segment a transaction, and leaves as much time to
// others between two as one took: an answer waits for one transaction at most.
func Gently(r Record, now func() time.Time) Record { return gentle{r, now} }

type gentle struct {
	Record
	now func() time.Time
}

// mostRest is the longest time between two segments.
const mostRest = time.Second

func (g gentle) Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (storage.Adopted, error) {
	var all storage.Adopted
	err := feed(func(s signedlog.Segment) error {
		before := g.now()
		done, err := g.Record.Adopt(ctx, func(take func(signedlog.Segment) error) error { return take(s) })
		all.Add(done)
		rest := time.NewTimer(min(g.now().Sub(before), mostRest))
		defer rest.Stop()
		select {
		case <-rest.C:
		case <-ctx.Done():
		}
		return err
	})
	return all, err
}
