package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
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

// world is a running soak.
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

// bad injects faults until its time is over.
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

func (w *world) end() {
	for _, l := range w.all {
		kill(l.cmd)
	}
	kill(w.hub)
	if w.proxy != nil {
		w.proxy.close()
	}
}
