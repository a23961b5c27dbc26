// Package storagetest changes record files for tests, from outside.
package storagetest

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"

	"go.etcd.io/bbolt"
)

// MakeNewer raises the number of a record's schema to one that no version knows yet.
func MakeNewer(file string) error {
	db, err := bbolt.Open(file, 0o600, nil)
	if err != nil {
		return fmt.Errorf("open %s: %w", file, err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		const bucket, key, value = "meta", "schema", "9999"
		sum := crc32.Checksum([]byte(bucket+key+value), crc32.MakeTable(crc32.Castagnoli))
		return tx.Bucket([]byte(bucket)).Put([]byte(key), append(binary.BigEndian.AppendUint32(nil, sum), value...))
	})
	return errors.Join(err, db.Close())
}
