package server

import (
	"crypto/rand"
	"crypto/tls"
	"encoding/hex"
	"fmt"
	"net"
	"path/filepath"
	"strconv"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
)

// Options are those of Start.
type Options struct {
	Dir      string // of key, certificate and stream
	Practice string // file with the practice and its laptops; empty where the folder has it
	Listen   string // host:port
	MaxBytes int64  // of the stream
	Say      func(string)
	Now      func() time.Time
}

// Defaults of the options.
const (
	DefaultListen = "0.0.0.0:4222"
	DefaultBytes  = 20 << 30
)

func (s *Server) options() (*natsserver.Options, error) {
	host, port, err := net.SplitHostPort(s.o.Listen)
	if err != nil {
		return nil, fmt.Errorf("%q is no address to listen at, such as %s", s.o.Listen, DefaultListen)
	}
	at, err := strconv.Atoi(port)
	if err != nil {
		return nil, fmt.Errorf("%q is no address to listen at, such as %s", s.o.Listen, DefaultListen)
	}
	if at == 0 {
		at = natsserver.RANDOM_PORT
	}
	pair, text, err := certificate(s.o.Dir, s.o.Now())
	if err != nil {
		return nil, err
	}
	s.cert = text
	var secret [32]byte
	if _, err := rand.Read(secret[:]); err != nil {
		return nil, fmt.Errorf("start the hub: %w", err)
	}
	s.door = &doorman{practice: s.practice, secret: hex.EncodeToString(secret[:]), say: s.o.Say, now: s.o.Now, inside: map[uint64]string{}, refused: map[string]bool{}, visiting: map[uint64]time.Time{}}
	return &natsserver.Options{
		Host: host, Port: at, ServerName: "hub_" + s.practice.roster().Practice.ID()[:8],
		NoSigs: true, DisableShortFirstPing: true, MaxPayload: 1 << 20, MaxConn: 4096, WriteDeadline: time.Minute,
		JetStream: true, StoreDir: filepath.Join(s.o.Dir, "js"), SyncAlways: true,
		JetStreamMaxMemory: 64 << 20, JetStreamMaxStore: s.o.MaxBytes + s.o.MaxBytes/8 + 64<<20,
		TLS: true, TLSTimeout: 10, TLSConfig: &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS13},
		AlwaysEnableNonce: true, AuthTimeout: 12, CustomClientAuthentication: s.door,
	}, nil
}

// logger passes on warnings and errors of the server.
type logger struct{ say func(string) }

func (l logger) Warnf(f string, v ...any)  { l.say(fmt.Sprintf(f, v...)) }
func (l logger) Errorf(f string, v ...any) { l.say(fmt.Sprintf(f, v...)) }
func (l logger) Fatalf(f string, v ...any) { l.say(fmt.Sprintf(f, v...)) }
func (logger) Noticef(string, ...any)      {}
func (logger) Debugf(string, ...any)       {}
func (logger) Tracef(string, ...any)       {}
