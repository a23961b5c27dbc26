package storage

import (
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
