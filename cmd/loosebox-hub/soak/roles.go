package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"syscall"
	"time"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// roleName is the variable that makes a process a laptop or the hub.
const roleName = "LOOSEBOX_SOAK_ROLE"

func env(name string) string { return os.Getenv("LOOSEBOX_SOAK_" + name) }

// play runs this process in its role: a laptop or the hub.
func play(role string) {
	var err error
	switch role {
	case "hub":
		err = runHub()
	case "laptop":
		err = runLaptop()
	case "settle":
		err = settle()
	}
	trial.End(role+" "+env("DIR"), err)
}

func runHub() error {
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, os.Interrupt)
	defer stop()
	s, err := server.Start(ctx, server.Options{
		Dir: env("DIR"), Practice: env("PRACTICE"), Listen: env("LISTEN"), MaxBytes: 4 << 30,
		Now: time.Now, Say: func(string) {}, //nolint:forbidigo // of its certificate
	})
	if err != nil {
		return err
	}
	<-ctx.Done()
	s.Close()
	return nil
}

func meet() (*hub.Connection, error) {
	cert, err := os.ReadFile(env("CERT"))
	if err != nil {
		return nil, err
	}
	return hub.New(roster.Hub{Address: env("HUB"), Certificate: string(cert)}, time.Now, nil) //nolint:forbidigo // of certificates
}

// runLaptop examines and exchanges until it is killed. It writes the accepted visits to a file.
func runLaptop() error {
	l, err := trial.Open(env("NAME"), env("DIR"))
	if err != nil {
		return err
	}
	h, err := meet()
	if err != nil {
		return err
	}
	accepted, err := os.OpenFile(filepath.Join(env("DIR"), acceptedName+env("SUFFIX")), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	seed, _ := strconv.ParseUint(env("SEED"), 10, 64)
	chance := rand.New(rand.NewPCG(seed, uint64(os.Getpid()))) //nolint:gosec // no secret
	for {
		if chance.IntN(3) > 0 {
			v, err := l.Examine(chance.IntN(6))
			if err != nil {
				return err
			}
			if _, err := fmt.Fprintln(accepted, v); err != nil {
				return err
			}
		}
		h.Gently, h.Later = chance.IntN(2) == 0, chance.IntN(2) == 0
		ctx, stop := context.WithTimeout(context.Background(), 20*time.Second)
		_, _ = h.Exchange(ctx, l) // the hub is away, or a line was cut: the next one goes on
		stop()
		time.Sleep(time.Duration(200+chance.IntN(1800)) * time.Millisecond)
	}
}

// settle exchanges once, without faults, and prints a digest of what the record holds.
func settle() error {
	l, err := trial.Open(env("NAME"), env("DIR"))
	if err != nil {
		return err
	}
	defer l.Close() //nolint:errcheck // what was written is synced
	h, err := meet()
	if err != nil {
		return err
	}
	defer h.Close()
	done, err := h.Exchange(context.Background(), l)
	if err != nil {
		return err
	}
	if done.Unwritten != nil {
		return done.Unwritten
	}
	held, err := l.Held()
	if err != nil {
		return err
	}
	fmt.Printf("%x %d\n", sha256.Sum256([]byte(held)), done.Came+done.Lines) //nolint:forbidigo // for the parent
	return nil
}
