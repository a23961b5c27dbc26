package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"filippo.io/age"

	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/storage/unfinished"
)

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
		notation.ShownAt(about.At, e.now()), back.Visits, back.Entries, back.Signatures)
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
