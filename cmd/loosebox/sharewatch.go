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
)

func (e *env) shareWatchCommand() *cobra.Command {
	var folder string
	var every, most time.Duration
	c := &cobra.Command{
		Use: "watch", Short: "keep exchanging, on a machine without a screen", Args: cobra.NoArgs,
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
	wake := make(chan struct{}, 1) // the hub has something new
	known := &sharer{}
	defer known.leave()
	said := ""
	for {
		err := e.record(func(r *storage.Record) error {
			list, err := meetings(r, name)
			if err != nil {
				return err
			}
			handOn(known, e.sharer)
			e.sharer.wake = wake
			defer handOn(e.sharer, known)
			err = e.sharer.exchangeAll(ctx, list, true)
			came, out := 0, 0
			for _, m := range list {
				came, out, err = came+m.Came, out+m.Lines, errors.Join(err, m.Unwritten)
			}
			if came > 0 || out > 0 {
				err = errors.Join(err, e.printf("%s came in: %s; went out: %s\n", e.now().Format("2 Jan 2006 15:04"), notation.Counted(came, "line"), notation.Counted(out, "line")))
			}
			return err
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
		case <-wake:
		case <-over:
			return nil
		case <-ctx.Done():
			return nil
		}
	}
}

// handOn hands what is known of folder and hub from one run of an open record to the next;
// the connection to the hub goes along.
func handOn(from, to *sharer) {
	to.folder, to.dir, to.whole, to.hubs = from.folder, from.dir, from.whole, from.hubs
	from.hubs = hubs{}
}
