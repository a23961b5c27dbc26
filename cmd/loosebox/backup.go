package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"filippo.io/age"
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/storage/unfinished"
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
	c.Flags().BoolVar(&f.asJSON, "json", false, "one JSON object")
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
	to, err := backup.ToPassphrase(words, 0)
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
	to, err := backup.ToPassphrase(words, 0)
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
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

// identities are what opens a backup: a key's file, or a passphrase.
func (e *env) identities(key string) ([]age.Identity, error) {
	ask := func() (string, error) { return e.passphrase("passphrase: ", false) }
	if key != "" {
		ids, err := backup.ReadKey(key, ask)
		return ids, notWhole(err)
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
func (d *damagedBackup) Unwrap() error        { return d.error }

// drill tries a backup out, an old one or one that is made for it.
func (e *env) drill(ctx context.Context, file string, f backupFlags) (err error) {
	folder, err := unfinished.MakeFolder(os.TempDir(), "loosebox-drill-", ofADrill) // its owner's alone
	if err != nil {
		return fmt.Errorf("the place for the drill cannot be made: %w", err)
	}
	defer func() { err = errors.Join(err, folder.Remove()) }()
	dir := folder.Path
	var with []age.Identity
	now := storage.Report{}
	if file != "" {
		if with, err = e.identities(f.key); err != nil {
			return err
		}
	} else if file, with, now, err = e.drillFile(ctx, dir); err != nil {
		return err
	}
	place := filepath.Join(dir, "restored")
	told, end := e.progress(ctx, "restoring")
	about, err := backup.Restore(told, file, place, checkApart(told), with...)
	end()
	if err != nil {
		return notWhole(err)
	}
	var back storage.Report
	err = e.recordIn(place, storage.Options{MustExist: true, Keyless: true}, func(r *storage.Record) error {
		ctx, end := e.progress(ctx, "checking the copy:")
		defer end()
		back, err = r.Check(ctx)
		return err
	})
	switch {
	case err != nil:
		return err
	case !back.OK:
		return errDamaged
	case now.OK && (back.Visits != now.Visits || back.Entries != now.Entries || back.Lines != now.Lines || back.Signatures != now.Signatures):
		return fmt.Errorf("the restored record has %d visits and %d entries, the record %d and %d", back.Visits, back.Entries, now.Visits, now.Entries)
	}
	if f.asJSON {
		return e.printJSON(struct {
			Schema     string `json:"schema"`
			Visits     int    `json:"visits"`
			Entries    int    `json:"entries"`
			Signatures int    `json:"signatures"`
			OK         bool   `json:"ok"`
			backupAbout
		}{"loosebox/backup/1", back.Visits, back.Entries, back.Signatures, true, aboutOf(about)})
	}
	return e.printf("the drill went well.\nA backup of %s was decrypted, restored and checked.\n%d visits, %d entries, %d signatures: every line is correct.\nThe copy was deleted.\n",
		about.At.Format("2 Jan 2006 15:04"), back.Visits, back.Entries, back.Signatures)
}

// ofADrill says whether a file below the drill's folder is one that a drill makes.
func ofADrill(name string) bool {
	return name == drillName || strings.HasPrefix(name, "loosebox-backup") || strings.HasPrefix(name, "restored/") || strings.HasPrefix(name, "restored.restoring-")
}

// drillName is the backup that a drill makes for itself.
const drillName = "drill.tar.age"

// drillFile makes a backup to a key that is thrown away, and says what the record holds.
func (e *env) drillFile(ctx context.Context, dir string) (file string, with []age.Identity, report storage.Report, err error) {
	id, err := age.GenerateX25519Identity()
	if err != nil {
		return "", nil, report, fmt.Errorf("make a key for the drill: %w", err)
	}
	file = filepath.Join(dir, drillName)
	err = e.existing(func(r *storage.Record) error {
		ctx, end := e.progress(ctx, "drill:")
		defer end()
		if report, err = r.Check(ctx); err != nil {
			return err
		}
		_, err := backup.From{Record: r, Folder: e.dataDir(), At: e.now()}.Save(ctx, file, "", id.Recipient())
		return err
	})
	return file, []age.Identity{id}, report, err
}
