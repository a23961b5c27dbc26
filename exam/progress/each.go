package progress

import (
	"context"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Each does a piece of work for every one of a list on all cores, and returns the results in
// the list's order; it says how far it is. The first error ends it, and so does the context.
func Each[In, Out any](ctx context.Context, what string, list []In, do func(In) (Out, error)) ([]Out, error) {
	out := make([]Out, len(list))
	g, gone := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	var mu sync.Mutex
	done := 0
	for i := range list {
		if gone.Err() != nil {
			break
		}
		g.Go(func() (err error) {
			if err = gone.Err(); err != nil {
				return err
			}
			if out[i], err = do(list[i]); err != nil {
				return err
			}
			mu.Lock()
			defer mu.Unlock()
			done++
			Say(ctx, what, done, len(list))
			return nil
		})
	}
	err := g.Wait()
	if err == nil {
		err = ctx.Err()
	}
	return out, err
}
