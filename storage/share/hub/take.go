package hub

import (
	"context"
	"crypto/ed25519"
	"errors"
	"time"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/share"
)

// part is a segment that verified.
type part struct {
	signedlog.Segment // without its records where it is closed
	end               signedlog.RecordRef
	lines             int
	closed            bool // it is sealed, and not to this laptop
	reaches           bool // every laptop that is in can read it
	sealed            bool
}

// part is a segment of the record as it is sent.
func (x *exchange) part(s signedlog.Segment) *part {
	digests := s.Digests()
	return &part{s, signedlog.RecordRef{N: s.Last(), Digest: digests[len(digests)-1]}, len(s.Cores), false, true, x.seal.Name() != ""}
}

// inOne is how many records one transaction takes.
const inOne = 4000

// take hands the record what a list of messages holds; the cursor moves with it, but not
// where they are read again. A transaction's messages are unpacked at a time.
func (x *exchange) take(ctx context.Context, list []message, again bool) error {
	for len(list) > 0 {
		var parts []*part
		var said []roster.Statement
		for records := 0; len(parts) < len(list) && (len(parts) == 0 || records < inOne && !x.Gently); {
			p, st := x.open(list[len(parts)])
			if p != nil {
				records += p.lines
			}
			parts, said = append(parts, p), append(said, st...)
		}
		if err := x.hear(ctx, said); err != nil {
			return err
		}
		before := x.now()
		if err := x.adopt(list[:len(parts)], parts, again); err != nil {
			return err
		}
		if x.Gently {
			pause(ctx, min(x.now().Sub(before), time.Second))
		}
		if ctx.Err() != nil {
			return brokenOff(ctx)
		}
		list = list[len(parts):]
	}
	return nil
}

// open verifies a message: a segment, or what was said of the practice; nothing for junk.
func (x *exchange) open(m message) (*part, []roster.Statement) {
	o, err := x.seal.Open(m.data)
	if err == nil {
		return &part{o.Segment, o.End, o.Lines, o.Closed, x.seal.Reaches(o.Sealed, o.To), o.Sealed}, nil
	}
	st, err := roster.ReadStatement(m.data)
	switch {
	case err != nil:
		x.done.Broken++
		return nil, nil
	case !st.Practice.Key.Equal(x.roster.Practice.Key):
		return nil, nil
	default:
		return nil, []roster.Statement{st}
	}
}

// hear takes what was said of the practice's laptops and hub.
func (x *exchange) hear(ctx context.Context, said []roster.Statement) error {
	if len(said) == 0 {
		return nil
	}
	fresh, err := x.r.TakeStatements(ctx, said)
	if err != nil {
		return err
	}
	for _, s := range said {
		x.state.Said[saidName(s)] = true
	}
	if fresh == 0 {
		return nil
	}
	x.grew = true
	have, err := x.r.Roster()
	if err == nil && have.Membership(x.r.Key()) == roster.Out {
		err = share.TakenOut(have)
	}
	return errors.Join(err, x.know(have))
}

func saidName(s roster.Statement) string {
	d := s.Digest()
	return d.String()[:32]
}

// adopt takes messages in, in one transaction with how far the hub was read.
func (x *exchange) adopt(list []message, parts []*part, again bool) error {
	if len(list) == 0 {
		return nil
	}
	var known []signedlog.Segment
	for _, p := range parts {
		if p != nil && !p.closed && !x.strange(p.Public) && !x.left(p) {
			known = append(known, p.Segment)
		}
	}
	var next *state
	came := 0
	done, err := x.r.AdoptFrom(x.name, known, func(done storage.Adopted, holding func(signedlog.ID, signedlog.RecordRef) ([]storage.LogBranch, error)) ([]byte, error) {
		next, came = x.state.clone(), 0
		refused := 0
		for i, m := range list {
			if !again {
				next.passed(m, x.own)
			}
			p := parts[i]
			if p == nil {
				continue
			}
			if x.strange(p.Public) {
				next.put(m.seq, aside{Unknown: signedlog.Fingerprint(p.Public), Lines: p.lines})
				continue
			}
			if x.left(p) { // read again, should rehearsals be shared again
				next.put(m.seq, aside{Left: true, Lines: p.lines})
				continue
			}
			next.Sealed = next.Sealed || p.sealed
			rows, err := holding(p.Log, p.end)
			switch {
			case err != nil:
				return nil, err
			case len(rows) > 0:
				if !p.closed {
					came += len(p.Cores)
				}
				for _, row := range rows {
					next.grew(row, p)
				}
				delete(next.Aside, m.seq)
			case p.closed:
				next.put(m.seq, aside{Lines: p.lines, Closed: &closed{p.Log.String(), p.end.N, p.end.Digest.String(), p.Rehearsals}})
			default:
				a := aside{Lines: p.lines}
				if refused < len(done.Aside) {
					a.Why = done.Aside[refused]
				}
				refused++
				next.put(m.seq, a)
			}
		}
		return next.bytes()
	})
	if err != nil {
		return err
	}
	x.state = next
	x.done.In.Add(done)
	if done.Settings > 0 {
		if err := x.settle(); err != nil {
			return err
		}
	}
	x.done.Came += max(came-done.Known, 0)
	return nil
}

// left says that a segment is of rehearsals, which the practice leaves out.
func (x *exchange) left(p *part) bool { return x.stay && p.Rehearsals }

// strange says that a key is of a laptop that nobody let into the practice.
func (x *exchange) strange(key ed25519.PublicKey) bool {
	return x.roster.Membership(key) == roster.Unknown
}
