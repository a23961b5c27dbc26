package due

import (
	"context"
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/inorder"
	"loosebox/exam/notation"
	"loosebox/exam/progress"
)

// Each lists what is due for some horses of a store, which are read on all cores, and hands
// the lists on in the horses' order. It holds a few of them, however many horses there are. The
// first error ends it, that of take too.
func (t *Table) Each(ctx context.Context, store exam.Store, horses []exam.Horse, now time.Time, take func(List) error) error {
	done := 0
	lists := inorder.OnAll(func(h exam.Horse) (List, error) {
		visits, err := store.Outline(h.ID, Since(now))
		if err != nil {
			return List{}, fmt.Errorf("the visits of %s cannot be read; nothing was changed: %w", notation.CleanLine(h.Name, 40), err)
		}
		return t.For(h, visits, now), nil
	}, func(l List) error {
		done++
		progress.Say(ctx, "horses", done, len(horses))
		return take(l)
	})
	var err error
	for i := 0; i < len(horses) && err == nil; i++ {
		if err = ctx.Err(); err == nil {
			err = lists.Put(horses[i])
		}
	}
	return lists.End(err)
}
