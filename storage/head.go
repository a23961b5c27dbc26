package storage

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"

	"loosebox/exam"
)

// head says how a visit stands and where its lines are.
type head struct {
	closed bool
	struck bool // and closed with it
	// waiting is true where the opening or the horse is not here yet: the visit is in no list.
	waiting bool
	horse   id
	last    exam.Hash // identity of the line that is read last
	seq     int       // how many lines there are
	where   runs
}

// headSize is state, horse and identity; count and runs follow.
const headSize = 1 + 16 + 32

// The states of a visit in its head.
const (
	stateClosed = 1 << iota
	stateStruck
	stateWaiting
)

// readHead reads a visit's head; exam.ErrNotFound where there is no such visit.
func readHead(tx txn, visit id) (head, error) {
	data, err := getRow(tx, bucketVisits, visit[:])
	if err != nil {
		return head{}, err
	}
	if data == nil {
		return head{}, missingVisit(tx, visit)
	}
	h, err := decodeHead(data)
	if err == nil && h.waiting {
		err = exam.NoSuch("the beginning of visit %s, or its horse, is not in the record: take in what the other laptop has", visit)
	}
	return h, err
}

func decodeHead(data []byte) (head, error) {
	if len(data) <= headSize {
		return head{}, damaged("the head of a visit is out of shape")
	}
	h := head{
		closed:  data[0]&stateClosed != 0,
		struck:  data[0]&stateStruck != 0,
		waiting: data[0]&stateWaiting != 0,
		horse:   id(data[1:17]),
		last:    exam.Hash(hex.EncodeToString(data[17:headSize])),
	}
	n, size := binary.Uvarint(data[headSize:])
	if size <= 0 || n > maxEntries {
		return head{}, damaged("the head of a visit is out of shape")
	}
	h.seq = int(n)
	var err error
	h.where, err = decodeRuns(data[headSize+size:])
	return h, err
}

func (h head) write(tx txn, visit id) error {
	last, err := hex.DecodeString(string(h.last))
	if err != nil || len(last) != 32 {
		return fmt.Errorf("%.70q is no SHA-256 digest", h.last)
	}
	state := byte(0)
	if h.closed {
		state |= stateClosed
	}
	if h.struck {
		state |= stateStruck
	}
	if h.waiting {
		state |= stateWaiting
	}
	data := append(make([]byte, 0, headSize+16), state)
	data = append(append(data, h.horse[:]...), last...)
	data = binary.AppendUvarint(data, uint64(h.seq))
	return putRow(tx, bucketVisits, visit[:], h.where.append(data))
}

// missingVisit returns damage where a visit is missing only because a row cannot be read.
func missingVisit(tx txn, visit id) error {
	want, err := readTotals(tx)
	if err != nil {
		return err
	}
	n := 0
	err = eachRow(tx, bucketVisits, func(key, data []byte) error {
		if h, err := decodeHead(data); err != nil || h.waiting {
			return err
		}
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
