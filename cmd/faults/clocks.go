package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"filippo.io/age"

	"loosebox/storage/backup"
)

// tryBackupClock makes backups into one folder under a clock that jumps by hours, days
// and years. Each that is reported as written stays, until one that is newer by its
// name and was made later takes its day or week.
func tryBackupClock(dir string, r rounds) (outcome, error) {
	rnd, o := chance(r, 41), outcome{lost: "nothing"}
	id, err := age.GenerateX25519Identity()
	if err != nil {
		return o, err
	}
	told := 0
	err = withRecord(filepath.Join(dir, "record"), r.seed, func(a *actor) error {
		for i := range r.others {
			stick := filepath.Join(dir, fmt.Sprint("stick ", i))
			if err := os.Mkdir(stick, 0o700); err != nil {
				return err
			}
			at, newest := noon(), time.Time{}
			for range 25 {
				at = at.Add(jumps()[rnd.IntN(len(jumps()))])
				before, err := os.ReadDir(stick)
				if err != nil {
					return err
				}
				saved, err := backup.From{Record: a.r, Folder: filepath.Join(dir, "record"), At: at}.Into(context.Background(), stick, id.Recipient())
				if err != nil {
					return err
				}
				if info, err := os.Stat(saved.File); err != nil || info.Size() == 0 {
					return broken("a backup that was reported as written is not there: %v", err)
				}
				after, err := os.ReadDir(stick)
				if err != nil {
					return err
				}
				ahead := newest.After(at.Add(time.Minute)) // names of one second are set apart by seconds
				if ahead && (saved.Notice == "" || len(after) != len(before)+1) {
					return broken("the clock is behind the newest backup: said %q, %d files of %d stayed", saved.Notice, len(after)-1, len(before))
				}
				if saved.Notice != "" {
					told++
				}
				if at.After(newest) {
					newest = at
				}
				o.times++
			}
		}
		return nil
	})
	o.seen = fmt.Sprintf("each backup that was reported as written is there; %d times the clock was behind the newest name, which was said, and nothing was removed", told)
	return o, err
}

// jumps of a clock between two backups.
func jumps() []time.Duration {
	const day = 24 * time.Hour
	return []time.Duration{0, time.Hour, day, 2 * day, 8 * day, -3 * time.Hour, -2 * day, 365 * day, -366 * day}
}
