package storage

import (
	"encoding/binary"
)

// signatureSize is machine, count and the signature.
const signatureSize = 16 + 8 + 64

// signature is what a machine signed: the digest of a closed visit's newest
// entry, and with it the whole chain of the machine up to that line.
type signature struct {
	machine id
	count   uint64 // the link of the machine's chain that is signed
	bytes   []byte // 64, Ed25519
}

// signedVisit stands before what is signed, so that no other signature of the key
// can be taken for one of a visit.
const signedVisit = "loosebox/visit/1\x00"

// signedMessage is what is signed for: machine, place in its chain, visit, entry,
// the entry's digest, the digest of the link.
func signedMessage(machine id, l link) []byte {
	m := append([]byte(signedVisit), machine[:]...)
	m = binary.BigEndian.AppendUint64(m, l.count)
	m = append(m, l.what.numbered(l.number)...)
	m = append(m, l.digest...)
	return append(m, l.sum[:]...)
}

// sign signs for a closed visit as it stands after the line of the link. Every
// signature is kept: a visit that is corrected is signed again.
func sign(tx txn, l link) error {
	if tx.book != bookVisits {
		return nil
	}
	row := append(make([]byte, 0, signatureSize), tx.machine.name[:]...)
	row = binary.BigEndian.AppendUint64(row, l.count)
	row = append(row, tx.machine.sign(signedMessage(tx.machine.name, l))...)
	return putRow(tx, bucketSignatures, l.what.numbered(l.number), row)
}

func decodeSignature(data []byte) (signature, error) {
	if len(data) != signatureSize {
		return signature{}, damaged("a signature is out of shape")
	}
	return signature{id(data[:16]), binary.BigEndian.Uint64(data[16:]), data[24:]}, nil
}
