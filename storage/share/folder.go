package share

import (
	"bytes"
	"cmp"
	"crypto/ed25519"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

// Marker is the file that says to people, and to the exchange in the background, that
// a folder is for sharing.
const Marker = "loosebox-share.txt"

const markerText = `This folder carries the records of horses between laptops that run loosebox.
Keep every file and folder in it. Nothing in it is changed or removed by loosebox.
Everybody who has the folder can read what is written here, unless the practice seals it.
`

// Bounds of what is looked at in a folder.
const (
	maxFiles   = 500_000 // segments
	maxFolders = 20_000  // below the folder
	// maxStatements is how many statements about laptops are read.
	maxStatements = 10_000
)

// ErrNoFolder is wrapped where the folder is not there, or no longer.
var ErrNoFolder = errors.New("the folder is not there")

// Folder is a folder through which laptops share, for the time of one run: what was
// verified once is not read again while its size and time stay the same.
type Folder struct {
	// Later leaves the answers of open visits for a later exchange: the end of this laptop's
	// logs grows with each of them, and an exchange each half minute would make a file of a few
	// lines each time. They go along with a line that is of no visit.
	Later bool

	dir   string
	fsync func(*os.File) error // of files and folders
	seen  map[string]*sighting // by the name in the folder

	roster roster.Roster      // of the record, at the last exchange
	stay   bool               // the practice leaves rehearsals out
	seal   *Seal              // of this laptop, then
	said   []string           // files that may be statements, as they were listed last
	owed   []roster.Statement // that the folder does not hold
}

// New is the folder at a path.
func New(dir string) *Folder {
	return &Folder{dir: dir, fsync: (*os.File).Sync, seen: map[string]*sighting{}}
}

// sighting is what is known of one file.
type sighting struct {
	size int64
	at   time.Time
	// label is what the file says of itself; it orders what is read, and is not believed.
	label  signedlog.Claim
	state  state
	key    ed25519.PublicKey   // of a sound file: whose it is
	before signedlog.RecordRef // of a sound file: what it follows
	end    signedlog.RecordRef // and its last record
	// rehearsals says of a sound file that it is of simulated horses.
	rehearsals bool
	sealed     bool
	closed     bool           // it is sealed, and not to this laptop
	to         []Tag          // whom it is sealed to
	told       bool           // the record was handed it
	rows       []signedlog.ID // of the record that hold what is in it
}

type state int

const (
	unread state = iota
	sound
	broken
)

// open opens the folder; nothing below it leads out of it.
func (f *Folder) open() (*os.Root, error) {
	root, err := os.OpenRoot(f.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist): // what the system says of it is the same once more
		return nil, fmt.Errorf("%s: %w. Plug the stick in, or make the folder first", f.dir, ErrNoFolder)
	case err != nil:
		return nil, fmt.Errorf("%s: %w (%w). Plug the stick in, or make the folder first", f.dir, ErrNoFolder, err)
	}
	return root, nil
}

// There says whether the folder is there and was used for sharing before: a place where
// a stick is usually seen is not taken for the stick.
func (f *Folder) There() bool {
	info, err := os.Lstat(filepath.Join(f.dir, Marker))
	return err == nil && info.Mode().IsRegular()
}

// list finds the files that may be segments, in the folder and one folder below it.
// Links, pipes and devices are left alone.
func (f *Folder) list(root *os.Root) (names []string, err error) {
	top, err := f.entries(root, ".")
	if err != nil {
		return nil, fmt.Errorf("%s cannot be listed: %w", f.dir, err)
	}
	f.said = nil
	note := func(name string, e fs.DirEntry) {
		switch {
		case mayBe(e, ".seg"):
			names = append(names, name)
		case mayBe(e, ".roster") && len(f.said) < maxStatements:
			f.said = append(f.said, name)
		}
	}
	folders := 0
	for _, e := range top {
		if !e.IsDir() {
			note(e.Name(), e)
			continue
		}
		if folders++; folders > maxFolders {
			break
		}
		below, err := f.entries(root, e.Name())
		if err != nil {
			continue // a folder of somebody else
		}
		for _, b := range below {
			note(path.Join(e.Name(), b.Name()), b)
		}
	}
	if len(names) > maxFiles {
		return nil, fmt.Errorf("%s holds more than %d files of records: nothing was read; share through a new folder", f.dir, maxFiles)
	}
	return names, nil
}

func (f *Folder) entries(root *os.Root, name string) ([]fs.DirEntry, error) {
	d, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer d.Close() //nolint:errcheck // read only
	return d.ReadDir(-1)
}

// mayBe says whether a file may be of a kind: conflict copies are taken too, "x.seg (1)"
// or "x.seg.conflict", and no temporary file is.
func mayBe(e fs.DirEntry, kind string) bool {
	return e.Type().IsRegular() && strings.Contains(e.Name(), kind) && !strings.HasPrefix(e.Name(), tempPrefix)
}

// read reads a file that may be a segment, most bytes of it at most. A link, a pipe or a
// device that took its place is not read.
func read(root *os.Root, name string, most int64) ([]byte, error) {
	info, err := root.Lstat(name)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > signedlog.MaxBytes:
		return nil, signedlog.ErrNoSegment
	}
	file, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close() //nolint:errcheck // read only
	if now, err := file.Stat(); err != nil || !os.SameFile(info, now) {
		return nil, errors.Join(signedlog.ErrNoSegment, err)
	}
	return io.ReadAll(io.LimitReader(file, most))
}

// look lists what may be a segment, by log and number as the files say themselves. What
// is known of files that are gone or changed is forgotten.
func (f *Folder) look(root *os.Root) ([]string, error) {
	names, err := f.list(root)
	if err != nil {
		return nil, err
	}
	seen := make(map[string]*sighting, len(names))
	for _, name := range names {
		seen[name] = f.sight(root, name)
	}
	f.seen = seen
	slices.SortFunc(names, func(a, b string) int {
		x, y := seen[a].label, seen[b].label
		return cmp.Or(bytes.Compare(x.Log[:], y.Log[:]), cmp.Compare(x.First, y.First), cmp.Compare(x.Last, y.Last), cmp.Compare(a, b))
	})
	return names, nil
}

// sight is what is known of a file: from before, where it was sound and is still the same, or from
// its beginning. A broken one is read again each time: a program that syncs folders may fill a file later
// and leave its size and time.
func (f *Folder) sight(root *os.Root, name string) *sighting {
	info, err := root.Lstat(name)
	if err != nil {
		return &sighting{state: broken, size: -1}
	}
	if s := f.seen[name]; s != nil && s.state != broken && s.size == info.Size() && s.at.Equal(info.ModTime()) {
		return s
	}
	s := &sighting{size: info.Size(), at: info.ModTime()}
	head, err := read(root, name, int64(signedlog.WireHead))
	if err == nil {
		s.label, err = signedlog.ReadLabel(head)
	}
	if err != nil {
		s.state = broken
	}
	return s
}

func (f *Folder) broken() (n int) {
	for _, s := range f.seen {
		if s.state == broken {
			n++
		}
	}
	return n
}
