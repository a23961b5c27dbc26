package storage

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strconv"

	"loosebox/exam/signedlog"
)

// newestSchema is the form of the file that this version writes. Up to 5 every visit was
// a numbered chain of its own; from 6 on there are logs.
// What changed after that is derived from the logs, and made again: in 9 the keys of exam/oldkeys.go,
// in 10 the outlines, in 12 which visits were open at once, in 13 which
// decisions a needle missed, in 14 the fields of a note of a formality. From 11 on there are
// lines about settings of the practice, and the names of logs of rehearsals say what they are.
const (
	logSchema    = 6
	branchSchema = 8 // rows of logs say what they branch from
	newestSchema = 14
)

// bringUp brings a record up to date, all or nothing. One that has logs is derived anew in a
// new file, which takes its place when it is whole.
func (r *Record) bringUp(from int) error {
	err := r.update(func(tx txn) error { return migrate(tx, from) })
	if err == nil && from >= logSchema {
		err = r.deriveAnew(context.Background())
	}
	if err != nil {
		return fmt.Errorf("bring the record from schema %d to %d: %w", from, newestSchema, err)
	}
	return nil
}

// migrate makes the logs as this version has them, in the transaction given; from 0 it makes
// an empty record.
func migrate(tx txn, from int) error {
	switch {
	case from >= branchSchema:
		return nil
	case from >= logSchema:
		if err := widenLogs(tx); err != nil {
			return err
		}
		if _, err := tx.CreateBucket([]byte(bucketAside)); err != nil {
			return err
		}
		return putSchema(tx, branchSchema)
	}
	if err := makeBuckets(tx, from); err != nil {
		return err
	}
	if from > 0 {
		if err := convert(tx); err != nil {
			return err
		}
	}
	return upToDate(tx)
}

// upToDate says that the record is in the newest form.
func upToDate(tx txn) error {
	if err := renumber(tx); err != nil {
		return err
	}
	return putSchema(tx, newestSchema)
}

func putSchema(tx txn, n int) error {
	return putRow(tx, bucketMeta, []byte(rowSchema), []byte(strconv.Itoa(n)))
}

// deriveAnew makes what is derived of an older form again.
func (r *Record) deriveAnew(ctx context.Context) error {
	fresh, err := r.beginAnew()
	if err != nil {
		return err
	}
	if _, err = fresh.derive(ctx); err == nil {
		err = fresh.write(upToDate)
	}
	if err == nil {
		err = r.replace(fresh)
	}
	if err != nil {
		return errors.Join(err, fresh.drop())
	}
	return nil
}

// renumber gives the record a number of its own. What a machine remembers of a record
// goes by it: a copy that is put back has the same, one that is restored anew another.
func renumber(tx txn) error {
	var own [16]byte
	if _, err := rand.Read(own[:]); err != nil {
		return fmt.Errorf("number the record: %w", err)
	}
	return putRow(tx, bucketMeta, []byte(rowRecord), own[:])
}

// widenLogs writes the rows of logs as they are since branches are kept.
func widenLogs(tx txn) error {
	var rows []*logRow
	err := eachRow(tx, bucketLogs, func(key, data []byte) error {
		if len(key) != 16 {
			return nil
		}
		var old struct {
			_          struct{} `cbor:",toarray"`
			Number     uint32
			Namespace  namespace
			Public     []byte
			Nonce      []byte
			N          uint64
			Last       []byte
			Counter    uint64
			Packed     uint64
			PackedLast []byte
			TailBytes  uint64
			Signature  []byte
			Told       uint64
			Doubt      bool
		}
		name := signedlog.ID(key)
		if err := decoder().Unmarshal(data, &old); err != nil {
			return damaged("what is known of log %s cannot be read", name)
		}
		rows = append(rows, &logRow{
			Number: old.Number, Namespace: old.Namespace, Public: old.Public, Nonce: old.Nonce, N: old.N, Last: old.Last, Counter: old.Counter,
			Packed: old.Packed, PackedLast: old.PackedLast, TailBytes: old.TailBytes, Signature: old.Signature, Told: old.Told, Doubt: old.Doubt,
			name: name, row: name,
		})
		if l := rows[len(rows)-1]; !l.Doubt && tx.w != nil && tx.w.machine != nil && string(l.Public) == string(tx.w.machine.public()) {
			l.Mine = l.N
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, l := range rows {
		if err := l.write(tx); err != nil {
			return err
		}
	}
	return nil
}

func makeBuckets(tx txn, from int) error {
	for _, name := range []string{bucketMeta, bucketSettings, bucketLogs, bucketLines, bucketPacks, bucketAside} {
		if old := name == bucketMeta || name == bucketSettings; old && from > 0 {
			continue
		}
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return fmt.Errorf("make bucket %s: %w", name, err)
		}
	}
	for _, b := range namespaces() {
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
