package main

import (
	"context"

	"github.com/spf13/cobra"

	"loosebox/storage"
)

func (e *env) shareOutCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "out NAME --key FILE", Short: "end a laptop: what it writes from now on does not count", Args: cobra.ExactArgs(1),
		Long: `out takes a laptop out of the practice, as when it was lost or sold. Lines that this
record holds of it stay. Lines that it writes afterwards are kept, shown apart and do
not count.

It can still read what it holds, and what is on sticks and on the hub by now. Of what comes
later it reads nothing only where the practice seals it (share seal). A laptop that has not
learned of the end yet still seals to it.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareOut(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.key, "key", "", "the file of the practice's key")
	return c
}

func (e *env) shareOut(ctx context.Context, name string, f peopleFlags) error {
	if f.key == "" {
		return usage("name the file of the practice's key with --key")
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		out, err := laptopCalled(have, name)
		if err != nil {
			return err
		}
		phrase, err := e.passphrase("passphrase of the practice: ", false)
		if err != nil {
			return err
		}
		if err := e.takeOut(ctx, r, out, f.key, phrase); err != nil {
			return err
		}
		return e.printf("%s is out from now on. The other laptops learn it at their next exchange.\n%s\n", out.Name, stillReads(have))
	})
}
