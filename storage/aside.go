package storage

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"loosebox/exam/signedlog"
)

// A part of a log that its key signed and that cannot be taken yet is kept aside: records
// before it are missing, or this version cannot read what is in it. It is tried again when
// more of its log comes, and with the first import of each run.

// How much is kept aside at most: of all logs, and of one.
const (
	mostAside      = 64 << 20 // bytes
	mostAsideParts = 4000
)

// asideKey is the key of a part: its log, its first record and the beginning of the digest of its
// last one. Two parts with the same records but other ends have different keys.
func asideKey(s signedlog.Segment, end signedlog.Digest) []byte {
	key := binary.BigEndian.AppendUint64(append([]byte(nil), s.Log[:]...), s.First)
	return append(key, end[:8]...)
}

// keepAside keeps a verified part; false where there is no room for it.
func keepAside(tx txn, s signedlog.Segment, digests []signedlog.Digest) (bool, error) {
	data, key := s.Bytes(), asideKey(s, digests[len(digests)-1])
	b, err := bucket(tx, bucketAside)
	if err != nil {
		return false, err
	}
	if b.Get(key) != nil {
		return true, nil
	}
	size, parts := len(data), 1
	err = eachRow(tx, bucketAside, func(_, data []byte) error {
		size, parts = size+len(data), parts+1
		return nil
	})
	if err != nil || size > mostAside || parts > mostAsideParts {
		return false, err
	}
	return true, putRow(tx, bucketAside, key, data)
}

// asideOf lists what is kept aside of a log, of all where it is nil, by first record.
func asideOf(tx txn, log *signedlog.ID) (keys [][]byte, parts []signedlog.Segment, err error) {
	b, err := bucket(tx, bucketAside)
	if err != nil {
		return nil, nil, err
	}
	c := b.Cursor()
	var prefix []byte
	if log != nil {
		prefix = log[:]
	}
	for key, row := c.Seek(prefix); key != nil && bytes.HasPrefix(key, prefix); key, row = c.Next() {
		data, err := openRow(bucketAside, key, row)
		if err != nil {
			return nil, nil, err
		}
		s, digests, err := signedlog.ReadSegment(data)
		if err != nil || !bytes.Equal(asideKey(s, digests[len(digests)-1]), key) {
			return nil, nil, damaged("a part of a log that is kept aside is not what was put there (%v)", err)
		}
		keys, parts = append(keys, bytes.Clone(key)), append(parts, s)
	}
	return keys, parts, nil
}

// retry tries again what is kept aside of some logs, until nothing more of it fits; all of
// it with the first import of a run.
func (a *adoption) retry(all bool) error {
	logs := []*signedlog.ID{nil}
	if !all {
		logs = nil
		for log := range a.moved {
			logs = append(logs, &log)
		}
	}
	for _, log := range logs {
		for moved := true; moved; {
			moved = false
			keys, parts, err := asideOf(a.tx, log)
			if err != nil {
				return err
			}
			opened := map[signedlog.ID]bool{} // logs of which a part opens a rehearsal
			for _, s := range parts {
				opened[s.Log] = opened[s.Log] || s.Rehearsals && !s.Proven() && bring(s).rehearses
			}
			for i, s := range parts {
				part := bring(s)
				part.rehearses = part.rehearses || opened[s.Log]
				why, err := a.segment(a.tx.in(namespaceOf(s)), part)
				if err != nil {
					return err
				}
				if why != nil {
					continue
				}
				moved = true
				b, err := bucket(a.tx, bucketAside)
				if err != nil {
					return err
				}
				if err := b.Delete(keys[i]); err != nil {
					return fmt.Errorf("take what was kept aside: %w", err)
				}
				a.done.fit = append(a.done.fit, string(keys[i]))
			}
		}
	}
	return nil
}

func namespaceOf(s signedlog.Segment) namespace {
	if s.Rehearsals {
		return rehearsalsNamespace
	}
	return visitsNamespace
}

// Aside is how many parts of logs are kept aside, and how many records are in them.
func (r *Record) Aside() (parts, records int, err error) {
	err = r.view(func(tx txn) error {
		_, list, err := asideOf(tx, nil)
		for _, s := range list {
			records += len(s.Cores)
		}
		parts = len(list)
		return err
	})
	return parts, records, err
}
