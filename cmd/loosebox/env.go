package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/adrg/xdg"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/routinefile"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/storage"
	"loosebox/storage/outside"
)

// Names of a practice's own files in the data folder.
const (
	practiceRanges = "ranges.csv"
	ownRoutines    = "routines"
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
	problems []string   // files of the practice that were refused
	keeper   *keeper    // of the record that is open
	sharer   *sharer    // of the same
	own      sync.Mutex // of the practice's own files
	invented bool       // the record is the demo's: its key is thrown away with it
	shown    bool       // the screens were open and said what there is to say
	printed  bool       // the JSON object was printed

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

// tables reads the tables that are built in and the practice's own files over
// them. A file that is refused is named in a sentence, and what is built in stays.
func (e *env) tables() error {
	if e.steps != nil {
		return nil
	}
	table, err := ranges.BuiltIn()
	if err != nil {
		return fmt.Errorf("the built-in ranges cannot be read: %w", err)
	}
	e.steps, e.routines, e.ranges = steps.Table(), steps.Routines(), table
	e.readPracticeRanges()
	e.readOwnRoutines()
	e.judge = judge.New(e.ranges, e.steps)
	return nil
}

func (e *env) readPracticeRanges() {
	f, err := e.openOwn(practiceRanges)
	if err != nil {
		if !errors.Is(err, os.ErrNotExist) {
			e.problem("the practice's ranges cannot be read (%v); the built-in ranges are used", err)
		}
		return
	}
	defer f.Close() //nolint:errcheck // read only
	table, err := e.ranges.With(f, practiceRanges)
	if err != nil {
		e.problem("the practice's ranges are refused; the built-in ranges are used: %v", err)
		return
	}
	e.ranges = table
}

func (e *env) readOwnRoutines() {
	names, problem := e.ownFiles(ownRoutines)
	if problem != "" {
		e.problem("%s", problem)
	}
	for _, name := range names {
		f, err := outside.Open(name, maxOwnFile)
		if err != nil {
			e.problem("the routine %s cannot be read: %v", filepath.Base(name), err)
			continue
		}
		r, err := routinefile.Read(f, filepath.Base(name), e.steps)
		_ = f.Close() // read only
		if err != nil {
			e.problem("a routine is refused; the others are used: %v", err)
			continue
		}
		if _, taken := steps.Find(e.routines, r.Name); taken {
			e.problem("%s: the name %q belongs to another routine; give it its own", filepath.Base(name), r.Name)
			continue
		}
		e.routines = append(e.routines, r)
	}
}

// Bounds of a practice's own files: bytes of one, and how many a folder has.
const (
	maxOwnFile  = 1 << 20
	maxOwnFiles = 200
)

// openOwn opens a practice's own file in the data folder.
func (e *env) openOwn(name string) (io.ReadCloser, error) {
	dir := e.dataDir()
	if dir == "" {
		return nil, fs.ErrNotExist
	}
	return outside.Open(filepath.Join(dir, name), maxOwnFile)
}

// ownFiles are the YAML files of a practice's own folder, by name. Of too many none
// is read, and the problem says so.
func (e *env) ownFiles(folder string) (names []string, problem string) {
	dir := e.dataDir()
	if dir == "" {
		return nil, ""
	}
	names, err := filepath.Glob(filepath.Join(dir, folder, "*.yaml"))
	if err != nil {
		return nil, ""
	}
	if len(names) > maxOwnFiles {
		return nil, fmt.Sprintf("the folder %s holds %d files, and none is read: %d are the most", folder, len(names), maxOwnFiles)
	}
	sort.Strings(names)
	return names, ""
}

func (e *env) problem(format string, args ...any) {
	e.problems = append(e.problems, fmt.Sprintf(format, args...))
}

// tell writes the problems to the person once.
func (e *env) tell() {
	for _, p := range e.problems {
		e.say(p)
	}
	e.problems = nil
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
		e.problem("%s. What is here is whole; look for the newer file or a backup. loosebox check says it again", gap)
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

// findHorse is the one horse that a text means: its identity, the beginning of
// it (six characters or more), its chip number, or its name.
func findHorse(store exam.Store, text string) (exam.Horse, error) {
	all, err := store.Horses()
	if err != nil {
		return exam.Horse{}, err
	}
	want := strings.ToLower(notation.CleanLine(text, 0))
	var named []exam.Horse
	for _, f := range all {
		h := f.Horse
		if h.Is(exam.HorseID(want)) || h.HasChip(strings.ToUpper(want)) {
			return h, nil
		}
		if h.Called(want) || (len(want) >= 6 && slices.ContainsFunc(h.Records(), func(r exam.Horse) bool { return strings.HasPrefix(string(r.ID), want) })) {
			named = append(named, h)
		}
	}
	switch len(named) {
	case 1:
		return named[0], nil
	case 0:
		return exam.Horse{}, exam.NoSuch("no horse is called %q%s; loosebox horses lists them", notation.CleanLine(text, 40), meantHorse(text, all))
	default:
		return exam.Horse{}, &usageError{fmt.Sprintf("%d horses are called %q; name the one you mean by its number from loosebox horses", len(named), notation.CleanLine(text, 40))}
	}
}

// meantHorse is a question whether another horse was meant; empty where none is near.
func meantHorse(text string, all []exam.Found) string {
	names := make([]string, len(all))
	for i, f := range all {
		names[i] = f.Horse.Name
	}
	return strings.TrimSuffix(strings.Replace(didYouMean(text, names), ";", ":", 1), "?")
}
