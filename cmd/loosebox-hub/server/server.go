package server

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"go.etcd.io/bbolt"                //nolint:depguard // the lock of its file alone: no bucket is opened
	berrors "go.etcd.io/bbolt/errors" //nolint:depguard // the same

	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// Server is a running hub.
type Server struct {
	o        Options
	practice *practice
	door     *doorman
	guests   *guests
	ns       *natsserver.Server
	nc       *nats.Conn // within this process
	stream   jetstream.Stream
	cert     []byte
	stop     context.CancelFunc
	done     sync.WaitGroup
	lock     *bbolt.DB // keeps other hubs from using the folder
}

const startTime = 30 * time.Second

// Start runs a hub until Close; it makes what is missing in its folder. The error is a sentence: another hub uses the folder,
// the practice's file cannot be read, or the address is taken.
func Start(ctx context.Context, o Options) (s *Server, err error) {
	if err := os.MkdirAll(o.Dir, 0o700); err != nil {
		return nil, fmt.Errorf("the hub's folder cannot be made: %w", err)
	}
	lock, err := only(o.Dir)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			_ = lock.Close() // nothing is written to it
		}
	}()
	s = &Server{o: o, lock: lock, guests: &guests{now: o.Now}}
	if s.practice, err = openPractice(o.Dir, o.Practice); err != nil {
		return nil, err
	}
	opts, err := s.options()
	if err != nil {
		return nil, err
	}
	if s.ns, err = natsserver.NewServer(opts); err != nil {
		return nil, fmt.Errorf("start the hub: %w", err)
	}
	s.ns.SetLoggerV2(logger{o.Say}, false, false, false)
	s.ns.Start()
	ctx, s.stop = context.WithCancel(ctx)
	if err = s.ready(ctx); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// only locks the folder: two hubs in one folder would damage the stream. The lock of an empty bbolt file works on every
// system, and ends with the program.
func only(dir string) (*bbolt.DB, error) {
	lock, err := bbolt.Open(filepath.Join(dir, "in-use"), 0o600, &bbolt.Options{Timeout: time.Second})
	if errors.Is(err, berrors.ErrTimeout) {
		return nil, fmt.Errorf("another hub uses %s: nothing was changed. End that one first, or name another folder with --data", dir)
	}
	if err != nil {
		return nil, fmt.Errorf("the hub's folder cannot be used: %w", err)
	}
	return lock, nil
}

// ready makes the stream, reads the statements about laptops, subscribes to new ones, and starts look.
func (s *Server) ready(ctx context.Context) error {
	if !s.ns.ReadyForConnections(startTime) {
		return fmt.Errorf("the hub did not begin to listen at %s: look whether another program does", s.o.Listen)
	}
	nc, err := s.Inside()
	if err != nil {
		return err
	}
	s.nc = nc
	id := s.practice.roster().Practice.ID()
	begin, stop := context.WithTimeout(ctx, startTime)
	defer stop()
	if err := MakeStream(begin, nc, id, s.o.MaxBytes, 1); err != nil {
		return err
	}
	js, err := jetstream.New(nc)
	if err == nil {
		s.stream, err = js.Stream(begin, hub.Stream(id))
	}
	if err != nil {
		return fmt.Errorf("start the hub: %w", err)
	}
	s.practice.changed = s.cutOff
	// This also gets messages that the stream refuses. That is safe: a statement carries its own signature.
	if _, err := nc.Subscribe(saidSubject(id), func(m *nats.Msg) {
		if st, err := roster.ReadStatement(m.Data); err == nil {
			s.hear([]roster.Statement{st})
		}
	}); err != nil {
		return fmt.Errorf("start the hub: %w", err)
	}
	if err := s.takeGuests(nc, id); err != nil {
		return fmt.Errorf("start the hub: %w", err)
	}
	said, err := statements(begin, nc, id)
	if err != nil {
		return err
	}
	s.hear(said)
	s.done.Add(1)
	go s.look(ctx)
	return nil
}

// hear adds statements that laptops brought.
func (s *Server) hear(said []roster.Statement) {
	n, err := s.practice.add(said)
	if err != nil {
		s.o.Say(err.Error())
	} else if n > 0 {
		s.sayWho()
	}
}

func (s *Server) sayWho() {
	in := 0
	for _, l := range s.practice.roster().Laptops() {
		if l.Membership == roster.In {
			in++
		}
	}
	s.o.Say(fmt.Sprintf("laptops in the practice: %d", in))
}

// cutOff ends the connections of laptops that are no longer in the practice.
func (s *Server) cutOff() {
	for _, id := range s.door.outside(func(id uint64) bool { return s.ns.GetClient(id) != nil }) {
		if s.ns.DisconnectClientByID(id) == nil {
			s.o.Say("a laptop that was taken out was cut off")
		}
	}
}

// Size is how many bytes the stream has and may have. The error is that of the server.
func (s *Server) Size(ctx context.Context) (used, most int64, err error) {
	info, err := s.stream.Info(ctx)
	if err != nil {
		return 0, 0, err
	}
	return int64(info.State.Bytes), info.Config.MaxBytes, nil //nolint:gosec // of a disk
}

// Inside opens a connection within this process, with all permissions that the server gives. The caller closes it.
func (s *Server) Inside() (*nats.Conn, error) {
	nc, err := nats.Connect("", nats.InProcessServer(s.ns), nats.UserInfo("hub", s.door.secret), nats.MaxReconnects(-1))
	if err != nil {
		return nil, fmt.Errorf("reach the hub from within: %w", err)
	}
	return nc, nil
}

// Messages is how many messages the stream has. The error is that of the server.
func (s *Server) Messages(ctx context.Context) (int, error) {
	info, err := s.stream.Info(ctx)
	if err != nil {
		return 0, err
	}
	return int(info.State.Msgs), nil //nolint:gosec // of one stream
}

// Heard is how many messages clients have sent since the start, requests included. The error is that of the server.
func (s *Server) Heard() (int64, error) {
	v, err := s.ns.Varz(nil)
	if err != nil {
		return 0, err
	}
	return v.InMsgs, nil
}

// Address is where the hub listens, host:port.
func (s *Server) Address() string { return s.ns.Addr().String() }

// Certificate is the certificate that laptops must know, as PEM text.
func (s *Server) Certificate() string { return string(s.cert) }

// Practice is the practice of the hub.
func (s *Server) Practice() roster.Practice { return s.practice.roster().Practice }

// Close ends the hub and waits for its end; everything it acknowledged is on its disk.
func (s *Server) Close() {
	s.stop()
	s.done.Wait()
	if s.nc != nil {
		s.nc.Close()
	}
	s.ns.Shutdown()
	s.ns.WaitForShutdown()
	_ = s.lock.Close() // nothing is written to it
}
