package storage

import (
	"bytes"
	"encoding/binary"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Each record says what its writer held more of other logs than at the record before. The bucket
// "seen" keeps this by log, other log and record, so that of any two lines it is known whether the
// writer of the later one held the earlier one.

// seenKey is the row of what record n of a log says of another log; the digest tells the
// branches of that log apart.
func seenKey(log uint32, n uint64, h signedlog.Head) []byte {
	key := binary.BigEndian.AppendUint32(make([]byte, 0, 36), log)
	key = binary.BigEndian.AppendUint64(append(key, h.Log[:]...), n)
	return append(key, h.Digest[:]...)
}

// putHeads notes what a record says of other logs.
func putHeads(tx txn, p place, heads []signedlog.Head) error {
	for _, h := range heads {
		if err := putRow(tx, bucketSeen, seenKey(p.log, p.n, h), binary.BigEndian.AppendUint64(nil, h.N)); err != nil {
			return err
		}
	}
	return nil
}

// headKept says whether what a record says of another log is kept.
func headKept(tx txn, p place, h signedlog.Head) (bool, error) {
	data, err := getRow(tx, bucketSeen, seenKey(p.log, p.n, h))
	return len(data) == 8 && binary.BigEndian.Uint64(data) == h.N, err
}

// holdsRecord says whether a log or one of its branches holds a record with a digest that
// begins with some bytes.
func holdsRecord(tx txn, log signedlog.ID, n uint64, digest []byte) (bool, error) {
	rows, err := rowsWith(tx, log, n, digest)
	return len(rows) > 0, err
}

// eachHead calls fn for what the records of a row up to n say of another log, the newest
// first, until fn says that it is enough.
func eachHead(tx txn, p place, other signedlog.ID, fn func(n uint64, digest []byte) (enough bool, err error)) error {
	b, err := bucket(tx, bucketSeen)
	if err != nil {
		return err
	}
	c := b.Cursor()
	key, _ := c.Seek(seenKey(p.log, p.n+1, signedlog.Head{Log: other}))
	back := c.Prev
	if key == nil {
		back = c.Last
	}
	key, row := back()
	prefix := append(binary.BigEndian.AppendUint32(nil, p.log), other[:]...)
	for ; len(key) == 36 && bytes.HasPrefix(key, prefix); key, row = c.Prev() {
		data, err := openRow(tx.named(bucketSeen), key, row)
		if err != nil {
			return err
		}
		if len(data) != 8 {
			return damaged("what a log says of another is out of shape")
		}
		if enough, err := fn(binary.BigEndian.Uint64(data), key[28:]); err != nil || enough {
			return err
		}
	}
	return nil
}

// heldBy is the newest record of another row that the writer of record n of a log held; 0
// for none.
func heldBy(tx txn, log *logRow, n uint64, other *logRow) (uint64, error) {
	if log.row == other.row {
		return n, nil
	}
	upTo := uint64(0)
	if log.name == other.name {
		both, err := common(tx, log, other)
		if err != nil {
			return 0, err
		}
		upTo = min(both, n)
	}
	parts, err := lineage(tx, log)
	if err != nil {
		return 0, err
	}
	found := false
	for _, p := range parts {
		err := eachHead(tx, place{p.place.log, min(p.count, n)}, other.name, func(said uint64, digest []byte) (bool, error) {
			if !other.Branched && other.Parent == 0 {
				upTo, found = max(upTo, said), true
				return true, nil
			}
			n, this, err := heldOf(tx, other, said, digest)
			upTo, found = max(upTo, n), this
			return found, err
		})
		if err != nil || found {
			return upTo, err
		}
	}
	return upTo, nil
}

// heldOf is how much of a row somebody held who held a record of one of its log's branches;
// this says that it is the row itself.
func heldOf(tx txn, l *logRow, n uint64, digest []byte) (upTo uint64, this bool, err error) {
	if this, err = l.holds(tx, n, digest); err != nil || this {
		return n, this, err
	}
	first, err := readLog(tx, l.name)
	if err != nil || first == nil {
		return 0, false, err
	}
	rows, err := branches(tx, first)
	if err != nil {
		return 0, false, err
	}
	for _, other := range rows {
		ok, err := other.holds(tx, n, digest)
		if err != nil {
			return 0, false, err
		}
		if ok {
			both, err := common(tx, l, other)
			return min(both, n), false, err
		}
	}
	return 0, false, nil
}

// unseen lists for each line, by its place from 1, the lines before it that its writer
// did not hold; the lines are in the order in which they are read.
func unseen(tx txn, lines []line) ([][]int, error) {
	out := make([][]int, len(lines))
	for i, l := range lines {
		upTo := map[uint32]uint64{l.log.Number: l.n}
		for j, before := range lines[:i] {
			n, known := upTo[before.log.Number]
			if !known {
				var err error
				if n, err = heldBy(tx, l.log, l.n, before.log); err != nil {
					return nil, err
				}
				upTo[before.log.Number] = n
			}
			if before.n > n {
				out[i] = append(out[i], j+1)
			}
		}
	}
	return out, nil
}

// ofOneLog says that one log holds all of the lines: then each writer held all before.
func ofOneLog(lines []line) bool {
	for _, l := range lines {
		if l.log.Number != lines[0].log.Number {
			return false
		}
	}
	return true
}

// markUnseen notes in each entry of a visit which ones before it its writer did not hold.
func markUnseen(tx txn, lines []line, list []exam.Entry) error {
	if ofOneLog(lines) {
		return nil
	}
	missing, err := unseen(tx, lines)
	for i := range missing {
		list[i].Unseen = append(list[i].Unseen, missing[i]...)
	}
	return err
}
