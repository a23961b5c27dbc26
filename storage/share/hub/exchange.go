package hub

import (
	"context"
	"crypto/ed25519"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"filippo.io/age"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/share"
)

// Record is what an exchange with a hub needs of a record; *storage.Record is one.
type Record interface {
	Logs() ([]storage.Held, error)
	Holds(row signedlog.ID, at signedlog.RecordRef) (bool, error)
	Next(row signedlog.ID, after, upTo uint64) (signedlog.Segment, error)
	Key() ed25519.PublicKey
	Identity() (age.Identity, error)
	Roster() (roster.Roster, error)
	RehearsalsStay() (bool, error)
	TakeStatements(ctx context.Context, list []roster.Statement) (fresh int, err error)
	HubNote(hub string) ([]byte, error)
	AdoptFrom(hub string, list []signedlog.Segment, note storage.NoteOfHub) (storage.Adopted, error)
	SignNonce(nonce []byte) ([]byte, error)
}

// exchange is one exchange of a record with a hub.
type exchange struct {
	*Hub
	r        Record
	roster   roster.Roster
	seal     *share.Seal
	practice string // its name in subjects
	own      string // this laptop's
	stay     bool   // the practice leaves rehearsals out
	state    *state
	done     *share.Result
	grew     bool // a statement is new, so that what was kept aside may count now
	tried    int  // how many lines had come when that was tried last
	// lives is how often the connection had been made again when the hub was read last.
	lives uint64
}

// rounds is how often one exchange reads on because the hub had more than was read.
const rounds = 8

// Exchange reads on and sends what the hub lacks. Where it is broken off, what was taken
// up to then stays, and the next exchange goes on. The result is as of a folder; Files are
// messages.
func (h *Hub) Exchange(ctx context.Context, r Record) (share.Result, error) {
	var done share.Result
	have, err := r.Roster()
	switch {
	case err != nil:
		return done, err
	case have.None():
		return done, fmt.Errorf("a hub is of a practice, and this laptop is in none: %w. Ask to come in, under several laptops or by loosebox share request", share.ErrNotIn)
	case have.Standing(r.Key()) == roster.Out:
		return done, outOf(have)
	}
	practice := have.Practice.ID()
	if err := h.connect(ctx, r, practice); err != nil {
		return done, err
	}
	x := &exchange{Hub: h, r: r, practice: practice, own: KeyName(r.Key()), done: &done}
	if err := errors.Join(x.know(have), x.recall()); err != nil {
		return done, err
	}
	err = x.run(ctx)
	done.In.Aside, done.Unknown, done.Sealed = x.state.kept(x.stay)
	return done, err
}

// know takes who is in the practice, and so whose settings count.
func (x *exchange) know(have roster.Roster) (err error) {
	x.roster = have
	if x.seal, err = share.SealOf(have, x.r); err != nil {
		return err
	}
	return x.settle()
}

// settle reads whether the practice leaves rehearsals out; what was passed over is taken
// once it does so no more.
func (x *exchange) settle() (err error) {
	before := x.stay
	x.stay, err = x.r.RehearsalsStay()
	x.grew = x.grew || before && !x.stay
	return err
}

func outOf(have roster.Roster) error {
	return fmt.Errorf("this laptop was taken out of the practice %q: %w. Its record stays as it is", have.Practice.Name, share.ErrNotIn)
}

// recall reads what is remembered of the hub.
func (x *exchange) recall() error {
	data, err := x.r.HubNote(x.name)
	if err == nil {
		x.state, err = readState(data)
	}
	return err
}

func (x *exchange) run(ctx context.Context) error {
	if err := x.first(ctx); err != nil {
		return err
	}
	for range rounds {
		x.widen()
		if err := x.readOn(ctx); err != nil {
			return err
		}
		if x.widen() {
			continue // a laptop came in
		}
		all, now, err := x.missing()
		if err != nil {
			return err
		}
		x.done.Waiting = lines(all)
		sure, err := x.send(ctx, now)
		switch {
		case ctx.Err() != nil:
			return brokenOff(ctx)
		case errors.Is(err, errExpected):
			continue
		case err != nil:
			x.done.Unwritten = err
			return nil
		case sure:
			return nil
		}
	}
	return nil // others send all the time: the next exchange goes on
}

// first sends what this laptop wrote since, before anything is read: its expectation
// holds or the hub refuses it. Nothing is noted of the answer, as the hub may lack other
// things; reading on tells.
func (x *exchange) first(ctx context.Context) error {
	if x.state.Cursor == 0 {
		return nil
	}
	_, now, err := x.missing()
	if err != nil || len(now) != 1 || now[0].carried { // more than one waits: there is no hurry
		return err
	}
	s, err := x.r.Next(now[0].row.Name, now[0].from-1, now[0].to)
	if err != nil || len(s.Cores) == 0 || s.Last() < now[0].to {
		return err
	}
	p := x.part(s)
	m, err := x.wrap(now[0], p, x.expected(now[0]))
	if err != nil {
		return err
	}
	if back, err := x.publish(ctx, m); err == nil {
		x.sent(back, p)
	}
	if ctx.Err() != nil {
		return brokenOff(ctx)
	}
	return nil // what is wrong, the rest of the exchange says
}

// readOn takes in what is behind the cursor, until there is no more.
func (x *exchange) readOn(ctx context.Context) error {
	asked := false
	x.lives = x.nc.Stats().Reconnects
	for {
		list, more, err := x.get(ctx, Stream(x.practice), max(x.state.Cursor, 1), batchMessages)
		if err != nil && !errors.Is(err, errNone) {
			return err
		}
		if x.state.Cursor > 0 {
			if len(list) == 0 || list[0].seq != x.state.Cursor || !x.state.Mark.same(list[0].mark()) {
				if !asked && len(x.urls) > 1 { // a server of several that is behind
					asked = true
					pause(ctx, 2*time.Second)
					continue
				}
				x.forget() // it was emptied, is another, or was put back to an older copy
				continue
			}
			list = list[1:]
		}
		asked = false
		if err := x.take(ctx, list, false); err != nil {
			return err
		}
		if !more {
			break
		}
	}
	return x.again(ctx)
}

// again tries what was kept aside, until nothing comes of it any more: at the first
// exchange of a connection, where lines or laptops came, and where rehearsals are left out
// no more.
func (x *exchange) again(ctx context.Context) error {
	for try := x.fresh || x.grew || x.done.Came > x.tried || !x.stay && x.state.leftSome(); try && len(x.state.Aside) > 0; try = x.grew || x.done.Came > x.tried {
		x.grew, x.tried = false, x.done.Came
		for _, seq := range slices.Sorted(maps.Keys(x.state.Aside)) {
			if x.state.Aside[seq].Closed != nil {
				continue
			}
			got, _, err := x.get(ctx, Stream(x.practice), seq, 1)
			switch {
			case errors.Is(err, errNone), err == nil && got[0].seq != seq:
				continue
			case err != nil:
				return err
			}
			if err := x.take(ctx, got, true); err != nil {
				return err
			}
		}
	}
	if x.fresh || x.done.Came > 0 {
		if err := x.opened(); err != nil {
			return err
		}
	}
	x.fresh = false
	return nil
}

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
	if err == nil && have.Standing(x.r.Key()) == roster.Out {
		err = outOf(have)
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
	return x.roster.Standing(key) == roster.Unknown
}
