package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/adrg/xdg"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/storage"
	"loosebox/storage/backup"
)

// env is what every command is given: where text comes from and goes, the
// clock, and the tables.
type env struct {
	in          io.Reader
	out, errOut io.Writer
	inTerminal  bool
	outTerminal bool
	lookup      func(string) string
	now         func() time.Time

	dir      string // --data
	plain    bool   // --plain
	noColour bool   // --no-color
	asJSON   bool   // --json: one object, and nobody is asked anything

	steps    *exam.Steps
	routines []exam.Routine
	ranges   *ranges.Table
	judge    *judge.Judge
	waits    exam.Waits
	problems []string   // files of the practice that were refused
	keeper   *keeper    // of the record that is open
	sharer   *sharer    // of the same
	own      sync.Mutex // of the practice's own files
	invented bool       // the record is the demo's: its key is thrown away with it
	shown    bool       // the screens were open and said what there is to say
	printed  bool       // the JSON object was printed
	begun    bool       // of it the beginning was, and its list
	work     int        // the work factor of passphrases; 0 is the usual one of the format

	ctx       context.Context      //nolint:containedctx // of the run; a signal ends it
	interrupt func(syscall.Signal) // ends it in the same way
}

// dataDir is the folder of the record: --data, LOOSEBOX_DATA, or the place that
// the system gives; empty where it gives none.
func (e *env) dataDir() string {
	if e.dir != "" {
		return e.dir
	}
	if dir := e.lookup("LOOSEBOX_DATA"); dir != "" {
		return dir
	}
	if runtime.GOOS != "windows" && e.lookup("HOME") == "" && e.lookup("XDG_DATA_HOME") == "" {
		return ""
	}
	return filepath.Join(xdg.DataHome, "loosebox")
}

// keyDir is the folder of this machine's key: LOOSEBOX_KEYS, or a place of the system apart
// from the record, so that a record which is copied or backed up takes no key with it; the
// folder of the record where the system gives no place.
func (e *env) keyDir() string {
	if dir := e.lookup("LOOSEBOX_KEYS"); dir != "" {
		return dir
	}
	if runtime.GOOS != "windows" && e.lookup("HOME") == "" && e.lookup("XDG_STATE_HOME") == "" {
		return ""
	}
	return filepath.Join(xdg.StateHome, "loosebox-key")
}

// say writes a message to a person; messages go to stderr, results to stdout. A
// name of a file or a word of the command line in it can do no harm.
func (e *env) say(text string) {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = notation.CleanNote(line)
	}
	_, _ = fmt.Fprintln(e.errOut, strings.Join(lines, "\n")) // nobody left to tell
}

// record opens the record, lets work use it and closes it. It makes one where there
// is none: for work that begins something.
func (e *env) record(work func(*storage.Record) error) error {
	return e.recordIn(e.dataDir(), storage.Options{}, work)
}

// existing is record for work that needs a record which is there: nothing is made,
// and without a record it ends with code 3. While another run holds the record the work
// reads it as it is at that moment; what it wants to write ends with code 5.
func (e *env) existing(work func(*storage.Record) error) error {
	return e.recordIn(e.dataDir(), storage.Options{MustExist: true, Beside: true}, work)
}

func (e *env) recordIn(dir string, o storage.Options, work func(*storage.Record) error) (err error) {
	if dir == "" {
		return usage("no folder for the record is known, as HOME is not set: name one with --data, or in LOOSEBOX_DATA")
	}
	if err := e.tables(); err != nil { // whichever command it is says of a file of one's own that it was refused
		return err
	}
	if dir == e.dataDir() {
		backup.SweepKilled(dir)
	}
	r, err := e.open(dir, o)
	if err != nil {
		return err
	}
	defer func() {
		if closeErr := r.Close(); err == nil && closeErr != nil {
			err = fmt.Errorf("close the record: %w", closeErr)
		}
	}()
	before, sharing := e.keeper, e.sharer
	e.keeper, e.sharer = e.keep(r), e.sharing(r)
	defer func() {
		e.sharer.end() // before the record is closed
		e.keeper.finish()
		e.keeper, e.sharer = before, sharing
	}()
	if dir == e.dataDir() {
		if err := e.bringOwn(r); err != nil {
			return err
		}
	}
	for _, gap := range r.Missing() {
		e.problem("%s. What is here is whole; look for the newer file or a backup. Import its export, and nothing is missing. loosebox check says it again", gap)
	}
	if kept := r.BrokenKey(); kept != "" {
		e.problem("This laptop's key could be read no longer. It is kept as %s, and a new one was made. "+
			"What is written from now on stands in a log of its own. In a practice this laptop must be let in again: loosebox share request", kept)
	}
	return work(r)
}

// open opens a record. One that may only be read is opened for reading where that is
// enough, and before a record is made among other things somebody is asked.
func (e *env) open(dir string, o storage.Options) (*storage.Record, error) {
	if !o.Keyless && !e.invented {
		o.KeyDir = e.keyDir()
	}
	r, err := storage.Open(dir, o)
	switch {
	case o.MustExist && errors.Is(err, storage.ErrNotWritable):
		o.ReadOnly = true
		if r, err = storage.Open(dir, o); err == nil {
			e.problem("The record in %s may only be read here; nothing can be added to it.", dir)
		}
	case errors.Is(err, storage.ErrForeign) && e.mayAsk() && e.yes("%s has other files and no record. Make a record there?", dir):
		o.AmongOthers = true
		return storage.Open(dir, o)
	}
	return r, err
}

// mayAsk says that somebody sits at a terminal who can be asked.
func (e *env) mayAsk() bool { return e.inTerminal && !e.asJSON }

// yes asks a question that is answered with y; everything else is no.
func (e *env) yes(format string, args ...any) bool {
	_, _ = fmt.Fprint(e.errOut, notation.CleanNote(fmt.Sprintf(format, args...))+" y/n: ") // nobody reads it: no answer
	answer, err := bufio.NewReader(e.typed()).ReadString('\n')
	return err == nil && strings.EqualFold(strings.TrimSpace(answer), "y")
}
