package storage

import (
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"fmt"

	"loosebox/exam/inorder"
	"loosebox/exam/signedlog"
)

// packHead is first n, count, digest before and signature.
const packHead = 8 + 4 + 32 + ed25519.SignatureSize

// toPack is a segment of the log with a number.
type toPack struct {
	number uint32
	signedlog.Segment
}

// packRow is a row of packs.
type packRow struct{ key, data []byte }

// row packs the segment.
func (p toPack) row() packRow {
	row := binary.BigEndian.AppendUint64(make([]byte, 0, packHead+4096), p.First)
	row = binary.BigEndian.AppendUint32(row, uint32(len(p.Cores)))
	row = append(append(row, p.Prev[:]...), p.Signature...)
	return packRow{place{p.number, p.Last()}.key(), append(row, p.Packed()...)}
}

func (r packRow) put(tx txn) error { return putRow(tx, bucketPacks, r.key, r.data) }

// packing packs segments on all cores and stores each as one row.
func packing(tx txn) *inorder.Pool[toPack, packRow] {
	return inorder.OnAll(func(p toPack) (packRow, error) { return p.row(), nil }, func(r packRow) error { return r.put(tx) })
}

// putPack stores a segment of a log as one row.
func putPack(tx txn, number uint32, s signedlog.Segment) error {
	return toPack{number, s}.row().put(tx)
}

// readPack takes a row of packs apart.
func readPack(log *logRow, key, data []byte) (signedlog.Segment, error) {
	s := signedlog.Segment{Log: log.name, Public: log.Public, Nonce: log.nonce(), Rehearsals: log.Namespace == rehearsalsNamespace}
	at, ok := splitPlace(key)
	if !ok || len(data) < packHead {
		return s, damaged("a pack of log %s is out of shape", log.name)
	}
	s.First, s.Prev = binary.BigEndian.Uint64(data), signedlog.Digest(data[12:44])
	s.Signature = bytes.Clone(data[44:packHead])
	cores, err := signedlog.Unpack(data[packHead:], int(binary.BigEndian.Uint32(data[8:])))
	if err != nil {
		return s, damaged("records up to %d of log %s: %v", at.n, log.name, err)
	}
	s.Cores = cores
	if s.First == 0 || len(cores) == 0 || s.Last() != at.n || at.log != log.Number {
		return s, damaged("the pack up to record %d of log %s is out of place", at.n, log.name)
	}
	return s, nil
}

// packTail packs the end of a log of this machine, each pack signed; the row is changed
// but not written.
func packTail(tx txn, log *logRow, sign func(uint64, signedlog.Digest) []byte) error {
	cores, err := takeTail(tx, log)
	if err != nil {
		return err
	}
	for len(cores) > 0 {
		n := signedlog.Full(cores)
		s := segmentAfter(log, cores[:n])
		digests := s.Digests()
		end := digests[n-1]
		s.Signature = sign(s.Last(), end)
		if err := putPack(tx, log.Number, s); err != nil {
			return err
		}
		log.Packed, log.PackedLast = s.Last(), end[:]
		cores = cores[n:]
	}
	return nil
}

// packEnd packs the end of any log as it was signed; the row is changed but not written.
func packEnd(tx txn, log *logRow) error {
	cores, err := takeTail(tx, log)
	if err != nil || len(cores) == 0 {
		return err
	}
	s := segmentAfter(log, cores)
	s.Signature = log.Signature
	log.Packed, log.PackedLast = log.N, log.Last
	return putPack(tx, log.Number, s)
}

// segmentAfter is a segment that follows the packs of a log; it is not signed.
func segmentAfter(log *logRow, cores [][]byte) signedlog.Segment {
	return signedlog.Segment{
		Log: log.name, Public: log.Public, Nonce: log.nonce(), First: log.Packed + 1, Prev: log.packedLast(), Cores: cores, Rehearsals: log.Namespace == rehearsalsNamespace,
	}
}

// takeTail removes the lines at the end of a log and returns their cores.
func takeTail(tx txn, log *logRow) ([][]byte, error) {
	lines, err := bucket(tx, bucketLines)
	if err != nil {
		return nil, err
	}
	var cores, keys [][]byte
	err = eachTail(tx, log, log.Packed+1, func(p place, _ signedlog.Digest, core []byte) error {
		cores, keys = append(cores, bytes.Clone(core)), append(keys, p.key())
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, key := range keys {
		if err := lines.Delete(key); err != nil {
			return nil, fmt.Errorf("pack lines: %w", err)
		}
	}
	log.TailBytes = 0
	return cores, nil
}

// eachTail calls fn for every record at the end of a log from a number on, each
// checked against its digest. Cores belong to the transaction.
func eachTail(tx txn, log *logRow, from uint64, fn func(place, signedlog.Digest, []byte) error) error {
	lines, err := bucket(tx, bucketLines)
	if err != nil {
		return err
	}
	prev := log.packedLast()
	if from = max(from, log.Packed+1); from > log.Packed+1 {
		row := lines.Get(place{log.Number, from - 1}.key())
		if len(row) < 32 {
			return damaged("record %d of log %s is missing", from-1, log.name)
		}
		prev = signedlog.Digest(row[:32])
	}
	next := from
	c := lines.Cursor()
	for key, row := c.Seek(place{log.Number, from}.key()); key != nil; key, row = c.Next() {
		p, ok := splitPlace(key)
		if !ok {
			return damaged("a line has a wrong key")
		}
		if p.log != log.Number {
			break
		}
		switch {
		case p.n != next:
			return damaged("records %d to %d of log %s are missing", next, p.n-1, log.name)
		case len(row) < 32 || len(row) > maxRow:
			return damaged("record %d of log %s is out of shape", p.n, log.name)
		case log.name.Next(p.n, prev, row[32:]) != signedlog.Digest(row[:32]):
			return damaged("record %d of log %s does not match its digest", p.n, log.name)
		}
		prev = signedlog.Digest(row[:32])
		if err := fn(p, prev, row[32:]); err != nil {
			return err
		}
		next++
	}
	return nil
}
