package storage

import (
	"context"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// Tamper changes a record behind the back of its methods.
func (r *Record) Tamper(fn func(*bbolt.Tx) error) error { return r.db.Update(fn) }

// PutRow stores data under a right sum.
func PutRow(tx *bbolt.Tx, bucket string, key, data []byte) error {
	return putRow(txn{Tx: tx}, bucket, key, data)
}

// Migrate brings an empty file to a schema.
func Migrate(tx *bbolt.Tx, from int) error { return migrate(txn{Tx: tx}, from) }

// Schema reads the number of the schema.
func Schema(tx *bbolt.Tx) (int, error) { return readSchema(txn{Tx: tx}) }

// NewestSchema is the number of the schema that this version writes.
func NewestSchema() int { return newestSchema() }

// ThroughSnapshot writes a visit as a snapshot and reads it back.
func ThroughSnapshot(v exam.Visit) (exam.Visit, error) {
	data, err := encodeSnapshot(v)
	if err != nil {
		return v, err
	}
	return decodeSnapshot(data)
}

// Key is a machine's key, for the published vectors.
type Key = machine

// KeyOf makes a key from its seed.
func KeyOf(seed []byte) *Key { return machineOf(seed) }

// Public is the public key.
func (m *machine) Public() []byte { return m.public() }

// Sign signs a message.
func (m *machine) Sign(message []byte) []byte { return m.sign(message) }

// Signed checks a signature.
func Signed(public, message, signature []byte) bool { return signed(public, message, signature) }

// MakeSnapshotsFit writes what is derived of the visits again, as somebody would
// who changes a record and knows its form.
func (r *Record) MakeSnapshotsFit() error {
	return r.update(func(tx txn) error {
		_, err := rebuild(context.Background(), tx)
		return err
	})
}

// DecodeEvery feeds every reader of rows with the same bytes.
func DecodeEvery(data []byte) {
	_, _ = decodeHead(data)
	_, _ = decodeLink(1, data)
	_, _ = decodeSignature(data)
	_, _ = decodeSnapshot(data)
	if s, err := decodeSummary(data); err == nil {
		_, _ = s.found()
		_ = s.open()
		_ = s.those(s.struckSet())
	}
	_, _, _ = splitNumbered(data)
	_, _ = readHorseLine(data, data)
	_, _ = openRow(bucketMeta, data, data)
}
