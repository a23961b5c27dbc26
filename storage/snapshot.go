package storage

import (
	"fmt"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// readSnapshot reads the stored fold of a closed visit.
func readSnapshot(tx *bbolt.Tx, visit id) (exam.Visit, error) {
	data, err := getRow(tx, bucketSnapshots, visit[:])
	if err != nil {
		return exam.Visit{}, err
	}
	if data == nil {
		return exam.Visit{}, damaged("the snapshot of visit %s is missing", visit)
	}
	var v exam.Visit
	if err := decoder().Unmarshal(data, &v); err != nil {
		return exam.Visit{}, damaged("the snapshot of visit %s cannot be read (%v)", visit, err)
	}
	return v, nil
}

func writeSnapshot(tx *bbolt.Tx, visit id, v exam.Visit) error {
	data, err := encoder().Marshal(v)
	if err != nil {
		return fmt.Errorf("write snapshot: %w", err)
	}
	return putRow(tx, bucketSnapshots, visit[:], data)
}
