package storage

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"

	"loosebox/exam"
)

// headSize is seq, digest, closed and horse.
const headSize = 4 + 32 + 1 + 16

// head says where a visit ends.
type head struct {
	seq    int
	last   exam.Hash
	closed bool
	struck bool // and closed with it
	horse  id
}

// The states of a visit in its head.
const (
	stateClosed = 1 << iota
	stateStruck
)

// readHead reads a visit's head; exam.ErrNotFound where there is no such visit.
func readHead(tx txn, visit id) (head, error) {
	data, err := getRow(tx, bucketHeads, visit[:])
	if err != nil {
		return head{}, err
	}
	if data == nil {
		return head{}, missingVisit(tx, visit)
	}
	return decodeHead(data)
}

func decodeHead(data []byte) (head, error) {
	if len(data) != headSize {
		return head{}, damaged("the head of a visit is out of shape")
	}
	return head{
		seq:    int(binary.BigEndian.Uint32(data)),
		last:   exam.Hash(hex.EncodeToString(data[4:36])),
		closed: data[36]&stateClosed != 0,
		struck: data[36]&stateStruck != 0,
		horse:  id(data[37:headSize]),
	}, nil
}

func (h head) write(tx txn, visit id) error {
	data := binary.BigEndian.AppendUint32(make([]byte, 0, headSize), uint32(h.seq))
	digest, err := digestBytes(h.last)
	if err != nil {
		return err
	}
	state := byte(0)
	if h.closed {
		state |= stateClosed
	}
	if h.struck {
		state |= stateStruck
	}
	data = append(append(data, digest...), state)
	return putRow(tx, bucketHeads, visit[:], append(data, h.horse[:]...))
}

func digestBytes(h exam.Hash) ([]byte, error) {
	b, err := hex.DecodeString(string(h))
	if err != nil || len(b) != 32 {
		return nil, fmt.Errorf("%q is no SHA-256 digest", string(h))
	}
	return b, nil
}

// missingVisit makes sure that a visit is not only hidden by damage.
func missingVisit(tx txn, visit id) error {
	want, err := readTotals(tx)
	if err != nil {
		return err
	}
	n := 0
	err = eachRow(tx, bucketHeads, func(key, _ []byte) error {
		n++
		if string(key) == string(visit[:]) {
			return damaged("visit %s is out of place", visit)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if n != want.visits {
		return damaged("%d visits are there, %d were written", n, want.visits)
	}
	return exam.NoSuch("no visit has the number %q in the record", visit)
}
