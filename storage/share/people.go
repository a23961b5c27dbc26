package share

import (
	"context"
	"crypto/ed25519"
	"errors"
	"fmt"
	"os"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

// ErrNotIn is wrapped where the folder and the record are not of one practice.
var ErrNotIn = errors.New("nothing was exchanged")

// people exchanges what was said of the laptops of the practice, and refuses a folder
// of another one. Where neither record nor folder has a practice, every laptop that uses
// the folder is believed.
func (f *Folder) people(ctx context.Context, root *os.Root, r Record) (roster.Roster, error) {
	have, err := r.Roster()
	if err != nil {
		return have, err
	}
	var theirs []roster.Statement
	held := map[signedlog.Digest]bool{}
	var other *roster.Practice
	for _, name := range f.said {
		data, err := read(root, name, roster.MaxText)
		if err != nil {
			continue
		}
		s, err := roster.ReadStatement(data)
		switch {
		case err != nil:
		case !have.None() && s.Practice.Key.Equal(have.Practice.Key):
			theirs, held[s.Digest()] = append(theirs, s), true
		default:
			other = &s.Practice
		}
	}
	switch {
	case other != nil && have.None():
		return have, fmt.Errorf("the folder belongs to the practice %q, and this laptop is not in it: %w. Ask to come in, under several laptops or by loosebox share request", other.Name, ErrNotIn)
	case other != nil && len(theirs) == 0:
		return have, fmt.Errorf("the folder belongs to the practice %q, this laptop to %q: %w. Use another folder", other.Name, have.Practice.Name, ErrNotIn)
	case have.None():
		return have, nil
	}
	if _, err := r.TakeStatements(ctx, theirs); err != nil {
		return have, err
	}
	if have, err = r.Roster(); err != nil {
		return have, err
	}
	if have.Membership(r.Key()) == roster.Out {
		return have, TakenOut(have)
	}
	f.owed = nil
	for _, s := range have.Said {
		if !held[s.Digest()] {
			f.owed = append(f.owed, s)
		}
	}
	return have, nil
}

// strange says that a key is of a laptop that nobody let into the practice.
func (f *Folder) strange(key ed25519.PublicKey) bool {
	return !f.roster.None() && f.roster.Membership(key) == roster.Unknown
}

// left says that a sound file is not taken: nobody let its laptop in, or rehearsals stay out.
func (f *Folder) left(s *sighting) bool { return f.strange(s.key) || f.stay && s.rehearsals }

// unknown counts the lines of laptops that are not in the practice; nil for none.
func (f *Folder) unknown() map[string]int {
	var out map[string]int
	for _, s := range f.seen {
		if s.state == sound && !s.ours() && f.strange(s.key) {
			if out == nil {
				out = map[string]int{}
			}
			out[signedlog.Fingerprint(s.key)] += int(s.end.N - s.before.N)
		}
	}
	return out
}

// shut counts the lines that are sealed, and that this laptop neither opens nor holds.
func (f *Folder) shut() (n int) {
	for _, s := range f.seen {
		if s.state == sound && s.closed && !s.ours() && !f.left(s) {
			n += int(min(s.end.N-s.before.N, 1<<31-1))
		}
	}
	return n
}

// tell writes the statements that the folder does not hold.
func (w *writer) tell(list []roster.Statement) error {
	for _, s := range list {
		dir := w.folder(s.Practice.ID())
		_, err := w.put(dir, func(try int) string {
			d := s.Digest()
			return numbered(fmt.Sprintf("%x", d[:8]), try) + ".roster"
		}, s.Bytes())
		if err != nil {
			return err
		}
	}
	return nil
}

// numbered adds a number to a name that others have.
func numbered(name string, try int) string {
	if try == 0 {
		return name
	}
	return fmt.Sprintf("%s-%d", name, try+1)
}

// TakenOut is the error of an exchange of a laptop that is out of its practice.
func TakenOut(have roster.Roster) error {
	return fmt.Errorf("this laptop was taken out of the practice %q: %w. Its record stays as it is, and what is entered from now on stays here. Ask who keeps the practice's key",
		have.Practice.Name, ErrNotIn)
}
