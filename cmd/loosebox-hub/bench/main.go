// Bench measures exchanges with the hub and, in the same run, bare calls of nats.go for comparison, over TLS on loopback
// with everything synced: cd cmd/loosebox-hub && go run ./bench [-million]
//
// -visits 0 leaves out the visits that are sent one by one; -profile DIR writes where the
// processor's time goes while a new laptop takes everything.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
)

// profiles is the folder for processor profiles; empty for none.
var profiles string

var now = time.Now //nolint:forbidigo // this program measures

func main() {
	if os.Getenv(roleName) != "" {
		trial.End("bench", newcomer(os.Stdout))
		return
	}
	million := flag.Bool("million", false, "measure 1,000,000 records too")
	visits := flag.Int("visits", 300, "how many visits are sent one by one")
	to := flag.String("o", "", "write the table into this file as well")
	flag.StringVar(&profiles, "profile", "", "write processor profiles of a new laptop into this folder")
	flag.Parse()
	var text strings.Builder
	err := run(io.MultiWriter(os.Stderr, &text), *visits, *million)
	if err == nil && *to != "" {
		err = os.WriteFile(*to, []byte(text.String()), 0o644) //nolint:gosec // a table
	}
	trial.End("bench", err)
}

func run(out io.Writer, visits int, million bool) (err error) {
	dir, err := os.MkdirTemp("", "loosebox-bench-*")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	b, err := begin(dir)
	if err != nil {
		return err
	}
	defer b.server.Close()
	say := func(format string, args ...any) { _, _ = fmt.Fprintf(out, format+"\n", args...) }
	say("# The hub, measured beside bare nats.go in the same run\n")
	say("`go run ./bench` on %d cores (%s/%s, %s). A visit is 60 findings, 63 lines.\n", runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version())
	if visits > 0 {
		say("| measure | median ms | p99 ms | bare publish, median ms | ratio | target |\n|---|---|---|---|---|---|")
		if err := b.visits(say, visits); err != nil {
			return err
		}
	}
	say("\n| a new laptop takes | records | s | processor s | most memory MB | target |\n|---|---|---|---|---|---|")
	for _, n := range []int{100_000, 1_000_000} {
		if n > 100_000 && !million {
			continue
		}
		if err := b.catchUp(say, n); err != nil {
			return err
		}
	}
	return nil
}

// bench is a practice with a hub and two laptops.
type bench struct {
	dir      string
	practice *trial.Practice
	server   *server.Server
	ann, bea *trial.Laptop
	named    roster.Hub
}

func begin(dir string) (*bench, error) {
	b := &bench{dir: dir}
	var err error
	if b.practice, err = trial.NewPractice("Harrow Yard"); err != nil {
		return nil, err
	}
	if b.ann, err = b.laptop("ann"); err != nil {
		return nil, err
	}
	if b.bea, err = b.laptop("bea"); err != nil {
		return nil, err
	}
	if err := errors.Join(b.ann.Join(b.practice), b.practice.Write(b.file())); err != nil {
		return nil, err
	}
	b.server, err = server.Start(context.Background(), server.Options{
		Dir: filepath.Join(dir, "hub"), Practice: b.file(), Listen: "127.0.0.1:0", MaxBytes: 8 << 30, Now: now, Say: func(string) {},
	})
	if err != nil {
		return nil, err
	}
	b.named = roster.Hub{Address: b.server.Address(), Certificate: b.server.Certificate()}
	return b, nil
}

func (b *bench) file() string { return filepath.Join(b.dir, "practice.txt") }

func (b *bench) laptop(name string) (*trial.Laptop, error) {
	l, err := trial.Open(name, filepath.Join(b.dir, name))
	if err != nil {
		return nil, err
	}
	return l, errors.Join(b.practice.Admit(l.Key(), name), l.Join(b.practice))
}
