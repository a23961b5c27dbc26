package storage

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"slices"

	"loosebox/exam/signedlog"
)

// logRow is what is known of one log.
type logRow struct {
	_         struct{}  `cbor:",toarray"`
	Number    uint32    // that stands for it in this file
	Namespace namespace // whose lines it holds
	Public    []byte    // key, Ed25519
	Nonce     []byte
	N         uint64 // of its newest record
	Last      []byte // digest of it
	Counter   uint64 // clock of it
	// Packed is the last record that is in a pack, PackedLast its digest.
	Packed     uint64
	PackedLast []byte
	TailBytes  uint64 // of the cores that are not packed
	Signature  []byte // over the log up to record N
	// Told is the record up to which this machine's own log has said that it saw this one.
	Told uint64
	// Doubt is true where the key may have written lines that are not here: it goes on
	// in a new log.
	Doubt bool
	// Parent is the number of the row that a branch leaves behind record Base, whose digest
	// is Before; all are zero for what came first of a log. See branch.go.
	Parent uint32
	Base   uint64
	Before []byte
	// Mine is the last record that was written in this file: others of the same key were
	// written by a copy.
	Mine uint64
	// Branched is true where a branch of the log is held, in the row of what came first.
	Branched bool

	name signedlog.ID // of the log, as its records are hashed
	row  signedlog.ID // of this row: the log's name, another for a branch
}

func (l *logRow) last() signedlog.Digest       { return digestOf(l.Last) }
func (l *logRow) packedLast() signedlog.Digest { return digestOf(l.PackedLast) }

func (l *logRow) nonce() (n signedlog.Nonce) {
	copy(n[:], l.Nonce)
	return n
}

// digestOf is a stored digest; the zero digest where there is none.
func digestOf(b []byte) (d signedlog.Digest) {
	copy(d[:], b)
	return d
}

func decodeLog(row signedlog.ID, data []byte) (*logRow, error) {
	l := &logRow{name: row, row: row}
	err := decoder().Unmarshal(data, l)
	if err != nil || len(l.Last) != 32 || len(l.PackedLast) != 32 || l.Base > l.Packed || l.Packed > l.N || l.Parent > 0 && len(l.Before) != 32 {
		return nil, damaged("what is known of log %s cannot be read", row)
	}
	return l, nil
}

// named finds the name of a branch's log: that of what came first of it.
func (l *logRow) named(tx txn) (*logRow, error) {
	if l.Parent == 0 {
		return l, nil
	}
	l.name = signedlog.NameOf(l.Public, l.nonce())
	if l.Namespace != rehearsalsNamespace {
		return l, nil
	}
	name := signedlog.RehearsalsNameOf(l.Public, l.nonce())
	data, err := getRow(tx, bucketLogs, name[:])
	if data != nil {
		l.name = name
	}
	return l, err
}

// readLog reads what is known of a log, or of a branch by its row, as this transaction
// has it; nil where it is not here.
func readLog(tx txn, row signedlog.ID) (*logRow, error) {
	if log := tx.w.written(func(l *logRow) bool { return l.row == row }); log != nil {
		return log, nil
	}
	data, err := getRow(tx, bucketLogs, row[:])
	if err != nil || data == nil {
		return nil, err
	}
	l, err := decodeLog(row, data)
	if err != nil {
		return nil, err
	}
	return l.named(tx)
}

func (l *logRow) write(tx txn) error {
	data, err := encoder().Marshal(l)
	if err != nil {
		return fmt.Errorf("write what is known of a log: %w", err)
	}
	return putRow(tx, bucketLogs, l.row[:], data)
}

// eachLog calls fn for every log and every branch, whatever namespace it belongs to.
func eachLog(tx txn, fn func(*logRow) error) error {
	return eachRow(tx, bucketLogs, func(key, data []byte) error {
		switch len(key) {
		case 4:
			return nil
		case 16:
			l, err := decodeLog(signedlog.ID(key), data)
			if err == nil {
				l, err = l.named(tx)
			}
			if err != nil {
				return err
			}
			return fn(l)
		default:
			return damaged("a log has a wrong key")
		}
	})
}

// logsOf lists the rows of a namespace: logs by name, then branches as they came.
func logsOf(tx txn) (rows []*logRow, err error) {
	err = eachLog(tx, func(l *logRow) error {
		if l.Namespace == tx.namespace {
			rows = append(rows, l)
		}
		return nil
	})
	slices.SortStableFunc(rows, func(a, b *logRow) int {
		if a.Parent == 0 && b.Parent == 0 {
			return 0 // as they are stored
		}
		return cmp.Or(cmp.Compare(min(a.Parent, 1), min(b.Parent, 1)), cmp.Compare(a.Number, b.Number))
	})
	return rows, err
}

// numberedLog is the log that a number stands for.
func numberedLog(tx txn, number uint32) (*logRow, error) {
	if log := tx.w.written(func(l *logRow) bool { return l.Number == number }); log != nil {
		return log, nil
	}
	data, err := getRow(tx, bucketLogs, binary.BigEndian.AppendUint32(nil, number))
	if err != nil {
		return nil, err
	}
	if len(data) != 16 {
		return nil, damaged("log %d of this file has no name", number)
	}
	l, err := readLog(tx, signedlog.ID(data))
	if err == nil && l == nil {
		err = damaged("log %x is missing", data)
	}
	return l, err
}

// newLog makes the row of a log that this file does not hold yet.
func newLog(tx txn, name signedlog.ID, public []byte, nonce signedlog.Nonce) (*logRow, error) {
	l := &logRow{Namespace: tx.namespace, Public: public, Nonce: nonce[:], name: name, row: name, Last: make([]byte, 32), PackedLast: make([]byte, 32)}
	return l, l.enrol(tx)
}

// enrol gives a log or a branch that is new to this file its number.
func (l *logRow) enrol(tx txn) error {
	l.Number = 1
	err := eachLog(tx, func(other *logRow) error {
		l.Number = max(l.Number, other.Number+1)
		return nil
	})
	if err != nil {
		return err
	}
	return putRow(tx, bucketLogs, binary.BigEndian.AppendUint32(nil, l.Number), l.row[:])
}
