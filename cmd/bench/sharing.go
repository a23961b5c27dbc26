//go:build unix

package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/steps"
	"loosebox/storage"
	"loosebox/storage/share"
)

// shareHorses is how many horses the record has that is shared: about 100,000 lines.
const shareHorses = 96

// shareTable measures an exchange by a folder, out of one record and into an empty one,
// beside a plain copy of the same files.
func (b *bench) shareTable() (err error) {
	yard, err := demo.Yard(b.now, steps.Table(), steps.Routines())
	if err != nil {
		return err
	}
	whole := wholeVisits(yard)
	out, in, stick := filepath.Join(b.dir, "out"), filepath.Join(b.dir, "in"), filepath.Join(b.dir, "stick")
	if err := os.Mkdir(stick, 0o700); err != nil {
		return err
	}
	from, err := storage.Open(out, storage.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, from.Close()) }()
	for i := range shareHorses {
		if err := from.Import(context.Background(), []storage.Imported{b.horse(i, whole)}); err != nil {
			return err
		}
	}
	to, err := storage.Open(in, storage.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, to.Close()) }()
	folder := share.New(stick)
	rows := [][]string{{"what", "lines", "files", "time", "a plain copy of the files, each synced", "ratio"}}
	for _, m := range []struct {
		what   string
		record *storage.Record
		folder *share.Folder
	}{
		{"out, into an empty folder", from, folder},
		{"in, into an empty record", to, share.New(stick)},
		{"nothing new, the first look of a run: every file is read and verified", from, share.New(stick)},
		{"nothing new, a later look of the run", from, folder},
	} {
		start := time.Now() //nolint:forbidigo // this program measures
		done, err := m.folder.Exchange(context.Background(), m.record)
		took := time.Since(start)
		if err = errors.Join(err, done.Unwritten); err != nil {
			return err
		}
		floor, files, err := b.copied(stick)
		if err != nil {
			return err
		}
		rows = append(rows, []string{m.what, fmt.Sprint(done.Lines + done.Came), fmt.Sprint(files), ms(took) + " ms", ms(floor) + " ms", ratio(took, floor)})
	}
	empty, err := storage.Open(filepath.Join(b.dir, "beside"), storage.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, empty.Close()) }()
	waited, err := b.answersBeside(empty, stick)
	if err != nil {
		return err
	}
	fresh := filepath.Join(b.dir, "fresh")
	if err := os.Mkdir(fresh, 0o700); err != nil {
		return err
	}
	waitedOut, err := b.answersBeside(from, fresh)
	if err != nil {
		return err
	}
	table("A record shared by a folder (target: 3 s for 100,000 lines out, and in).", rows)
	say("\nAn answer stored while they come in as in the background, %d answers: median %s ms, p99 %s ms.", waited.n, ms(waited.median), ms(waited.p99))
	say("While they go out, %d answers: median %s ms, p99 %s ms.", waitedOut.n, ms(waitedOut.median), ms(waitedOut.p99))
	return nil
}

// answersBeside measures how long storing an answer takes while the record is exchanged with a folder in the background, as
// behind the screens.
func (b *bench) answersBeside(r *storage.Record, stick string) (s spread, err error) {
	h, err := r.SaveHorse(exam.Horse{Name: "Zephyr", Kind: exam.AnimalHorse, Revision: 1}, "Nell Harrow", b.now)
	if err != nil {
		return s, err
	}
	v, err := r.Begin(exam.Entry{Kind: exam.EntryOpened, At: b.now, By: "Nell Harrow", Opening: &exam.Opening{Horse: h, Routine: steps.Default}})
	if err != nil {
		return s, err
	}
	over := make(chan error, 1)
	go func() {
		_, err := share.New(stick).Exchange(context.Background(), share.Gently(r, time.Now)) //nolint:forbidigo // this program measures
		over <- err
	}()
	var all []time.Duration
	for {
		select {
		case err := <-over:
			return spreadOf(all), err
		case <-time.After(10 * time.Millisecond): // quicker than any hand
		}
		start := time.Now() //nolint:forbidigo // this program measures
		if _, err := r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryNote, At: b.now, By: "Nell Harrow", Note: "stood well"}); err != nil {
			return s, err
		}
		all = append(all, time.Since(start))
	}
}

// copied is how long a plain copy of a folder takes, each file synced.
func (b *bench) copied(dir string) (took time.Duration, files int, err error) {
	to, err := os.MkdirTemp(b.dir, "copy-")
	if err != nil {
		return 0, 0, err
	}
	start := time.Now() //nolint:forbidigo // this program measures
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		files++
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := os.Create(filepath.Join(to, fmt.Sprint(files)))
		if err != nil {
			return err
		}
		_, err = f.Write(data)
		return errors.Join(err, f.Sync(), f.Close())
	})
	return time.Since(start), files, errors.Join(err, os.RemoveAll(to))
}
