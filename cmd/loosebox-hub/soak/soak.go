package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam"
)

const acceptedName = "accepted"

type options struct {
	laptops, twins int
	length         time.Duration
	seed           uint64
	now            func() time.Time
}

// result is what a soak did and saw.
type result struct {
	laptops, twins                       int
	hubKills, laptopKills, cuts, putBack int
	visits                               int
	lines                                uint64
	rounds                               int // of peace until all were equal
}

func (r result) String() string {
	return fmt.Sprintf("%d laptops and %d copied disks are equal after %d rounds of peace. The hub was killed %d times, laptops %d times. "+
		"%d connections were cut, and the hub was put back %d times. %d visits were accepted, and none was lost. Each record has %d lines.",
		r.laptops, r.twins, r.rounds, r.hubKills, r.laptopKills, r.cuts, r.putBack, r.visits, r.lines)
}

// one is a laptop of a soak.
type one struct {
	name, dir, suffix string
	cmd               *exec.Cmd
}

// world is a soak that runs.
type world struct {
	options
	dir    string
	chance *rand.Rand
	hub    *exec.Cmd
	at     string // where the hub listens
	proxy  *proxy
	all    []*one
	done   result
}

func soak(ctx context.Context, dir string, o options) (result, error) {
	w := &world{options: o, dir: dir, chance: rand.New(rand.NewPCG(o.seed, 2))} //nolint:gosec // no secret
	w.done.laptops, w.done.twins = o.laptops, o.twins
	defer w.end()
	if err := w.begin(); err != nil {
		return w.done, err
	}
	if err := w.bad(ctx); err != nil {
		return w.done, err
	}
	if err := w.peace(); err != nil {
		return w.done, err
	}
	return w.done, w.nothingLost()
}

// begin makes the practice with its laptops, the hub and the proxy.
func (w *world) begin() error {
	p, err := trial.NewPractice("Harrow Yard")
	if err != nil {
		return err
	}
	for i := range w.laptops {
		l := &one{name: fmt.Sprint("laptop", i), dir: filepath.Join(w.dir, fmt.Sprint("laptop", i))}
		r, err := trial.Open(l.name, l.dir)
		if err != nil {
			return err
		}
		if err := errors.Join(p.Admit(r.Key(), l.name), r.Close()); err != nil {
			return err
		}
		w.all = append(w.all, l)
	}
	for _, l := range w.all {
		r, err := trial.Open(l.name, l.dir)
		if err != nil {
			return err
		}
		if err := errors.Join(r.Join(p), r.Close()); err != nil {
			return err
		}
	}
	if err := p.Write(w.file()); err != nil {
		return err
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	w.at = free.Addr().String()
	if err := free.Close(); err != nil {
		return err
	}
	if w.proxy, err = newProxy(w.at, w.seed); err != nil {
		return err
	}
	return w.startHub()
}

func (w *world) file() string   { return filepath.Join(w.dir, "practice.txt") }
func (w *world) hubDir() string { return filepath.Join(w.dir, "hub") }

func (w *world) startHub() error {
	w.hub = w.process("hub", "DIR="+w.hubDir(), "PRACTICE="+w.file(), "LISTEN="+w.at)
	if err := w.hub.Start(); err != nil {
		return err
	}
	for range 300 {
		c, err := net.Dial("tcp", w.at)
		if err == nil {
			return c.Close()
		}
		time.Sleep(100 * time.Millisecond)
	}
	return errors.New("the hub does not listen")
}

func (w *world) process(role string, vars ...string) *exec.Cmd {
	c := exec.Command(os.Args[0]) //nolint:gosec // this program
	c.Env = append(os.Environ(), roleName+"="+role)
	for _, v := range vars {
		c.Env = append(c.Env, "LOOSEBOX_SOAK_"+v)
	}
	c.Stderr = os.Stderr
	return c
}

func (w *world) vars(l *one, at string) []string {
	return []string{
		"NAME=" + l.name, "DIR=" + l.dir, "SUFFIX=" + l.suffix, "HUB=" + at,
		"CERT=" + filepath.Join(w.hubDir(), server.CertificateName), "SEED=" + strconv.FormatUint(w.chance.Uint64(), 10),
	}
}

func (w *world) start(l *one) error {
	l.cmd = w.process("laptop", w.vars(l, w.proxy.address())...)
	return l.cmd.Start()
}

func kill(c *exec.Cmd) {
	if c != nil && c.Process != nil {
		_ = c.Process.Kill()
		_ = c.Wait()
	}
}

// bad is the time in which everything goes wrong.
func (w *world) bad(ctx context.Context) error {
	for _, l := range w.all {
		if err := w.start(l); err != nil {
			return err
		}
	}
	began := w.now()
	older := filepath.Join(w.dir, "older")
	saved, back := false, false
	twins := 0
	for w.now().Sub(began) < w.length && ctx.Err() == nil {
		time.Sleep(time.Duration(50+w.chance.IntN(300)) * time.Millisecond)
		part := float64(w.now().Sub(began)) / float64(w.length)
		switch n := w.chance.IntN(40); {
		case !saved && part > 0.3:
			saved = true
			kill(w.hub)
			if err := errors.Join(os.CopyFS(older, os.DirFS(w.hubDir())), w.startHub()); err != nil {
				return err
			}
		case !back && part > 0.6:
			back = true
			w.done.putBack++
			kill(w.hub)
			if err := errors.Join(os.RemoveAll(w.hubDir()), os.CopyFS(w.hubDir(), os.DirFS(older)), w.startHub()); err != nil {
				return err
			}
		case twins < w.twins && part > 0.2+0.5*float64(twins)/float64(w.twins):
			if err := w.twin(twins); err != nil {
				return err
			}
			twins++
		case n == 0:
			w.done.hubKills++
			kill(w.hub)
			time.Sleep(time.Duration(w.chance.IntN(1500)) * time.Millisecond)
			if err := w.startHub(); err != nil {
				return err
			}
		case n < 12:
			l := w.all[w.chance.IntN(len(w.all))]
			w.done.laptopKills++
			kill(l.cmd)
			if err := w.start(l); err != nil {
				return err
			}
		}
	}
	for _, l := range w.all {
		kill(l.cmd)
	}
	w.done.cuts = int(w.proxy.cuts.Load())
	return ctx.Err()
}

// twin copies a laptop's disk and uses it on both.
func (w *world) twin(n int) error {
	l := w.all[n]
	kill(l.cmd)
	t := &one{name: l.name, dir: l.dir + "-twin", suffix: "-twin"}
	if err := trial.Copy(l.dir, t.dir); err != nil {
		return err
	}
	w.all = append(w.all, t)
	return errors.Join(w.start(l), w.start(t))
}

// maxRounds is how often each laptop may exchange in peace until all are equal: what one
// brings, the others take in the round after.
const maxRounds = 8

func (w *world) peace() error {
	for w.done.rounds = 1; w.done.rounds <= maxRounds; w.done.rounds++ {
		held := map[string]int{}
		for _, l := range w.all {
			c := w.process("settle", w.vars(l, w.at)...)
			out, err := c.Output()
			if err != nil {
				return fmt.Errorf("%s in peace: %w", l.dir, err)
			}
			held[strings.Fields(string(out))[0]]++
		}
		if len(held) == 1 {
			return nil
		}
	}
	return errors.New("the records are not equal")
}

// nothingLost looks for every visit that was accepted, in every record.
func (w *world) nothingLost() error {
	visits := map[string]bool{}
	for _, l := range w.all {
		for _, suffix := range []string{"", "-twin"} {
			data, err := os.ReadFile(filepath.Join(l.dir, acceptedName+suffix))
			if err != nil && !errors.Is(err, os.ErrNotExist) {
				return err
			}
			for line := range bytes.Lines(data) {
				if bytes.HasSuffix(line, []byte("\n")) {
					visits[string(bytes.TrimSpace(line))] = true
				}
			}
		}
	}
	w.done.visits = len(visits)
	for _, l := range w.all {
		r, err := trial.Open(l.name, l.dir)
		if err != nil {
			return err
		}
		for v := range visits {
			if _, err := r.Visit(exam.VisitID(v)); err != nil {
				return errors.Join(fmt.Errorf("%s: %w", l.dir, err), r.Close())
			}
		}
		report, err := r.Check(context.Background())
		if err == nil && !report.OK {
			err = fmt.Errorf("%s: %v", l.dir, report.Broken)
		}
		logs, logErr := r.Logs()
		w.done.lines = 0
		for _, h := range logs {
			w.done.lines += h.N - h.Base
		}
		if err := errors.Join(err, logErr, r.Close()); err != nil {
			return err
		}
	}
	return nil
}

func (w *world) end() {
	for _, l := range w.all {
		kill(l.cmd)
	}
	kill(w.hub)
	if w.proxy != nil {
		w.proxy.close()
	}
}

// proxy passes bytes on to the hub, and cuts lines somewhere in them.
type proxy struct {
	to     string
	listen net.Listener
	cuts   atomic.Int64
	mu     sync.Mutex
	chance *rand.Rand
}

func newProxy(to string, seed uint64) (*proxy, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	p := &proxy{to: to, listen: l, chance: rand.New(rand.NewPCG(seed, 3))} //nolint:gosec // no secret
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go p.pass(c)
		}
	}()
	return p, nil
}

func (p *proxy) address() string { return p.listen.Addr().String() }
func (p *proxy) close()          { _ = p.listen.Close() }

// longest is after how many bytes a line is cut at the latest.
const longest = 120_000

func (p *proxy) pass(c net.Conn) {
	defer c.Close() //nolint:errcheck // it is cut anyway
	h, err := net.Dial("tcp", p.to)
	if err != nil {
		return
	}
	defer h.Close() //nolint:errcheck // it is cut anyway
	p.mu.Lock()
	up, down := int64(p.chance.IntN(longest)), int64(p.chance.IntN(longest))
	p.mu.Unlock()
	over := make(chan bool, 2)
	one := func(to, from net.Conn, most int64) {
		n, _ := io.CopyN(to, from, most)
		over <- n == most
	}
	go one(h, c, up)
	go one(c, h, down)
	if <-over {
		p.cuts.Add(1)
	}
}
