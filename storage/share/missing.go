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

	"loosebox/exam/signedlog"
)

// part is records of a log, from and to included.
type part struct {
	log      signedlog.ID
	from, to uint64
}

func lines(list []part) int {
	n := uint64(0)
	for _, p := range list {
		n += p.to - p.from + 1
	}
	return int(min(n, 1<<31-1))
}

// compare marks the sound files that hold what the record holds, and returns how far
// the record holds each log. The digest of a record covers all before it: one look into
// the record is enough for a chain of files.
func (f *Folder) compare(r Record) (map[signedlog.ID]uint64, error) {
	logs, err := r.Logs()
	if err != nil {
		return nil, err
	}
	files := f.sound()
	held := map[signedlog.ID]uint64{}
	for _, l := range logs {
		held[l.Log] = l.N
		known := map[uint64]signedlog.Digest{l.N: l.Last}
		for _, s := range files[l.Log] {
			if s.end.N > l.N {
				continue
			}
			if d, ok := known[s.end.N]; ok {
				s.ours = d == s.end.Digest
			} else if !s.ours {
				if s.ours, err = r.Holds(l.Log, s.end); err != nil {
					return nil, err
				}
			}
			if s.ours {
				known[s.before.N] = s.before.Digest
			}
		}
	}
	return held, nil
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
	logs, err := r.Logs()
	if err != nil {
		return nil, nil, err
	}
	files := f.sound()
	for _, l := range logs {
		var out []part
		to := l.N // what is above is there, or listed
		for _, s := range files[l.Log] {
			if !s.ours || s.before.N >= to {
				continue
			}
			if s.end.N < to {
				out = append(out, part{l.Log, s.end.N + 1, to})
			}
			to = s.before.N
		}
		if to > 0 {
			out = append(out, part{l.Log, 1, to})
		}
		all = append(all, out...)
		for _, p := range out {
			if f.Later && l.Own {
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
	w := &writer{root: root, machine: machine[:min(8, len(machine))], swept: map[string]bool{}, dirty: map[string]bool{}}
	defer w.sync()
	if err := w.mark(); err != nil {
		return err
	}
	if err := w.tell(f.owed); err != nil {
		return err
	}
	for _, p := range list {
		for after := p.from - 1; after < p.to; {
			if err := ctx.Err(); err != nil {
				return err
			}
			s, err := r.Next(p.log, after, p.to)
			if err != nil {
				return err
			}
			if len(s.Cores) == 0 {
				break
			}
			if err := f.write(w, s); err != nil {
				return err
			}
			now := int(min(s.Last(), p.to) - after)
			after = s.Last()
			done.Files, done.Lines, done.Waiting = done.Files+1, done.Lines+now, done.Waiting-now
		}
	}
	return nil
}

// write writes one segment, and notes its file.
func (f *Folder) write(w *writer, s signedlog.Segment) error {
	b := s.Bytes()
	if len(b) > signedlog.MaxBytes {
		return fmt.Errorf("records %d to %d of log %s: %w", s.First, s.Last(), s.Log, signedlog.ErrLong)
	}
	digests := s.Digests()
	name, err := w.segment(s, b, digests[len(digests)-1])
	if err != nil {
		return err
	}
	if info, err := w.root.Lstat(name); err == nil {
		known := &sighting{size: info.Size(), at: info.ModTime(), ours: true}
		known.found(s, digests)
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
	default:
		return fmt.Errorf("the folder takes nothing now, and what waits is kept here (%w)", err)
	}
}
