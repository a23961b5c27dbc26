package storage

import (
	"bytes"
	"encoding/binary"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// A record says of which lines of other logs its writer held more than at the record
// before. The bucket "seen" keeps what was said by log, other log and record, so that it
// is known of any two lines whether the writer of the later one held the earlier one.

// seenKey is the row of what record n of a log says of another log.
func seenKey(log uint32, other signedlog.ID, n uint64) []byte {
	key := binary.BigEndian.AppendUint32(make([]byte, 0, 28), log)
	return binary.BigEndian.AppendUint64(append(key, other[:]...), n)
}

// putHeads notes what a record says of other logs.
func putHeads(tx txn, p place, heads []signedlog.Head) error {
	for _, h := range heads {
		data := append(binary.BigEndian.AppendUint64(nil, h.N), h.Digest[:]...)
		if err := putRow(tx, bucketSeen, seenKey(p.log, h.Log, p.n), data); err != nil {
			return err
		}
	}
	return nil
}

// seenUpTo is the newest record of another log that the writer of a record held; 0 for none.
func seenUpTo(tx txn, p place, other signedlog.ID) (uint64, error) {
	b, err := bucket(tx, bucketSeen)
	if err != nil {
		return 0, err
	}
	want := seenKey(p.log, other, p.n)
	c := b.Cursor()
	key, row := c.Seek(want)
	if !bytes.Equal(key, want) {
		if key == nil {
			key, row = c.Last()
		} else {
			key, row = c.Prev()
		}
	}
	if len(key) != len(want) || !bytes.Equal(key[:20], want[:20]) {
		return 0, nil
	}
	data, err := openRow(tx.named(bucketSeen), key, row)
	if err != nil {
		return 0, err
	}
	if len(data) != 16 {
		return 0, damaged("what a log says of another is out of shape")
	}
	return binary.BigEndian.Uint64(data), nil
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
				if n, err = seenUpTo(tx, l.place, before.log.name); err != nil {
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
		list[i].Unseen = missing[i]
	}
	return err
}
