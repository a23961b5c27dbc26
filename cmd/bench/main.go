//go:build unix

package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// bench is what every measurement is given.
type bench struct {
	dir     string // of everything made for it
	root    string // of the module
	ours    string // the built programs
	bare    string
	data    string // folder of the record
	visits  int    // in it
	presses int
	starts  int
	taps    int
	rows    int
	// commands are those over the whole record that are measured, with commas; all where it is empty.
	commands string
	now      time.Time
}

func main() {
	b := &bench{now: time.Now()} //nolint:forbidigo // the one clock of this program
	flag.IntVar(&b.presses, "presses", 200, "keys a screen, a size and a program")
	flag.IntVar(&b.starts, "starts", 30, "starts of each program")
	flag.IntVar(&b.taps, "taps", 200, "taps of the count whose stamps are measured")
	flag.IntVar(&b.visits, "visits", 10000, "visits of the record, 20 a horse")
	flag.StringVar(&b.data, "record", "", "a folder for the record, which stays and is used again; else one that is made and deleted")
	flag.IntVar(&b.rows, "rows", 20000, "exams of the spreadsheet that is imported")
	flag.StringVar(&b.commands, "commands", "", "of the whole record measure only these: check, export, import, rebuild, due, round; an import needs its export")
	only := flag.String("only", "", "measure only what has this in its name: start, idle, keys, view, store, stamp, import, share, whole, pack")
	flag.Parse()
	if err := b.run(*only); err != nil {
		_, _ = fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func (b *bench) run(only string) (err error) {
	b.dir, err = os.MkdirTemp("", "loosebox-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(b.dir) //nolint:errcheck // a folder in the system's place for such
	if err := b.build(); err != nil {
		return err
	}
	size, err := b.fill()
	if err != nil {
		return err
	}
	say("Measured %s on %s, %d processors, %s/%s, %s; a record of %d visits in %d MB.\n",
		b.now.Format("2006-01-02"), processor(), runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version(), b.horses()*visitsEach, size>>20)
	for _, m := range []struct {
		name string
		do   func() error
	}{{"start", b.startTable}, {"idle", b.idleTable}, {"view", b.viewTable}, {"keys", b.keysTable}, {"stamp", b.stampTable}, {"store", b.storeTable}, {"import", b.importTable}, {"share", b.shareTable}, {"whole", b.wholeTable}, {"pack", b.packTable}} {
		if !strings.Contains(m.name, only) {
			continue
		}
		if err := m.do(); err != nil {
			return fmt.Errorf("%s: %w", m.name, err)
		}
	}
	return nil
}

// build makes both programs as they are given to people.
func (b *bench) build() error {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return fmt.Errorf("find the module: %w", err)
	}
	b.root = strings.TrimSpace(string(out))
	b.ours, b.bare = filepath.Join(b.dir, "loosebox"), filepath.Join(b.dir, "bare")
	for file, pkg := range map[string]string{b.ours: "./cmd/loosebox", b.bare: "./cmd/bench/bare"} {
		c := exec.Command("go", "build", "-o", file, pkg)
		c.Dir = b.root
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("build %s: %w: %s", pkg, err, out)
		}
	}
	return nil
}

// processor is the name of the processor, where the system tells.
func processor() string {
	text, err := os.ReadFile("/proc/cpuinfo")
	if err != nil {
		return runtime.GOARCH
	}
	for _, line := range strings.Split(string(text), "\n") {
		if name, ok := strings.CutPrefix(line, "model name"); ok {
			return strings.TrimLeft(name, "\t :")
		}
	}
	return runtime.GOARCH
}

// say prints a line of the result.
func say(format string, args ...any) {
	_, _ = fmt.Fprintf(os.Stdout, format+"\n", args...)
}
