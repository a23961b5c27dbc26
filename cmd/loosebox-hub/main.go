// Loosebox-hub is the server over which the laptops of one practice exchange their records.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"loosebox/cmd/loosebox-hub/server"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := run(ctx, os.Args[1:], os.Stderr)
	stop()
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "loosebox-hub:", err)
		os.Exit(1)
	}
}

const usage = `loosebox-hub is where the laptops of one practice meet over a network.

  loosebox-hub --data DIR --practice FILE     run the hub until a signal ends it

FILE is the practice as a laptop writes it: loosebox share hub -o FILE. It is read again
whenever it changes; what laptops bring of it counts at once. The first start makes key,
certificate and stream in DIR. Carry DIR/hub.pem to the first laptop and name the hub there:

  loosebox share hub ADDRESS:4222 --certificate hub.pem --key practice.key

Instead of running, it can prepare a stock nats-server:

  loosebox-hub --data DIR --practice FILE --write-conf hub.conf
  loosebox-hub --data DIR --practice FILE --make-stream ADDRESS:4222 [--replicas 3]

`

// run does what the flags say until ctx ends, and writes messages to out.
func run(ctx context.Context, args []string, out io.Writer) error {
	now := time.Now //nolint:forbidigo // the one clock of this program
	o := server.Options{Now: now, Say: func(text string) {
		_, _ = fmt.Fprintln(out, now().Format("2006-01-02 15:04:05"), text)
	}}
	var conf, makeAt string
	var gigabytes float64
	var replicas int
	f := flag.NewFlagSet("loosebox-hub", flag.ContinueOnError)
	f.SetOutput(out)
	f.Usage = func() {
		_, _ = fmt.Fprint(out, usage)
		f.PrintDefaults()
	}
	f.StringVar(&o.Dir, "data", "", "the hub's folder")
	f.StringVar(&o.Practice, "practice", "", "the file with the practice and its laptops (after the first start it may be left out)")
	f.StringVar(&o.Listen, "listen", server.DefaultListen, "the address to listen at")
	f.Float64Var(&gigabytes, "max-gb", server.DefaultBytes/(1<<30), "how large the stream may become")
	f.StringVar(&conf, "write-conf", "", "write a configuration for a stock nats-server into this file, and end")
	f.StringVar(&makeAt, "make-stream", "", "make the stream in a stock nats-server at this address, and end")
	f.IntVar(&replicas, "replicas", 1, "on how many servers the stream is kept, with --make-stream and --write-conf: 1 or 3")
	if err := f.Parse(args); err != nil {
		return err
	}
	if f.NArg() > 0 {
		return fmt.Errorf("%q is too much: see loosebox-hub --help", f.Arg(0))
	}
	if o.Dir == "" {
		return errors.New("name the hub's folder with --data")
	}
	if o.MaxBytes = int64(gigabytes * (1 << 30)); o.MaxBytes < 1<<20 {
		return errors.New("--max-gb is at least 0.001")
	}
	if replicas != 1 && replicas != 3 {
		return errors.New("--replicas is 1 or 3")
	}
	switch {
	case conf != "":
		return server.WriteConf(o, conf, replicas)
	case makeAt != "":
		return server.MakeStreamAt(ctx, o, makeAt, replicas)
	}
	s, err := server.Start(ctx, o)
	if err != nil {
		return err
	}
	defer s.Close()
	o.Say(fmt.Sprintf("the hub of %q listens at %s; laptops need %s", s.Practice().Name, s.Address(), filepath.Join(o.Dir, server.CertificateName)))
	<-ctx.Done()
	o.Say("the hub ends")
	return nil
}
