// Bench measures an exchange with the hub beside bare calls of nats.go in the same run, over
// TLS on loopback, with everything synced: cd cmd/loosebox-hub && go run ./bench [-million]
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
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/pprof"
	"slices"
	"strings"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// roleName makes a process the new laptop, whose memory is measured.
const roleName = "LOOSEBOX_BENCH_ROLE"

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

// visits sends visits one by one, and beside each the same bytes by a bare publish.
func (b *bench) visits(say func(string, ...any), n int) error {
	heard := make(chan time.Time, 64)
	first, err := hub.New(b.named, now, nil)
	if err != nil {
		return err
	}
	defer first.Close()
	second, err := hub.New(b.named, now, func() {
		select {
		case heard <- now():
		default:
		}
	})
	if err != nil {
		return err
	}
	defer second.Close()
	ctx := context.Background()
	for _, l := range []struct {
		h *hub.Hub
		r *trial.Laptop
	}{{first, b.ann}, {second, b.bea}, {first, b.ann}} {
		if _, err := l.h.Exchange(ctx, l.r); err != nil {
			return err
		}
	}
	bare, err := b.bare(ctx)
	if err != nil {
		return err
	}
	var atHub, inSecond, nothing, plain []time.Duration
	for range n {
		if _, err := b.ann.Examine(60); err != nil {
			return err
		}
		for len(heard) > 0 {
			<-heard
		}
		start := now()
		over := make(chan error, 1)
		go func() {
			_, err := first.Exchange(ctx, b.ann)
			over <- err
		}()
		stored := <-heard // the server tells of it when it has it on its disk
		done, err := second.Exchange(ctx, b.bea)
		if err := errors.Join(err, <-over); err != nil {
			return err
		}
		if done.Came > 0 {
			inSecond = append(inSecond, now().Sub(start))
		}
		atHub = append(atHub, stored.Sub(start))
		start = now()
		if _, err := first.Exchange(ctx, b.ann); err != nil {
			return err
		}
		nothing = append(nothing, now().Sub(start))
		logs, err := b.ann.Logs()
		if err != nil {
			return err
		}
		s, err := b.ann.Next(logs[0].Row, logs[0].N-63, logs[0].N)
		if err != nil {
			return err
		}
		data := s.Bytes()
		start = now()
		if err := bare(data); err != nil {
			return err
		}
		plain = append(plain, now().Sub(start))
	}
	floor := at(plain, 0.5)
	row := func(what string, list []time.Duration, target string) {
		say("| %s | %.1f | %.1f | %.1f | %.1f | %s |", what, ms(at(list, 0.5)), ms(at(list, 0.99)), ms(floor), float64(at(list, 0.5))/float64(floor), target)
	}
	row("one closed visit durable at the hub, pushed first", atHub, "3.5 x bare")
	row("the same, in the record of a second laptop", inSecond, "10 ms median")
	row("nothing new (one round trip)", nothing, "one round trip")
	return nil
}

// bare publishes bytes into the same stream, on a subject that is no log's.
func (b *bench) bare(ctx context.Context) (func([]byte) error, error) {
	id := b.practice.Practice.ID()
	pinned, urls, err := hub.Pinned(b.named, now)
	if err != nil {
		return nil, err
	}
	nc, err := nats.Connect(urls[0], nats.Nkey(hub.KeyName(b.bea.Key()), b.bea.SignNonce), nats.Secure(pinned), nats.CustomInboxPrefix(hub.Inbox(b.bea.Key())))
	if err != nil {
		return nil, err
	}
	js, err := jetstream.New(nc)
	if err != nil {
		return nil, err
	}
	subject := "carry.v1." + id + "." + hub.KeyName(b.bea.Key()) + ".bare"
	return func(data []byte) error {
		_, err := js.Publish(ctx, subject, data)
		return err
	}, nil
}

func at(list []time.Duration, part float64) time.Duration {
	if len(list) == 0 {
		return 0
	}
	slices.Sort(list)
	return list[min(int(part*float64(len(list))), len(list)-1)]
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// catchUp fills the hub with records and lets a new laptop take them, in a process of its
// own; then the same through a folder.
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

// child lets a new laptop take everything, in a process of its own.
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

// profile writes a processor profile of work, where one is wanted.
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

// peak is the most memory that this process had, where the system says it.
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
