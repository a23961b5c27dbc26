package storage

import (
	"context"
	"fmt"
	"strconv"
)

// migration takes a record from the schema before it to its own.
type migration struct {
	about string
	apply func(txn) error
}

// migrations in order: the first makes schema 1 out of a file without buckets.
// A migration that was ever released is never changed. Where a change of exam
// makes the entries of an old visit fold to something else, a further migration
// calls rebuild, or Check finds every old snapshot wrong.
func migrations() []migration {
	return []migration{
		{"make the buckets", makeBuckets},
		{"make the buckets of rehearsals", makeRehearsals},
		{"make the buckets of rounds", makeRounds},
		{"findings keep what they replaced; struck visits", foldAgain},
		{"every line on its machine's chain, closed visits signed", beginChain},
	}
}

func newestSchema() int { return len(migrations()) }

// migrate brings a record up to date in the transaction given, all or nothing.
func migrate(tx txn, from int) error {
	for i, m := range migrations()[from:] {
		if err := m.apply(tx); err != nil {
			return fmt.Errorf("bring the record to schema %d (%s): %w", from+i+1, m.about, err)
		}
	}
	return putRow(tx, bucketMeta, []byte(rowSchema), []byte(strconv.Itoa(newestSchema())))
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

// foldAgain makes what is derived again.
func foldAgain(tx txn) error {
	for _, b := range books() {
		if _, err := rebuild(context.Background(), tx.in(b)); err != nil {
			return err
		}
	}
	return nil
}

func makeBuckets(tx txn) error {
	for _, name := range []string{
		bucketMeta, bucketHorses, bucketEntries, bucketHeads, bucketSummaries, bucketSnapshots, bucketSettings,
	} {
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return fmt.Errorf("make bucket %s: %w", name, err)
		}
	}
	if err := (totals{}).write(tx); err != nil {
		return err
	}
	return putRow(tx, bucketSettings, []byte(rowSettings), []byte("{}"))
}

func makeRehearsals(tx txn) error {
	tx = tx.in(bookRehearsals)
	for _, name := range bookBuckets() {
		if _, err := tx.CreateBucket([]byte(tx.named(name))); err != nil {
			return fmt.Errorf("make bucket %s: %w", tx.named(name), err)
		}
	}
	return (totals{}).write(tx)
}

func makeRounds(tx txn) error {
	for _, b := range books() {
		name := tx.in(b).named(bucketRounds)
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return fmt.Errorf("make bucket %s: %w", name, err)
		}
	}
	return nil
}
