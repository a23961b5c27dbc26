package storage

import (
	"fmt"
	"strconv"
)

// newestSchema is the form of the file that this version writes. Up to 5 every visit was
// a numbered chain of its own; from 6 on there are logs.
const newestSchema = 6

// migrate brings a record up to date in the transaction given, all or nothing; from 0
// it makes an empty one.
func migrate(tx txn, from int) error {
	if err := makeBuckets(tx, from); err != nil {
		return err
	}
	if from > 0 {
		if err := convert(tx); err != nil {
			return fmt.Errorf("bring the record from schema %d to %d: %w", from, newestSchema, err)
		}
	}
	return putRow(tx, bucketMeta, []byte(rowSchema), []byte(strconv.Itoa(newestSchema)))
}

func makeBuckets(tx txn, from int) error {
	for _, name := range []string{bucketMeta, bucketSettings, bucketLogs, bucketLines, bucketPacks} {
		if old := name == bucketMeta || name == bucketSettings; old && from > 0 {
			continue
		}
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return fmt.Errorf("make bucket %s: %w", name, err)
		}
	}
	for _, b := range books() {
		if err := emptyDerived(tx.in(b)); err != nil {
			return err
		}
	}
	if from > 0 {
		return nil
	}
	return putRow(tx, bucketSettings, []byte(rowSettings), []byte("{}"))
}

// readSchema reads the number of the schema. A file without it is no record:
// records get their name when they are whole.
func readSchema(tx txn) (int, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowSchema))
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(string(data))
	if err != nil || n < 1 {
		return 0, damaged("it has no number of schema")
	}
	return n, nil
}
