package main

import (
	"io"
	"math/rand/v2"
	"net"
	"sync"
	"sync/atomic"
)

// proxy passes connections on to the hub, and cuts each after a random number of bytes.
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

// longest is the most bytes that pass before a connection is cut.
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
