package storage

import (
	"fmt"
	"io/fs"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// FileName is the name of the record's file in its folder.
const FileName = "record.db"

// Folder and file are their owner's alone.
const (
	folderMode fs.FileMode = 0o700
	fileMode   fs.FileMode = 0o600
)

// Options are those of Open. The zero value is meant for use.
type Options struct {
	// NewID makes the identities of horses and visits: UUIDs as text, version 7
	// (RFC 9562) where it is nil.
	NewID func() string
	// MustExist opens a record that is there and makes none: a *NoRecordError says
	// that there is none.
	MustExist bool
	// ReadOnly opens an existing record for reading beside other readers.
	ReadOnly bool
	// Beside reads a record that another run holds: a copy of it as it is now, where that
	// run lets it be read (Record.Host). Nothing can be written to it.
	Beside bool
	// KeyDir is the folder of this machine's key and of how far its logs had come (KeyName,
	// CountName); the record's own folder where it is empty. Kept apart, a folder that is
	// copied, put back or carried to another machine takes neither with it.
	KeyDir string
	// Keyless opens without a key: logs can be ended and nothing can be added.
	Keyless bool
	// AmongOthers makes a new record also in a folder that holds other things.
	AmongOthers bool
	// Wait is how long to wait for another run that holds the record; 0 for
	// two seconds.
	Wait time.Duration
}

// Record is the record of one folder. It implements exam.Store and is safe for
// use by several goroutines; one program at a time holds it.
type Record struct {
	*holding
	namespace namespace
}

// holding is the file as this run holds it.
type holding struct {
	path     string
	db       *bbolt.DB
	file     *os.File // the same as db's
	opened   os.FileInfo
	newID    func() string
	readOnly bool
	host     *host  // answers other runs; nil where nobody may read beside this one
	beside   bool   // it is a copy of what another run holds
	copied   string // the file of that copy, to be removed; empty for none

	keys       string   // folder of the key and of the marks
	machine    *machine // whose lines are written; nil where its key cannot be read
	noKey      error    // why there is no machine's key to write with
	broken     string   // where a key that could be read no longer is kept; empty for none
	found      []Gap    // at this opening
	remembered uint64   // how far the chain had come when that was written down

	stuck     atomic.Bool // a fault left the file's locks held
	writing   sync.Mutex  // held by the one writer
	looking   sync.Mutex  // held by the one look at the pages
	lookFirst int64       // size up to which that look comes before the first write
	inspected atomic.Bool // every page was looked at
	retried   atomic.Bool // what is kept aside was tried by this run
	harmed    atomic.Pointer[error]
	closing   sync.Once
}

var _ exam.Store = (*Record)(nil)

// Close lets go of the record. What was accepted is on the disk already.
func (r *Record) Close() error {
	var err error
	r.closing.Do(func() {
		if r.host != nil {
			r.host.close()
		}
		if r.copied != "" {
			defer func() { _ = os.Remove(r.copied) }() // where it could not be removed while it was open
		}
		r.remember()
		if r.stuck.Load() {
			release(r.file)
			return
		}
		err = catchFaults(r.db.Close)
	})
	if err != nil {
		return fmt.Errorf("close record: %w", err)
	}
	return nil
}
