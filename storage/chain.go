package storage

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
)

// The chain of a machine says in which order its lines were written: each link
// has a number, names one line of the record with its digest, and holds a digest
// over itself and the link before it. A line that is gone, or a whole visit, is
// missed by its link.

// The kinds of link.
const (
	linkEntry byte = 1 // an entry of a visit
	linkHorse byte = 2 // a revision of a horse
	// linkVisit is a visit as it was found when the chain was begun: its entries
	// up to the one named, whose digest covers those before it.
	linkVisit byte = 3
)

// linkSize is kind, what, number, its digest and the digest of the link.
const linkSize = 1 + 16 + 4 + 32 + 32

// link is one link of a machine's chain.
type link struct {
	count  uint64 // from 1, without gaps
	kind   byte
	what   id     // the visit or horse
	number int    // the entry or revision
	digest []byte // of that line, 32 bytes
	sum    [32]byte
}

// chained stands before the bytes of a link when it is hashed.
const chained = "loosebox/machine/1\x00"

// seal sets the digest of the link behind the one before it.
func (l *link) seal(machine id, before [32]byte) {
	h := sha256.New()
	h.Write([]byte(chained))
	h.Write(machine[:])
	h.Write(before[:])
	h.Write(binary.BigEndian.AppendUint64(nil, l.count))
	h.Write([]byte{l.kind})
	h.Write(l.what.numbered(l.number))
	h.Write(l.digest)
	h.Sum(l.sum[:0])
}

func (l *link) encode() []byte {
	row := append(make([]byte, 0, linkSize), l.kind)
	row = append(row, l.what.numbered(l.number)...)
	row = append(row, l.digest...)
	return append(row, l.sum[:]...)
}

func decodeLink(count uint64, data []byte) (link, error) {
	if len(data) != linkSize {
		return link{}, damaged("line %d of a machine is out of shape", count)
	}
	return link{
		count: count, kind: data[0], what: id(data[1:17]), number: int(binary.BigEndian.Uint32(data[17:])),
		digest: data[21:53], sum: [32]byte(data[53:]),
	}, nil
}

// counted is the key of a link.
func (i id) counted(n uint64) []byte { return binary.BigEndian.AppendUint64(i[:16:16], n) }

// lastLink is the newest link of a machine; its zero value where there is none.
func lastLink(tx txn, machine id) (link, error) {
	b, err := bucket(tx, bucketChain)
	if err != nil {
		return link{}, err
	}
	c := b.Cursor()
	key, _ := c.Seek(machine.counted(1<<64 - 1))
	if key == nil {
		key, _ = c.Last()
	} else {
		key, _ = c.Prev()
	}
	if len(key) != 24 || id(key[:16]) != machine {
		return link{}, nil
	}
	count := binary.BigEndian.Uint64(key[16:])
	data, err := getRow(tx, bucketChain, key)
	if err != nil {
		return link{}, err
	}
	return decodeLink(count, data)
}

// chain adds a line to this machine's chain and returns its link. Rehearsals are
// no part of it.
func chain(tx txn, kind byte, what id, number int, digest []byte) (link, error) {
	if tx.book != bookVisits {
		return link{}, nil
	}
	if tx.machine == nil {
		return link{}, fmt.Errorf("this machine has no key: nothing was written")
	}
	last, err := lastLink(tx, tx.machine.name)
	if err != nil {
		return link{}, err
	}
	if last.count == 0 {
		if err := putRow(tx, bucketMachines, tx.machine.name[:], tx.machine.public()); err != nil {
			return link{}, err
		}
	}
	l := link{count: last.count + 1, kind: kind, what: what, number: number, digest: digest}
	l.seal(tx.machine.name, last.sum)
	return l, putRow(tx, bucketChain, tx.machine.name.counted(l.count), l.encode())
}

// beginChain puts what a record of an older version holds on this machine's
// chain, and signs for its closed visits as they were found.
func beginChain(tx txn) error {
	for _, name := range []string{bucketMachines, bucketChain, bucketSignatures} {
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return fmt.Errorf("make bucket %s: %w", name, err)
		}
	}
	err := eachStored(context.Background(), tx, bucketHorses, func(key, row []byte) error {
		line, err := readHorseLine(key, row)
		if err != nil {
			return err
		}
		_, err = chain(tx, linkHorse, id(key[:16]), line.Horse.Revision, row[:32:32])
		return err
	})
	if err != nil {
		return err
	}
	return eachRow(tx, bucketHeads, func(key, data []byte) error {
		h, err := decodeHead(data)
		if err != nil || len(key) != 16 {
			return damaged("a head is out of shape")
		}
		digest, err := digestBytes(h.last)
		if err != nil {
			return err
		}
		l, err := chain(tx, linkVisit, id(key), h.seq, digest)
		if err != nil || !h.closed {
			return err
		}
		return sign(tx, l)
	})
}

// lineWords says which line of the record a link is about.
func (l *link) lineWords() string {
	switch l.kind {
	case linkHorse:
		return fmt.Sprintf("revision %d of horse %s", l.number, l.what)
	case linkVisit:
		return fmt.Sprintf("entries 1 to %d of visit %s", l.number, l.what)
	default:
		return fmt.Sprintf("entry %d of visit %s", l.number, l.what)
	}
}
