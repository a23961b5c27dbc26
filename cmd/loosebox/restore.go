package main

import (
	"errors"

	"filippo.io/age"
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/storage/backup"
)

func (e *env) restoreCommand() *cobra.Command {
	var key string
	var asJSON bool
	c := &cobra.Command{
		Use: "restore FILE", Short: "restore a backup into a new folder, after it was checked", Args: cobra.ExactArgs(1),
		Long: `restore decrypts a backup beside the data folder (--data) and checks every line.
Only then it moves the record to its folder. A folder that has a record is never
touched. A wrong passphrase, a changed bit or a cut end is refused as a whole.
Later entries are not in the backup.`,
		RunE: func(c *cobra.Command, args []string) error {
			with, err := e.identities(key)
			if err != nil {
				return err
			}
			ctx, end := e.progress(c.Context(), "restoring")
			about, err := backup.Restore(ctx, args[0], e.dataDir(), checkApart(ctx), with...)
			end()
			if err != nil {
				return notWhole(err)
			}
			if asJSON {
				return e.printJSON(backupJSON{Schema: "loosebox/restore/1", File: args[0], Folder: e.dataDir(), backupAbout: aboutOf(about)})
			}
			return e.printf("restored into %s; every line is as it was written\nthe record of %s, %d lines of its machine\n",
				e.dataDir(), about.At.Format("2 Jan 2006 15:04 -07:00"), about.Lines)
		},
	}
	c.Flags().StringVar(&key, "key", "", "the file of the key, where the backup was encrypted to one")
	jsonFlag(c, &asJSON)
	return c
}

// identities are what opens a backup: a key's file, or a passphrase.
func (e *env) identities(key string) ([]age.Identity, error) {
	ask := func() (string, error) { return e.passphrase("passphrase: ", false) }
	if key != "" {
		return backup.ReadKey(key, ask)
	}
	words, err := ask()
	if err != nil {
		return nil, err
	}
	id, err := backup.WithPassphrase(words)
	if err != nil {
		return nil, usage("%v", err)
	}
	return []age.Identity{id}, nil
}

// notWhole gives a backup that is not whole the code of damage.
func notWhole(err error) error {
	if errors.Is(err, backup.ErrNotWhole) {
		return &damagedBackup{err}
	}
	return err
}

type damagedBackup struct{ error }

// Is makes it damage, for the exit code.
func (d *damagedBackup) Is(target error) bool { return target == exam.ErrDamaged }

func (d *damagedBackup) Unwrap() error { return d.error }
