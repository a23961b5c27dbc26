// Command faults injects faults and reports what was lost: programs killed with signal 9, files cut and bits flipped, full
// disks, folders that cannot be written or are gone, wrong clocks, signals, unexpected answers of the terminal, random
// keys. It prints the table of RESULTS.md; its tests run the same with fewer rounds.
//
//	go run ./cmd/faults -o cmd/faults/RESULTS.md   # everything, and the table anew
//	go run ./cmd/faults -fuzz 1h                   # every fuzzer, an hour in all
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"time"
)

// rounds says how often each fault is tried.
type rounds struct {
	kills, flips, cuts, others int
	keys                       int // of the walk through the screens
	runs                       int // of each command that is broken off
	rows                       int // of the spreadsheet that is imported
	seed                       uint64
}

// outcome is one line of the table.
type outcome struct {
	fault string
	times int
	seen  string // what was seen
	lost  string // "nothing", or what
}

// trial injects one kind of fault, in a folder of its own. The error of its run says what broke: a lost entry, a panic, a
// wrong value.
type trial struct {
	name string
	try  func(dir string, r rounds) (outcome, error)
}

func trials() []trial {
	return append([]trial{
		{"kill -9 in a scripted exam with corrections and procedures", tryKills},
		{"file cut, lengths sampled", tryCuts},
		{"one bit flipped", tryFlips},
		{"disk full", tryFullDisk},
		{"folder or file that cannot be written", tryReadOnly},
		{"folder gone while the record is open", tryGone},
		{"clock set back a year", tryClock},
		{"two programs at once", tryTwo},
		{"import of 10 MB, killed in the middle", tryImport},
		{"file of a newer version", tryNewer},
		{"backups under a wrong clock", tryBackupClock},
		{"random keys with resizes and pastes", tryWalk},
	}, programTrials()...)
}

func main() {
	if job := os.Getenv(jobVariable); job != "" {
		os.Exit(runJob(job))
	}
	r := rounds{}
	flag.IntVar(&r.kills, "kills", 2000, "programs killed")
	flag.IntVar(&r.flips, "flips", 1000, "bits flipped")
	flag.IntVar(&r.cuts, "cuts", 1000, "lengths to which a file is cut")
	flag.IntVar(&r.others, "others", 20, "rounds of every other fault")
	flag.IntVar(&r.runs, "runs", 10, "times that each command is broken off, by kills and by signals")
	flag.IntVar(&r.keys, "keys", 100_000, "keys pressed by chance in the screens")
	flag.IntVar(&r.rows, "rows", mostRows, "rows of the spreadsheet that is imported, 1 kB each")
	flag.Uint64Var(&r.seed, "seed", 2026, "what chance begins with")
	only := flag.String("only", "", "only faults, or fuzzers, whose name holds this text")
	fuzz := flag.Duration("fuzz", 0, "run every fuzzer instead, one after the other, for so long in all")
	file := flag.String("o", "", "write the table into this file as well")
	flag.Parse()
	var b strings.Builder
	b.WriteString("# Faults, and what was lost\n\nWritten by `go run ./cmd/faults`; DEVELOPERS.md says what it does.\n\n")
	w := io.MultiWriter(os.Stdout, &b)
	var err error
	if *fuzz > 0 {
		err = fuzzAll(w, *fuzz, *only)
	} else {
		withBuilt(func() { err = table(w, r, *only) })
	}
	if *file != "" {
		err = errors.Join(err, os.WriteFile(*file, []byte(b.String()), 0o644)) //nolint:gosec // for everybody to read
	}
	if err != nil {
		_, _ = fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// table runs every trial and writes a row for each. It goes on after one that broke something; the error names all of
// those.
func table(w io.Writer, r rounds, only string) error {
	started := time.Now() //nolint:forbidigo // this program measures
	say := func(format string, args ...any) { _, _ = fmt.Fprintf(w, format, args...) }
	say("| fault | tried | what was seen | lost |\n|---|---|---|---|\n")
	var broken []string
	for _, t := range trials() {
		if !strings.Contains(t.name, only) {
			continue
		}
		o, err := attempt(t, r)
		if err != nil {
			broken = append(broken, fmt.Sprintf("%s: %v", t.name, err))
			say("| %s | %d | BROKEN: %v | see there |\n", t.name, o.times, err)
			continue
		}
		say("| %s | %d | %s | %s |\n", t.name, o.times, o.seen, o.lost)
	}
	say("\n%s/%s, %s, seed %d, %s.\n", runtime.GOOS, runtime.GOARCH, runtime.Version(), r.seed,
		time.Since(started).Round(time.Second))
	if len(broken) > 0 {
		return fmt.Errorf("%s", strings.Join(broken, "\n"))
	}
	return nil
}

// attempt runs a trial in a temporary folder.
func attempt(t trial, r rounds) (outcome, error) {
	dir, err := os.MkdirTemp("", "loosebox-fault-")
	if err != nil {
		return outcome{}, err
	}
	defer removeAll(dir)
	return t.try(dir, r)
}

func chance(r rounds, what uint64) *rand.Rand { return rand.New(rand.NewPCG(r.seed, what)) }
