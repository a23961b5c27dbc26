package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/storage/share"
)

func (e *env) shareWatchCommand() *cobra.Command {
	var folder string
	var every, most time.Duration
	c := &cobra.Command{
		Use: "watch", Short: "keep exchanging with a folder, on a machine without a screen", Args: cobra.NoArgs,
		Long: `watch exchanges at once and then each half minute, and says so where something came
or went. The record is closed between, so that other commands can use it. A folder that
is not there, as when its stick is pulled out, is waited for. A signal ends it.`,
		RunE: func(c *cobra.Command, _ []string) error {
			if every < time.Second {
				return usage("--every is at least 1s")
			}
			var over <-chan time.Time // never
			if most > 0 {
				over = time.After(most)
			}
			return e.watchFolder(c.Context(), folder, every, over)
		},
	}
	c.Flags().StringVar(&folder, "folder", "", "the folder (default: the folder of the settings)")
	c.Flags().DurationVar(&every, "every", shareEvery, "how often it is looked at")
	c.Flags().DurationVar(&most, "for", 0, "end after this time, as 8h (default: never)")
	return c
}

// watchFolder exchanges again and again, until the context ends or the time is over; an
// exchange that has begun is finished then. What stands in the way is said once as long as
// it stays the same.
func (e *env) watchFolder(ctx context.Context, name string, every time.Duration, over <-chan time.Time) error {
	tick := time.NewTicker(every)
	defer tick.Stop()
	var known *share.Folder
	var whole time.Time
	said := ""
	for {
		err := e.record(func(r *storage.Record) error {
			dir, err := shareFolder(r, name)
			if err != nil {
				return err
			}
			e.sharer.folder, e.sharer.dir, e.sharer.whole = known, dir, whole
			done, err := e.sharer.exchange(ctx, dir, true)
			known, whole = e.sharer.folder, e.sharer.whole
			if err == nil && (done.Came > 0 || done.Lines > 0) {
				err = e.printf("%s came in: %s; went out: %s\n", e.now().Format("2006-01-02 15:04"), notation.Counted(done.Came, "line"), notation.Counted(done.Lines, "line"))
			}
			return errors.Join(err, done.Unwritten)
		})
		text := ""
		var wrongUse *usageError
		switch {
		case err == nil:
		case errors.As(err, &wrongUse), errors.Is(err, exam.ErrDamaged):
			return err
		case ctx.Err() == nil:
			text = inWords(err)
		}
		if text != "" && text != said {
			e.say(fmt.Sprintf("%s %s", e.now().Format("15:04"), text))
		}
		said = text
		select {
		case <-tick.C:
		case <-over:
			return nil
		case <-ctx.Done():
			return nil
		}
	}
}
