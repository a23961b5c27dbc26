package hub

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/nats-io/nats.go"

	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// lack is records of a row that the hub does not hold, from and to included.
type lack struct {
	log      signedlog.ID
	row      storage.LogBranch
	from, to uint64
	carried  bool // not on this laptop's own subject
}

func lines(list []lack) int {
	n := uint64(0)
	for _, l := range list {
		n += l.to - l.from + 1
	}
	return int(min(n, 1<<31-1))
}

// missing lists what of the record the hub does not hold, and what of it is sent now.
func (x *exchange) missing() (all, now []lack, err error) {
	logs, err := x.r.Logs()
	if err != nil {
		return nil, nil, err
	}
	for _, l := range logs {
		if x.stay && l.Rehearsals {
			continue
		}
		from, err := x.behind(l)
		if err != nil {
			return nil, nil, err
		}
		if from > l.N {
			continue
		}
		again := from <= x.state.Rows[l.Row.String()].Short // sealed anew: one of all who can does it
		p := lack{l.Log, storage.LogBranch{Name: l.Row, Base: l.Base}, from, l.N, again || !l.Own || l.Doubt || l.Row != l.Log}
		all = append(all, p)
		if x.Later && l.Own && l.Due < p.from { // of open visits alone
			p.to = min(p.to, l.Packed)
		}
		if p.from <= p.to {
			now = append(now, p)
		}
	}
	return all, now, nil
}

// behind is the first record of a row that the hub lacks.
func (x *exchange) behind(l storage.Held) (uint64, error) {
	at := x.state.Rows[l.Row.String()]
	digest, err := signedlog.ParseDigest(at.Digest)
	switch {
	case at.N <= l.Base || err != nil:
		return l.Base + 1, nil
	case at.N == l.N && digest == l.Last:
		return l.N + 1, nil
	}
	held, err := x.r.Holds(l.Row, signedlog.RecordRef{N: at.N, Digest: digest})
	if held {
		return at.N + 1, err
	}
	return l.Base + 1, err
}

// send sends what the hub lacks. It is sure where each acknowledgment was of the message
// behind the cursor: then the hub is known to hold everything up to there.
func (x *exchange) send(ctx context.Context, list []lack) (sure bool, err error) {
	before := x.state.Cursor
	defer func() {
		if x.state.Cursor > before {
			err = errors.Join(err, x.keep())
		}
	}()
	sure, err = x.tell(ctx)
	if err != nil {
		return false, err
	}
	for _, l := range list {
		last := x.expected(l) // goes on from message to message, also where they do not count
		for after := l.from - 1; after < l.to; {
			if ctx.Err() != nil {
				return false, brokenOff(ctx)
			}
			s, err := x.r.Next(l.row.Name, after, l.to)
			if err != nil {
				return false, err
			}
			if len(s.Cores) == 0 {
				break
			}
			p := x.part(s)
			m, err := x.wrap(l, p, last)
			if err != nil {
				return false, err
			}
			back, err := x.publish(ctx, m)
			if err != nil {
				return false, err
			}
			last = back.Seq
			x.sent(back, p)
			if x.counts(back) {
				x.confirm(back, m)
				x.state.grew(l.row, p)
			} else {
				sure = false
			}
			x.done.Waiting -= int(min(s.Last(), l.to) - after)
			after = s.Last()
		}
	}
	return sure, nil
}

// expected is the sequence of the last message on the subjects of a log.
func (x *exchange) expected(l lack) uint64 {
	at := x.state.Logs[l.log.String()]
	if l.carried {
		return at.Carried
	}
	return at.Own
}

// wrap makes a message of a segment that is stored only behind the message last.
func (x *exchange) wrap(l lack, p *part, last uint64) (*nats.Msg, error) {
	log := l.log.String()
	m := nats.NewMsg(logSubject(x.practice, x.own, log))
	if l.carried {
		m.Subject = carrySubject(x.practice, x.own, log)
		m.Header.Set("Nats-Expected-Last-Subject-Sequence-Subject", carrySubject(x.practice, "*", log))
	}
	m.Header.Set("Nats-Expected-Last-Subject-Sequence", strconv.FormatUint(last, 10))
	// The digest is the same for two cuttings, and for two circles that can read them.
	m.Header.Set("Nats-Msg-Id", fmt.Sprintf("%s-%d%s", p.end.Digest, p.First, x.seal.Name()))
	var err error
	m.Data, err = x.seal.Bytes(p.Segment)
	return m, err
}

func (x *exchange) sent(back receipt, p *part) {
	if !back.Duplicate {
		x.done.Files++
		x.done.Lines += len(p.Cores)
	}
}

// counts says whether an acknowledgment is of the message behind the cursor, over the
// connection by which the cursor was read.
func (x *exchange) counts(back receipt) bool {
	return !back.Duplicate && back.Seq == x.state.Cursor+1 && x.nc.Stats().Reconnects == x.lives
}

// confirm moves the cursor behind a message of this laptop that counts.
func (x *exchange) confirm(back receipt, m *nats.Msg) {
	x.state.passed(message{seq: back.Seq, subject: m.Subject, data: m.Data}, x.own)
}

// keep writes down how far the hub is known.
func (x *exchange) keep() error {
	_, err := x.r.AdoptFrom(x.name, nil, func(storage.Adopted, func(signedlog.ID, signedlog.RecordRef) ([]storage.LogBranch, error)) ([]byte, error) {
		return x.state.bytes()
	})
	return err
}

// statements is the last part of the subject of what the practice's key said.
const statements = "roster"

// tell sends what was said of the practice's laptops and hub, as far as the hub lacks it.
func (x *exchange) tell(ctx context.Context) (sure bool, err error) {
	sure = true
	for _, s := range x.roster.Said {
		if x.state.Said[saidName(s)] {
			continue
		}
		m := nats.NewMsg(carrySubject(x.practice, x.own, statements))
		m.Header.Set("Nats-Msg-Id", saidName(s))
		m.Data = s.Bytes()
		back, err := x.publish(ctx, m)
		if err != nil {
			return false, err
		}
		if !x.counts(back) {
			sure = false
			continue
		}
		x.confirm(back, m)
		x.state.Said[saidName(s)] = true
	}
	return sure, nil
}
