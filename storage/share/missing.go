package share

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// part is records of a log or a branch (storage.Held.Row), from and to included.
type part struct {
	row      signedlog.ID
	from, to uint64
}

func lines(list []part) int {
	n := uint64(0)
	for _, p := range list {
		n += p.to - p.from + 1
	}
	return int(min(n, 1<<31-1))
}

// compare marks the sound files whose records are in this record too, and returns how far the
// record holds each row. A digest covers all records before it, so one look into the record is
// enough for a chain of files.
func (f *Folder) compare(r Record) (map[signedlog.ID]uint64, error) {
	rows, err := r.Logs()
	if err != nil {
		return nil, err
	}
	files := f.sound()
	held := map[signedlog.ID]uint64{}
	for _, l := range rows {
		held[l.Row] = l.N
		known := map[uint64]signedlog.Digest{l.N: l.Last}
		for _, s := range files[l.Log] {
			if s.end.N > l.N {
				continue
			}
			if d, ok := known[s.end.N]; ok {
				s.note(l.Row, d == s.end.Digest)
			} else if !s.in(l.Row) {
				there, err := r.Holds(l.Row, s.end)
				if err != nil {
					return nil, err
				}
				s.note(l.Row, there)
			}
			if s.in(l.Row) && !s.closed { // what a closed file says of the record before it is not verified
				known[s.before.N] = s.before.Digest
			}
		}
	}
	return held, nil
}

// in says that a row of the record holds what is in the file.
func (s *sighting) in(row signedlog.ID) bool { return slices.Contains(s.rows, row) }

// ours says that the record holds what is in the file.
func (s *sighting) ours() bool { return len(s.rows) > 0 }

func (s *sighting) note(row signedlog.ID, there bool) {
	s.rows = slices.DeleteFunc(s.rows, func(r signedlog.ID) bool { return r == row })
	if there {
		s.rows = append(s.rows, row)
	}
}

// sound are the files that verify, by log, the last records first.
func (f *Folder) sound() map[signedlog.ID][]*sighting {
	files := map[signedlog.ID][]*sighting{}
	for _, s := range f.seen {
		if s.state == sound {
			files[s.label.Log] = append(files[s.label.Log], s)
		}
	}
	for _, list := range files {
		slices.SortFunc(list, func(a, b *sighting) int { return cmp.Compare(b.end.N, a.end.N) })
	}
	return files
}

// missing lists what of the record no sound file holds, and what of it is written now.
func (f *Folder) missing(r Record) (all, now []part, err error) {
	if _, err := f.compare(r); err != nil {
		return nil, nil, err
	}
	rows, err := r.Logs()
	if err != nil {
		return nil, nil, err
	}
	files := f.sound()
	for _, l := range rows {
		if f.stay && l.Rehearsals {
			continue
		}
		var out []part
		to := l.N // what is above is there, or listed
		for _, s := range files[l.Log] {
			if !s.in(l.Row) || s.before.N >= to || s.closed || !f.seal.Reaches(s.sealed, s.to) {
				continue // the last two: others lack it, so it is written anew
			}
			if s.end.N < to {
				out = append(out, part{l.Row, s.end.N + 1, to})
			}
			if to = s.before.N; to <= l.Base {
				break // what is below is of another row
			}
		}
		if to > l.Base {
			out = append(out, part{l.Row, 1, to})
		}
		for _, p := range out {
			if p.from = max(p.from, l.Base+1); p.from > p.to {
				continue
			}
			all = append(all, p)
			if f.Later && l.Own && l.Due < p.from { // of open visits alone
				p.to = min(p.to, l.Packed)
			}
			if p.from <= p.to {
				now = append(now, p)
			}
		}
	}
	return all, now, nil
}

// give writes what is missing.
func (f *Folder) give(ctx context.Context, root *os.Root, r Record, list []part, done *Result) error {
	if len(list) == 0 && len(f.owed) == 0 {
		return nil
	}
	machine, _, err := r.Reached()
	if err != nil {
		return err
	}
	w := &writer{root: root, fsync: f.fsync, machine: machine[:min(8, len(machine))], swept: map[string]bool{}, dirty: map[string]bool{}}
	defer w.sync()
	if err := w.mark(); err != nil {
		return err
	}
	if err := w.tell(f.owed); err != nil {
		return err
	}
	all := lines(list)
	for _, p := range list {
		for after := p.from - 1; after < p.to; {
			if err := ctx.Err(); err != nil {
				return err
			}
			s, err := r.Next(p.row, after, p.to)
			if err != nil {
				return err
			}
			if len(s.Cores) == 0 {
				break
			}
			if err := f.write(w, p.row, s); err != nil {
				return err
			}
			now := int(min(s.Last(), p.to) - after)
			after = s.Last()
			done.Files, done.Lines, done.Waiting = done.Files+1, done.Lines+now, done.Waiting-now
			progress.Say(ctx, "lines", min(done.Lines, all), all)
		}
	}
	return nil
}

// write writes one segment, and notes its file.
func (f *Folder) write(w *writer, row signedlog.ID, s signedlog.Segment) error {
	b, err := f.seal.Bytes(s)
	if err != nil {
		return err
	}
	if len(b) > signedlog.MaxBytes {
		return fmt.Errorf("records %d to %d of log %s: %w", s.First, s.Last(), s.Log, signedlog.ErrLong)
	}
	digests := s.Digests()
	name, err := w.segment(s, b, digests[len(digests)-1])
	if err != nil {
		return err
	}
	if info, err := w.root.Lstat(name); err == nil {
		known := &sighting{size: info.Size(), at: info.ModTime(), rows: []signedlog.ID{row}}
		known.found(f.seal.wrote(s, digests))
		f.seen[name] = known
	}
	return nil
}

// explain says to a person why a folder takes nothing.
func explain(err error) error {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("the folder's disk is full, and what waits is kept here. Make room on it, or use another stick (%w)", err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("the folder may only be read, and what waits is kept here. Look at the stick's switch or the folder's rights (%w)", err)
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.EIO), errors.Is(err, syscall.ENODEV), errors.Is(err, syscall.ENXIO):
		return fmt.Errorf("the stick was pulled out, or the folder is gone; what waits is kept here. Plug it in and exchange again (%w)", err)
	default:
		return fmt.Errorf("the folder takes nothing now, and what waits is kept here (%w)", err)
	}
}
