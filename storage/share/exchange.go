package share

import (
	"context"
	"crypto/ed25519"
	"fmt"
	"os"

	"filippo.io/age"

	"loosebox/exam/progress"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// Record is what an exchange needs of a record; *storage.Record is one.
type Record interface {
	Logs() ([]storage.Held, error)
	Holds(row signedlog.ID, at signedlog.RecordRef) (bool, error)
	Next(row signedlog.ID, after, upTo uint64) (signedlog.Segment, error)
	Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (storage.Adopted, error)
	Reached() (machine string, lines uint64, err error)
	Key() ed25519.PublicKey
	Identity() (age.Identity, error)
	Roster() (roster.Roster, error)
	RehearsalsStay() (bool, error)
	TakeStatements(ctx context.Context, list []roster.Statement) (fresh int, err error)
}

// Result is what an exchange comes to.
type Result struct {
	In     storage.Adopted
	Came   int // lines that are new here
	Files  int // written
	Lines  int // in them
	Broken int // files that do not verify, or cannot be read
	// Unknown is how many lines wait in the folder of laptops that are not in the practice,
	// by the fingerprint of their keys.
	Unknown map[string]int
	// Sealed is how many lines are there that this laptop lacks and cannot open: they were
	// sealed before it came in, and a laptop that can open them seals them to it too.
	Sealed int
	// Waiting is how many lines of the record the folder does not hold.
	Waiting int
	// Unwritten is why the lines that wait could not be written; what the folder holds was
	// taken in all the same.
	Unwritten error
}

// Exchange takes in what the folder holds and writes what it does not hold. Where it is
// broken off, or the stick is pulled out, what was taken up to then stays, and the next
// exchange goes on.
func (f *Folder) Exchange(ctx context.Context, r Record) (Result, error) {
	var done Result
	root, err := f.open()
	if err != nil {
		return done, err
	}
	defer root.Close() //nolint:errcheck // what was written is synced
	names, err := f.look(root)
	if err != nil {
		return done, err
	}
	if f.roster, err = f.people(ctx, root, r); err != nil {
		return done, err
	}
	if f.seal, err = SealOf(f.roster, r); err != nil {
		return done, err
	}
	if err := f.take(ctx, root, r, names, &done); err != nil {
		return done, err
	}
	done.Unknown, done.Sealed, done.Broken = f.unknown(), f.shut(), f.broken()
	missing, now, err := f.missing(r)
	if err != nil {
		return done, err
	}
	done.Waiting = lines(missing)
	err = f.give(ctx, root, r, now, &done)
	if ctx.Err() != nil {
		return done, fmt.Errorf("the exchange was broken off; the next one goes on: %w", context.Cause(ctx))
	}
	if err != nil {
		done.Unwritten = explain(err)
	}
	return done, nil
}

// take hands the record what it does not hold, again until nothing more comes of it.
func (f *Folder) take(ctx context.Context, root *os.Root, r Record, names []string, done *Result) error {
	for {
		held, err := f.compare(r)
		if err != nil {
			return err
		}
		if f.stay, err = r.RehearsalsStay(); err != nil { // what came in may have said so
			return err
		}
		fresh := 0
		adopted, err := r.Adopt(ctx, func(hand func(signedlog.Segment) error) error {
			for i, name := range names {
				progress.Say(ctx, "files", i, len(names))
				was := f.seen[name].state
				if err := f.hand(ctx, root, name, held, hand); err != nil {
					return err
				}
				if was == unread && f.seen[name].state == sound && !f.seen[name].closed {
					fresh++
				}
			}
			return nil
		})
		done.In.Add(adopted)
		if err != nil {
			return err
		}
		came, err := lineCount(r, held)
		done.Came += came
		if err != nil || came == 0 && fresh == 0 {
			return err
		}
		if came > 0 { // what did not fit may fit now
			done.In.Aside = nil
			for _, s := range f.seen {
				s.told = false
			}
		}
	}
}

// lineCount is how many lines the record holds beyond what it held.
func lineCount(r Record, held map[signedlog.ID]uint64) (n int, err error) {
	logs, err := r.Logs()
	for _, l := range logs {
		n += int(l.N - max(held[l.Row], l.Base))
	}
	return n, err
}

// hand reads a file that was not verified yet, and hands on what the record does not
// hold and was not handed before.
func (f *Folder) hand(ctx context.Context, root *os.Root, name string, held map[signedlog.ID]uint64, hand func(signedlog.Segment) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s := f.seen[name]
	if s.state == broken || s.state == sound && (s.told || s.closed || s.ours() || f.left(s)) {
		return nil
	}
	data, err := read(root, name, signedlog.MaxBytes)
	if err != nil {
		delete(f.seen, name) // it is looked at again
		if _, there := os.Stat(f.dir); there != nil {
			return fmt.Errorf("%s: %w any more (%w): what was taken in stays, and the next exchange goes on", f.dir, ErrNoFolder, err)
		}
		f.seen[name] = &sighting{state: broken, size: -1}
		return nil
	}
	o, err := f.seal.Open(data)
	if err != nil {
		s.state = broken
		return nil
	}
	first := s.state == unread
	s.found(o)
	if f.left(s) || s.closed {
		return nil // the folder keeps it until the laptop is let in, rehearsals are shared again, or another seals it to this one
	}
	if first && s.end.N <= held[o.Log] { // of the log's own row
		return nil // most of these the record holds; the next pass knows which
	}
	s.told = true
	return hand(o.Segment)
}

// found notes what a file that verifies holds.
func (s *sighting) found(o OpenedSegment) {
	s.state, s.key, s.rehearsals = sound, o.Public, o.Rehearsals
	s.label = signedlog.Claim{Log: o.Log, First: o.First, Last: o.End.N, Digest: o.End.Digest}
	s.before, s.end = signedlog.RecordRef{N: o.First - 1, Digest: o.Prev}, o.End
	s.sealed, s.closed, s.to = o.Sealed, o.Closed, o.To
}
