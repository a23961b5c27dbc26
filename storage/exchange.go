package storage

import (
	"bytes"
	"crypto/ed25519"
	"slices"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Held says how far the record holds a log.
type Held struct {
	Log signedlog.ID
	// Row names the log or a branch of it in Holds and Next: the log's own name, but for a
	// branch, which begins behind record Base.
	Row        signedlog.ID
	Base       uint64
	Public     ed25519.PublicKey
	N          uint64           // of its newest record
	Last       signedlog.Digest // of it
	Packed     uint64           // the last record that is in a pack: behind it the log grows with each answer
	Due        uint64           // the last record behind it that is no answer of an open visit; 0 for none
	Own        bool             // this machine's key wrote it
	Doubt      bool             // it was ended: a copy of this laptop may have written into it too
	Rehearsals bool
}

// Logs lists the logs of the record and their branches, whatever namespace they belong to.
func (r *Record) Logs() ([]Held, error) {
	var out []Held
	err := r.view(func(tx txn) error {
		return eachLog(tx, func(l *logRow) error {
			h := Held{
				Log: l.name, Row: l.row, Base: l.Base, Public: bytes.Clone(l.Public), N: l.N, Last: l.last(), Packed: l.Packed, Rehearsals: l.Namespace == rehearsalsNamespace,
				Own: r.machine != nil && bytes.Equal(l.Public, r.machine.public()), Doubt: l.Doubt,
			}
			var err error
			if h.Own {
				h.Due, err = due(tx, l)
			}
			out = append(out, h)
			return err
		})
	})
	return out, err
}

// due is the number of the last line at the end of a log that is not of an open visit: a horse, a
// joining, a setting of the practice, a line of the round; 0 for none. Closing a visit packs the
// end of the log, so the rest of the end is answers of open visits.
func due(tx txn, l *logRow) (n uint64, err error) {
	err = eachTail(tx, l, l.Packed+1, func(p place, _ signedlog.Digest, core []byte) error {
		r, err := signedlog.ParseCore(core)
		if err != nil {
			return damaged("record %d of log %s: %v", p.n, l.name, err)
		}
		kind, _, err := exam.SplitLine(r.Body)
		if err != nil || kind != exam.LineEntry { // a line that this program cannot read waits for nothing either
			n = p.n
		}
		return nil
	})
	return n, err
}

// Holds says whether the record of a row (Held.Row) at a point is the one that is named.
func (r *Record) Holds(row signedlog.ID, at signedlog.RecordRef) (holds bool, err error) {
	err = r.view(func(tx txn) error {
		l, err := readLog(tx, row)
		if err != nil || l == nil {
			return err
		}
		holds, err = l.holds(tx, at.N, at.Digest[:])
		return err
	})
	return holds, err
}

// Next is a segment of a row (Held.Row) that begins behind the record after and ends where the log's
// key signed: at the first such record from upTo on, or earlier where the limits of a
// segment are reached. It has no cores where the log goes no further. It is whole in
// memory: no transaction is open while it is written to a slow stick.
func (r *Record) Next(row signedlog.ID, after, upTo uint64) (signedlog.Segment, error) {
	var s signedlog.Segment
	err := r.view(func(tx txn) error {
		l, err := readLog(tx, row)
		if err != nil || l == nil || after >= l.N {
			return err
		}
		after = max(after, l.Base) // what is before it is of another row
		g := gathering{Segment: signedlog.Segment{
			Log: l.name, Public: bytes.Clone(l.Public), Nonce: l.nonce(), First: after + 1, Rehearsals: l.Namespace == rehearsalsNamespace,
		}}
		err = g.packs(tx, l, upTo)
		s = g.Segment
		return err
	})
	return s, err
}

// gathering is a segment that grows by what follows it in its log.
type gathering struct {
	signedlog.Segment
	raw int
}

// packs adds the packs that hold the next records, and the end of the log behind them.
func (g *gathering) packs(tx txn, l *logRow, upTo uint64) error {
	packs, err := bucket(tx, bucketPacks)
	if err != nil {
		return err
	}
	c := packs.Cursor()
	for key, row := c.Seek(place{l.Number, g.First}.key()); key != nil && g.next() <= l.Packed; key, row = c.Next() {
		data, err := openRow(bucketPacks, key, row)
		if err != nil {
			return err
		}
		p, err := readPack(l, key, data)
		if err != nil {
			return err
		}
		if p.First > g.next() {
			return damaged("records from %d on of log %s are missing", g.next(), l.name)
		}
		skip := g.next() - p.First
		if len(g.Cores) == 0 {
			if g.Prev = p.Prev; skip > 0 {
				g.Prev = p.Digests()[skip-1]
			}
		}
		if !g.take(p.Cores[skip:], p.Signature) || p.Last() >= upTo {
			return nil
		}
	}
	return g.tail(tx, l)
}

func (g *gathering) next() uint64 { return g.First + uint64(len(g.Cores)) }

// tail adds the end of a log that is not packed.
func (g *gathering) tail(tx txn, l *logRow) error {
	var cores [][]byte
	if len(g.Cores) == 0 && g.First > 1 {
		d, err := digestAt(tx, l, g.First-1)
		if err != nil {
			return err
		}
		g.Prev = d
	}
	err := eachTail(tx, l, g.next(), func(_ place, _ signedlog.Digest, core []byte) error {
		cores = append(cores, bytes.Clone(core))
		return nil
	})
	if err == nil && g.next()+uint64(len(cores)) != l.N+1 {
		err = damaged("log %s ends before record %d", l.name, l.N)
	}
	if err == nil && len(cores) > 0 {
		g.take(cores, l.Signature)
	}
	return err
}

// take adds cores where the limits of a segment allow it; a first part is always taken.
func (g *gathering) take(cores [][]byte, signature []byte) bool {
	raw := g.raw
	for _, c := range cores {
		raw += len(c)
	}
	if len(g.Cores) > 0 && (len(g.Cores)+len(cores) > signedlog.MaxRecords || raw > signedlog.MaxRaw) {
		return false
	}
	g.Cores, g.raw, g.Signature = append(g.Cores, cores...), raw, bytes.Clone(signature)
	return true
}

// Add adds what a later import brought. What that took of what was kept aside is no longer
// told as kept.
func (a *Adopted) Add(o Adopted) {
	a.Horses, a.Visits, a.Rehearsals = a.Horses+o.Horses, a.Visits+o.Visits, a.Rehearsals+o.Rehearsals
	a.Entries, a.Rounds, a.Known = a.Entries+o.Entries, a.Rounds+o.Rounds, a.Known+o.Known
	a.Settings, a.Changes = a.Settings+o.Settings, a.Changes+o.Changes
	a.Branches = append(a.Branches, o.Branches...)
	texts, keys := append(a.Aside, o.Aside...), append(a.aside, o.aside...)
	a.Aside, a.aside, a.fit = nil, nil, append(a.fit, o.fit...)
	for i, key := range keys {
		if !slices.Contains(o.fit, key) {
			a.Aside, a.aside = append(a.Aside, texts[i]), append(a.aside, key)
		}
	}
}

// doubtOwn ends a log of this machine that has another branch elsewhere: it was copied or restored,
// and others may hold that branch. The next line begins a new log, which every laptop can take.
func doubtOwn(tx txn, log *logRow, seen bool) error {
	if !seen || log.Doubt || tx.w.machine == nil || !bytes.Equal(log.Public, tx.w.machine.public()) {
		return nil
	}
	log.Doubt = true
	return log.write(tx)
}
