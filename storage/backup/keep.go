package backup

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"
	"time"

	"filippo.io/age"
)

// How many backups a folder keeps: the newest of each of so many days, and of so
// many weeks.
const (
	KeepDaily  = 7
	KeepWeekly = 4
)

// stamp is the time in a backup's name, in the zone in which it was made.
const stamp = "20060102-150405"

// fileName is the name of a backup of a machine.
func fileName(machine string, at time.Time) string {
	return fmt.Sprintf("loosebox-%.8s-%s.tar.age", strings.ReplaceAll(machine, "-", ""), at.Format(stamp))
}

var named = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^loosebox-([0-9a-f]{8})-(\d{8}-\d{6})\.tar\.age$`)
})

// Saved is a backup that is in its folder.
type Saved struct {
	File  string // with its folder
	About About
	// Notice is a sentence for a person: what was not done although the backup is
	// there; empty for nothing.
	Notice string
}

// Into saves a backup in a folder that is there, by way of the record's own
// folder, and removes those of this machine that are no longer kept. What was just
// made is never removed. Where the backup fails, nothing is removed.
func (f From) Into(ctx context.Context, folder string, to ...age.Recipient) (Saved, error) {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return Saved{}, fmt.Errorf("the backup folder %s is not there (is the stick in the machine?)", folder)
	}
	machine, _, err := f.Record.Reached()
	if err != nil {
		return Saved{}, err
	}
	out := Saved{File: freeName(folder, machine, f.At)}
	if out.About, err = f.Save(ctx, out.File, f.Folder, to...); err != nil {
		return out, err
	}
	out.Notice = prune(folder, filepath.Base(out.File))
	if _, err := os.Stat(out.File); err != nil {
		return out, fmt.Errorf("the backup was written and is not there any more: %w", err)
	}
	return out, nil
}

// freeName is the first name from a time on that no file has: a clock that begins
// at the same moment after each start makes the same name again.
func freeName(folder, machine string, at time.Time) string {
	for {
		name := filepath.Join(folder, fileName(machine, at))
		if _, err := os.Lstat(name); err != nil {
			return name
		}
		at = at.Add(time.Second)
	}
}

// prune removes the backups of one machine that are no longer kept, and never the
// newest made. Files with other names are never touched. Where names lie ahead of
// the newest, the clock is wrong or was, so that no name says which backup is old:
// then nothing is removed. It returns what a person should know.
func prune(folder, newest string) (notice string) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return fmt.Sprintf("The older backups in %s cannot be listed, and none was removed: %v.", folder, err)
	}
	mine := named().FindStringSubmatch(newest)
	if mine == nil {
		return ""
	}
	var files, ahead []string
	for _, f := range list {
		m := named().FindStringSubmatch(f.Name())
		if m == nil || m[1] != mine[1] || !f.Type().IsRegular() {
			continue
		}
		files = append(files, f.Name())
		if m[2] > mine[2] {
			ahead = append(ahead, f.Name())
		}
	}
	if len(ahead) > 0 {
		return fmt.Sprintf("The backup is in %s. %d of the backups there are later than the clock, up to %s. The clock is wrong, or it was. No old backup was removed. Set the clock, or move those files away.",
			folder, len(ahead), slices.Max(ahead))
	}
	var failed error
	for _, name := range superfluous(files) {
		if name == newest {
			continue
		}
		if err := os.Remove(filepath.Join(folder, name)); err != nil {
			failed = err
		}
	}
	if failed != nil {
		return fmt.Sprintf("The backup is in %s. An old one could not be removed: %v.", folder, failed)
	}
	return ""
}

// superfluous names the backups that are not the newest of one of the last seven
// days or four weeks that have any.
func superfluous(files []string) []string {
	files = append([]string(nil), files...)
	sort.Sort(sort.Reverse(sort.StringSlice(files))) // one machine: newest first
	days, weeks := map[string]bool{}, map[string]bool{}
	var out []string
	for _, name := range files {
		m := named().FindStringSubmatch(name)
		if m == nil {
			continue
		}
		at, err := time.Parse(stamp, m[2])
		if err != nil {
			continue
		}
		y, w := at.ISOWeek()
		day, week := at.Format("20060102"), fmt.Sprintf("%d-%02d", y, w)
		keep := false
		if !days[day] && len(days) < KeepDaily {
			days[day], keep = true, true
		}
		if !weeks[week] && len(weeks) < KeepWeekly {
			weeks[week], keep = true, true
		}
		if !keep {
			out = append(out, name)
		}
	}
	return out
}
