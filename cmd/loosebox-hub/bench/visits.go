package main

import (
	"context"
	"errors"
	"slices"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/storage/share/hub"
)

// visits measures n visits that are sent one by one, and after each the same bytes by a bare publish.
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
		h *hub.Connection
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

// bare returns a function that publishes bytes into the same stream, on a subject that is not that of a log.
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
