package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/pprof"
	"strings"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// roleName makes a process the new laptop, whose memory is measured.
const roleName = "LOOSEBOX_BENCH_ROLE"

// catchUp fills the hub with n records and measures a new laptop that takes them, in a process of its own; then the same
// through a folder.
func (b *bench) catchUp(say func(string, ...any), n int) error {
	ctx := context.Background()
	h, err := hub.New(b.named, now, nil)
	if err != nil {
		return err
	}
	defer h.Close()
	held := func() (total int, err error) {
		logs, err := b.ann.Logs()
		for _, l := range logs {
			total += int(l.N) //nolint:gosec // of one bench
		}
		return total, err
	}
	have, err := held()
	if err != nil {
		return err
	}
	if err := b.ann.Fill(n - have); err != nil {
		return err
	}
	if done, err := h.Exchange(ctx, b.ann); err != nil || done.Unwritten != nil {
		return errors.Join(err, done.Unwritten)
	}
	stick := filepath.Join(b.dir, fmt.Sprint("stick", n))
	if err := os.Mkdir(stick, 0o700); err != nil {
		return err
	}
	if done, err := share.New(stick).Exchange(ctx, b.ann); err != nil || done.Unwritten != nil {
		return errors.Join(err, done.Unwritten)
	}
	targets := map[int][2]string{100_000: {"2 s, 100 MB", "3 s"}, 1_000_000: {"20 s, 100 MB", "30 s"}}
	for i, way := range []string{"hub", "folder"} {
		name := fmt.Sprint("new-", way, n)
		l, err := b.laptop(name)
		if err != nil {
			return err
		}
		if err := errors.Join(l.Close(), b.ann.Join(b.practice)); err != nil {
			return err
		}
		if _, err := h.Exchange(ctx, b.ann); err != nil { // the hub hears of the new laptop
			return err
		}
		said, err := b.child(name, way, stick)
		if err != nil {
			return err
		}
		say("| everything from the %s | %s | %s |", way, said, targets[n][i])
	}
	return nil
}

// child starts a process in which a new laptop takes everything, and returns columns of the table: records, time, processor
// time in s, memory.
func (b *bench) child(name, way, stick string) (string, error) {
	c := exec.Command(os.Args[0]) //nolint:gosec // this program
	c.Env = append(os.Environ(), roleName+"="+way, "BENCH_DIR="+filepath.Join(b.dir, name), "BENCH_STICK="+stick,
		"BENCH_HUB="+b.named.Address, "BENCH_CERT="+b.named.Certificate)
	if profiles != "" {
		c.Env = append(c.Env, profileName+"="+filepath.Join(profiles, name+".cpu"))
	}
	c.Stderr = os.Stderr
	out, err := c.Output()
	records, rest, _ := strings.Cut(strings.TrimSpace(string(out)), " | ")
	took, memory, _ := strings.Cut(rest, " | ")
	return fmt.Sprintf("%s | %s | %.1f | %s", records, took, (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds(), memory), err
}

// profileName is the variable with the file of a profile.
const profileName = "BENCH_PROFILE"

// profile runs work and writes its processor profile, if the variable names a file.
func profile(work func() error) error {
	name := os.Getenv(profileName)
	if name == "" {
		return work()
	}
	f, err := os.Create(name) //nolint:gosec // of this program's own
	if err != nil {
		return err
	}
	if err := pprof.StartCPUProfile(f); err != nil {
		return errors.Join(err, f.Close())
	}
	err = work()
	pprof.StopCPUProfile()
	return errors.Join(err, f.Close())
}

func newcomer(out io.Writer) error {
	l, err := trial.Open("new", os.Getenv("BENCH_DIR"))
	if err != nil {
		return err
	}
	defer l.Close() //nolint:errcheck // what was written is synced
	start := now()
	var done share.Result
	err = profile(func() (err error) {
		if os.Getenv(roleName) == "folder" {
			done, err = share.New(os.Getenv("BENCH_STICK")).Exchange(context.Background(), l)
			return err
		}
		h, err := hub.New(roster.Hub{Address: os.Getenv("BENCH_HUB"), Certificate: os.Getenv("BENCH_CERT")}, now, nil)
		if err != nil {
			return err
		}
		defer h.Close()
		done, err = h.Exchange(context.Background(), l)
		return err
	})
	if err != nil {
		return err
	}
	took := now().Sub(start)
	_, err = fmt.Fprintf(out, "%d | %.1f | %s", done.Came, took.Seconds(), peak())
	return err
}

// peak is the most memory that this process had, in MB, or words where the system does not tell.
func peak() string {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return "not measured here"
	}
	for line := range strings.Lines(string(data)) {
		var kb int
		if _, err := fmt.Sscanf(line, "VmHWM: %d kB", &kb); err == nil {
			return fmt.Sprint(kb >> 10)
		}
	}
	return "not measured here"
}
