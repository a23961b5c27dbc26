package storage

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// writer adds lines to this machine's logs within one transaction. The log's row is
// written once, when all lines are there: signed, and packed where a visit was closed.
type writer struct {
	machine *machine
	own     map[namespace]*ownLog
	pack    bool // a visit was closed
}

// ownLog is a log that this machine writes.
type ownLog struct {
	*logRow
	heads []signedlog.Head // what its next record says of other logs
	moved []*logRow        // these logs
	clock uint64           // the highest that is known
}

// How long a log's end may be before it is packed without a visit's closing: at the
// end of a transaction, and within one.
const (
	tailRecords = 256
	tailMost    = 8 * tailRecords
	tailBytes   = 4 << 20
)

// log is the log that this machine writes in the namespace; a new one where it has none, or
// where another key, a doubt or a name of an earlier form ended the one before.
func (w *writer) log(tx txn) (*ownLog, error) {
	if o := w.own[tx.namespace]; o != nil {
		return o, nil
	}
	if w.machine == nil {
		return nil, errors.New("this machine has no key; nothing was saved")
	}
	row, err := currentLog(tx)
	if err != nil {
		return nil, err
	}
	nameOf := signedlog.NameOf
	if tx.namespace == rehearsalsNamespace {
		nameOf = signedlog.RehearsalsNameOf
	}
	fresh := row == nil || row.Doubt || string(row.Public) != string(w.machine.public()) || row.name != nameOf(row.Public, row.nonce())
	if fresh {
		var nonce signedlog.Nonce
		if _, err := rand.Read(nonce[:]); err != nil {
			return nil, fmt.Errorf("begin a log: %w", err)
		}
		if row, err = newLog(tx, nameOf(w.machine.public(), nonce), w.machine.public(), nonce); err != nil {
			return nil, err
		}
		if err := putRow(tx, bucketMeta, []byte(string(tx.namespace)+rowLog), row.name[:]); err != nil {
			return nil, err
		}
	}
	o := &ownLog{logRow: row, clock: row.Counter}
	err = eachLog(tx, func(other *logRow) error {
		if other.row == row.row || other.Namespace != tx.namespace {
			return nil
		}
		o.clock = max(o.clock, other.Counter)
		if other.N > other.Told || fresh && other.N > 0 {
			o.heads = append(o.heads, signedlog.Head{Log: other.name, N: other.N, Digest: [8]byte(other.Last[:8])})
			o.moved = append(o.moved, other)
		}
		return nil
	})
	slices.SortStableFunc(o.heads, func(a, b signedlog.Head) int { return bytes.Compare(a.Log[:], b.Log[:]) }) // a branch's row has another name
	w.own[tx.namespace] = o
	return o, err
}

// written is a log of this machine that the transaction has written to; nil for none.
func (w *writer) written(is func(*logRow) bool) *logRow {
	if w == nil {
		return nil
	}
	for _, o := range w.own {
		if is(o.logRow) {
			return o.logRow
		}
	}
	return nil
}

// currentLog is the log that this machine writes in the namespace; nil for none yet.
func currentLog(tx txn) (*logRow, error) {
	name, err := getRow(tx, bucketMeta, []byte(string(tx.namespace)+rowLog))
	if err != nil || name == nil {
		return nil, err
	}
	if len(name) != 16 {
		return nil, damaged("the name of this machine's log is out of shape")
	}
	row, err := readLog(tx, signedlog.ID(name))
	if err == nil && row == nil {
		err = damaged("this machine's log %x is missing", name)
	}
	return row, err
}

// add writes a line to this machine's log and returns where it is, its identity and its
// bytes.
func add(tx txn, kind exam.LineKind, what any) (place, exam.Hash, []byte, error) {
	body, err := exam.LineBody(kind, what)
	if err != nil {
		return place{}, "", nil, fmt.Errorf("nothing was saved: %w", err)
	}
	if len(body) > maxBody {
		return place{}, "", nil, tooMuch("a line")
	}
	if tx.w == nil {
		return place{}, "", nil, errors.New("the record was opened for reading only: nothing was changed")
	}
	log, err := tx.w.log(tx)
	if err != nil {
		return place{}, "", nil, err
	}
	log.clock++
	core := signedlog.Record{Counter: log.clock, Heads: log.heads, Body: body}.Core()
	for _, other := range log.moved {
		other.Told = other.N
		if err := other.write(tx); err != nil {
			return place{}, "", nil, err
		}
	}
	heads := log.heads
	log.heads, log.moved, log.Counter = nil, nil, log.clock
	p, digest, err := lay(tx, log.logRow, core)
	if err == nil {
		err = putHeads(tx, p, heads)
	}
	if err == nil && (log.N-log.Packed >= tailMost || log.TailBytes > tailBytes) {
		err = tx.w.packLog(tx, log)
	}
	return p, exam.Hash(digest.String()), body, err
}

func (w *writer) packLog(tx txn, log *ownLog) error {
	return packTail(tx, log.logRow, func(n uint64, d signedlog.Digest) []byte {
		return signedlog.Sign(w.machine.private, log.name, n, d)
	})
}

// lay adds a core after the last record of a log; its row is changed but not written.
func lay(tx txn, log *logRow, core []byte) (place, signedlog.Digest, error) {
	p := place{log.Number, log.N + 1}
	digest := log.name.Next(p.n, log.last(), core)
	lines, err := bucket(tx, bucketLines)
	if err != nil {
		return p, digest, err
	}
	if lines.Get(p.key()) != nil {
		return p, digest, damaged("record %d of log %s is there already", p.n, log.name)
	}
	if err := lines.Put(p.key(), append(digest[:], core...)); err != nil {
		return p, digest, fmt.Errorf("write a line: %w", err)
	}
	log.N, log.Last = p.n, digest[:]
	log.TailBytes += uint64(len(core))
	return p, digest, nil
}

// finish signs what was written, and packs the ends of the logs where it is time.
func (w *writer) finish(tx txn) error {
	for _, b := range namespaces() {
		log := w.own[b]
		if log == nil {
			continue
		}
		in := tx.in(b)
		if w.pack || log.N-log.Packed >= tailRecords || log.TailBytes > signedlog.MaxRaw {
			if err := w.packLog(in, log); err != nil {
				return err
			}
		}
		log.Mine = log.N
		log.Signature = signedlog.Sign(w.machine.private, log.name, log.N, log.last())
		if err := log.write(in); err != nil {
			return err
		}
	}
	return nil
}

// MayWrite says that lines can be added to the record.
func (r *Record) MayWrite() bool {
	return !r.readOnly && !r.beside && r.machine != nil && r.noKey == nil
}
