package backup

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
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

// Into saves a backup in a folder that is there, by way of the record's own
// folder, and removes those of this machine that are no longer kept. It returns
// the file's name. Where the backup fails, nothing is removed.
func (f From) Into(folder string, to ...age.Recipient) (string, About, error) {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return "", About{}, fmt.Errorf("the backup folder %s is not there (is the stick in the machine?)", folder)
	}
	machine, _, err := f.Record.Reached()
	if err != nil {
		return "", About{}, err
	}
	name := filepath.Join(folder, fileName(machine, f.At))
	if _, err := os.Lstat(name); err == nil {
		return name, About{}, nil // two within a second: the next one has it all
	}
	about, err := f.Save(name, f.Folder, to...)
	if err != nil {
		return "", about, err
	}
	return name, about, prune(folder, name)
}

// prune removes the backups of one machine that are no longer kept. Files with
// other names are never touched.
func prune(folder, newest string) error {
	list, err := os.ReadDir(folder)
	if err != nil {
		return fmt.Errorf("look at the backups in %s: %w", folder, err)
	}
	mine := named().FindStringSubmatch(filepath.Base(newest))
	if mine == nil {
		return nil
	}
	var files []string
	for _, f := range list {
		if m := named().FindStringSubmatch(f.Name()); m != nil && m[1] == mine[1] && f.Type().IsRegular() {
			files = append(files, f.Name())
		}
	}
	var errs []error
	for _, name := range superfluous(files) {
		errs = append(errs, os.Remove(filepath.Join(folder, name)))
	}
	return errors.Join(errs...)
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
