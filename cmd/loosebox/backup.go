package main

import (
	"context"
	"fmt"

	"filippo.io/age"
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/storage"
	"loosebox/storage/backup"
)

// backupFlags are what a backup is made with.
type backupFlags struct {
	to, key, newKey string
	drill, asJSON   bool
}

func (e *env) backupCommand() *cobra.Command {
	var f backupFlags
	c := &cobra.Command{
		Use: "backup [FILE]", Short: "an encrypted copy of the record, also while it is in use", Args: cobra.MaximumNArgs(1),
		Long: `backup copies the record and your own files, without the machine key, into one
encrypted file. A passphrase or a public key protects it.
Without FILE it goes into the backup folder of the settings. That folder keeps the
newest of 7 days and of 4 weeks. A backup also follows each closed visit.

The passphrase is asked for, or read from LOOSEBOX_PASSPHRASE. It can also stand
in the first line of a file that LOOSEBOX_PASSPHRASE_FILE names. --new-key makes a
key and puts its public half into the settings. Backups then need no passphrase.
Opening one needs the key file and its passphrase; keep both elsewhere.

--drill tests everything. It makes a backup (or takes FILE) and restores it into a
temporary folder. Then it checks every line and compares it with the record.`,
		RunE: func(c *cobra.Command, args []string) error {
			file := ""
			if len(args) > 0 {
				file = args[0]
			}
			switch {
			case f.newKey != "":
				return e.newKey(f.newKey)
			case f.drill:
				return e.drill(c.Context(), file, f)
			default:
				return e.backup(c.Context(), file, f)
			}
		},
	}
	c.Flags().StringVar(&f.to, "recipient", "", "encrypt to this public key (age1…) instead of a passphrase")
	c.Flags().StringVar(&f.key, "key", "", "with --drill FILE: the file of the key that opens it")
	c.Flags().StringVar(&f.newKey, "new-key", "", "make a key in this new file and put its public half into the settings")
	c.Flags().BoolVar(&f.drill, "drill", false, "make, restore and check a backup, then delete it")
	jsonFlag(c, &f.asJSON)
	return c
}

// backupJSON is what backup or restore did.
type backupJSON struct {
	Schema string `json:"schema"`
	File   string `json:"file,omitempty"`
	Folder string `json:"folder,omitempty"`
	backupAbout
}

type backupAbout struct {
	At      string `json:"at"`
	Machine string `json:"machine"`
	Lines   uint64 `json:"lines"`
	Size    int64  `json:"record_bytes"`
}

func aboutOf(a backup.About) backupAbout {
	return backupAbout{a.At.Format("2006-01-02T15:04:05Z07:00"), a.Machine, a.Lines, a.Size}
}

func (e *env) backup(ctx context.Context, file string, f backupFlags) error {
	return e.existing(func(r *storage.Record) error {
		set, err := r.Settings()
		if err != nil {
			return err
		}
		if file == "" && set.BackupFolder == "" {
			return usage("name a file, or set a backup folder in the settings (g on the home screen)")
		}
		if file == "" && f.to == "" {
			f.to = set.BackupRecipient // as each backup in the folder
		}
		to, err := e.recipients(f.to, set)
		if err != nil {
			return err
		}
		from := backup.From{Record: r, Folder: e.dataDir(), At: e.now()}
		var about backup.About
		ctx, end := e.progress(ctx, "backup:")
		defer end()
		if file == "" {
			var saved backup.Saved
			saved, err = from.Into(ctx, set.BackupFolder, to...)
			file, about = saved.File, saved.About
			if err == nil && saved.Notice != "" {
				e.say(saved.Notice)
			}
		} else {
			about, err = from.Save(ctx, file, "", to...)
		}
		end()
		if err != nil {
			return err
		}
		if f.asJSON {
			return e.printJSON(backupJSON{Schema: "loosebox/backup/1", File: file, backupAbout: aboutOf(about)})
		}
		return e.printf("%s written and read back, encrypted\n%d lines of this machine, record of %d bytes\n", file, about.Lines, about.Size)
	})
}

// recipients are whom a backup is encrypted to: the flag's key, a passphrase from
// the environment, the key of the settings, or a passphrase that is asked for.
func (e *env) recipients(flag string, set exam.Settings) ([]age.Recipient, error) {
	key := flag
	words := ""
	if key == "" {
		var err error
		if words, err = e.setPassphrase(); err != nil {
			return nil, err
		}
	}
	if key == "" && words == "" {
		key = set.BackupRecipient
	}
	if key != "" {
		to, err := backup.ToKeys(key)
		if err != nil {
			return nil, usage("%v", err)
		}
		return to, nil
	}
	if words == "" {
		var err error
		if words, err = e.askPassphrase("passphrase for the backup: ", true); err != nil {
			return nil, err
		}
	}
	to, err := backup.ToPassphrase(words, e.work)
	if err != nil {
		return nil, usage("%v", err)
	}
	return []age.Recipient{to}, nil
}

// newKey makes a key for backups and stores its public half.
func (e *env) newKey(file string) error {
	words, err := e.passphrase("passphrase that protects the key: ", true)
	if err != nil {
		return err
	}
	to, err := backup.ToPassphrase(words, e.work)
	if err != nil {
		return usage("%v", err)
	}
	return e.record(func(r *storage.Record) error {
		set, err := r.Settings()
		if err != nil {
			return err
		}
		public, err := backup.NewKey(file, to)
		if err != nil {
			return err
		}
		set.BackupRecipient = public
		if err := r.SaveSettings(set); err != nil {
			return fmt.Errorf("the key is in %s, its public half is not in the settings: %w", file, err)
		}
		return e.printf("%s holds the key. Its public half is in the settings: %s.\nKeep the file and its passphrase away from this machine. Without both no backup can be opened.\n", file, public)
	})
}
