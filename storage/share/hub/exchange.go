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
	*Connection
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
func (h *Connection) Exchange(ctx context.Context, r Record) (share.Result, error) {
	var done share.Result
	have, err := r.Roster()
	switch {
	case err != nil:
		return done, err
	case have.None():
		return done, fmt.Errorf("a hub is of a practice, and this laptop is in none: %w. Ask to come in, under several laptops or by loosebox share request", share.ErrNotIn)
	case have.Membership(r.Key()) == roster.Out:
		return done, share.TakenOut(have)
	}
	practice := have.Practice.ID()
	if err := h.connect(ctx, r, practice); err != nil {
		return done, err
	}
	x := &exchange{Connection: h, r: r, practice: practice, own: KeyName(r.Key()), done: &done}
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
