// Package storage keeps the record of horses and visits in one file and is the
// only place that knows its buckets. Lines are only ever added, to logs that are
// signed (see exam/signedlog); everything that can be computed from them is written in
// the same transaction and can be made again.
//
//	record.db
//	├── meta
//	│   ├── schema        sum ‖ number of the schema, in decimal
//	│   ├── totals        sum ‖ horses ‖ visits, 4 bytes each
//	│   ├── log           sum ‖ name of the log that this machine writes
//	│   ├── record        sum ‖ 16 random bytes: the number of this record
//	│   ├── gaps          sum ‖ JSON of what is known to be missing
//	│   ├── exchange      sum ‖ JSON of the last exchange at each place
//	│   ├── practice      sum ‖ the practice and what was said of its laptops (exam/roster)
//	│   ├── ended         sum ‖ JSON of how far the logs of laptops that are out count
//	│   └── hub NAME      sum ‖ how far a hub was read, and what it holds (storage/share/hub)
//	├── logs
//	│   ├── name          sum ‖ CBOR of a log: key, how far it is and is packed, signature
//	│   └── number        sum ‖ name; numbers of 4 bytes stand for logs in this file
//	├── lines             the end of each log
//	│   └── number ‖ n            digest ‖ core of record n
//	├── packs             what was before it, packed
//	│   └── number ‖ last n       sum ‖ first n ‖ count ‖ digest before ‖ signature ‖ packed cores
//	├── aside             what a key signed and cannot be taken yet
//	│   └── name ‖ first n ‖ digest   sum ‖ segment of a log, as it is sent
//	├── visits            derived: where each visit's lines are
//	│   └── visit                 sum ‖ state ‖ horse ‖ last identity ‖ count ‖ runs
//	├── horse lines       derived: where the revisions of a horse are
//	│   └── horse                 sum ‖ runs
//	├── round lines       derived: where the lines of a day's round are
//	│   └── day                   sum ‖ runs
//	├── summaries         derived: a horse as it is now, its visits by time
//	│   └── horse                 sum ‖ CBOR of summary
//	├── snapshots         derived: the fold of every closed visit
//	│   └── visit                 sum ‖ packed CBOR of exam.Visit
//	├── outlines         derived: a horse's closed visits as lists need them
//	│   └── horse                 sum ‖ packed CBOR of exam.Outline
//	├── seen              derived: what each log says that it held of others
//	│   └── number ‖ name ‖ n     sum ‖ n of the other ‖ 8 bytes of its digest
//	├── setting lines     derived: where the lines about a setting of the practice are
//	│   └── key                   sum ‖ runs
//	├── standing settings derived: those of them that no other one replaces
//	│   └── key                   sum ‖ runs
//	├── settings
//	│   └── settings              sum ‖ JSON of exam.Settings, this machine's own
//	└── rehearsal visits, rehearsal horse lines, rehearsal round lines, rehearsal
//	    summaries, rehearsal snapshots, rehearsal outlines, rehearsal seen
//	                              the same for visits of simulated horses, which are in
//	                              a log of their own; meta holds "rehearsal totals" and
//	                              "rehearsal log"
//
// Horse and visit are the 16 bytes of a UUID, the name of a log 16 bytes, the n of a
// record 8; all numbers are big endian, so that keys sort as they are read. A sum is
// the CRC-32C of bucket, key and data: the file format checks none of its values, and
// a flipped bit must never be taken for a finding. Runs are log, first n and count of
// lines that follow each other.
//
// An open visit has no snapshot: it is folded from its lines, which keeps what an
// accepted answer writes close to the answer itself. When a visit is closed the end of
// the log is packed.
package storage

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"

	"github.com/google/uuid"
	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// The buckets.
const (
	bucketMeta       = "meta"
	bucketLogs       = "logs"
	bucketLines      = "lines"
	bucketPacks      = "packs"
	bucketAside      = "aside"
	bucketVisits     = "visits"
	bucketHorseLines = "horse lines"
	bucketRoundLines = "round lines"
	bucketSummaries  = "summaries"
	bucketSnapshots  = "snapshots"
	bucketOutlines   = "outlines"
	bucketSeen       = "seen"
	bucketStanding   = "standing settings"
	bucketSettings   = "settings"

	bucketSettingLines = "setting lines"
)

// The single rows of meta and settings.
const (
	rowSchema   = "schema"
	rowTotals   = "totals"
	rowLog      = "log"
	rowGaps     = "gaps"
	rowRecord   = "record"
	rowExchange = "exchange"
	rowSettings = "settings"
)

// maxRow is the longest row that is believed: a length read from a damaged
// page can be gigabytes.
const maxRow = 16 << 20

// appendFill is bbolt's FillPercent, a part of 1: a page is split when it is fuller, and keys
// mostly arrive in order.
const appendFill = 0.9

// id is a horse or a visit in a key.
type id [16]byte

// parseID reads a horse's or visit's identity; false where it is no UUID in
// its usual form.
func parseID(text string) (id, bool) {
	u, err := uuid.Parse(text)
	if err != nil || u.String() != text {
		return id{}, false
	}
	return id(u), true
}

func (i id) String() string      { return uuid.UUID(i).String() }
func (i id) visit() exam.VisitID { return exam.VisitID(i.String()) }
func (i id) horse() exam.HorseID { return exam.HorseID(i.String()) }

// damaged is an error that wraps exam.ErrDamaged and says what was found.
func damaged(format string, args ...any) error {
	return fmt.Errorf("%s: %w", fmt.Sprintf(format, args...), exam.ErrDamaged)
}

// bucket returns one of the buckets of the record, or ErrDamaged: every record
// has them all.
func bucket(tx txn, name string) (*bbolt.Bucket, error) {
	b := tx.Bucket([]byte(tx.named(name)))
	if b == nil {
		return nil, damaged("the part %q of the record is missing", tx.named(name))
	}
	b.FillPercent = appendFill
	return b, nil
}

func sum(bucket string, key, data []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	c := crc32.Update(0, table, []byte(bucket))
	c = crc32.Update(c, table, key)
	return crc32.Update(c, table, data)
}

// putRow stores data under its sum.
func putRow(tx txn, name string, key, data []byte) error {
	b, err := bucket(tx, name)
	if err != nil {
		return err
	}
	row := binary.BigEndian.AppendUint32(make([]byte, 0, 4+len(data)), sum(tx.named(name), key, data))
	if err := b.Put(key, append(row, data...)); err != nil {
		return fmt.Errorf("write %s: %w", tx.named(name), err)
	}
	return nil
}

// getRow reads data back and checks its sum; nil where there is no such row.
// The bytes belong to the transaction.
func getRow(tx txn, name string, key []byte) ([]byte, error) {
	b, err := bucket(tx, name)
	if err != nil {
		return nil, err
	}
	row := b.Get(key)
	if row == nil {
		return nil, nil
	}
	return openRow(tx.named(name), key, row)
}

func openRow(name string, key, row []byte) ([]byte, error) {
	if len(row) < 4 || len(row) > maxRow || binary.BigEndian.Uint32(row) != sum(name, key, row[4:]) {
		return nil, damaged("a row of %s does not match its sum", name)
	}
	return row[4:], nil
}

// eachRow calls fn for every row of a bucket in key order, each checked against
// its sum, and fails where a key is out of order.
func eachRow(tx txn, name string, fn func(key, data []byte) error) error {
	b, err := bucket(tx, name)
	if err != nil {
		return err
	}
	var last []byte
	return b.ForEach(func(key, row []byte) error {
		if last != nil && string(key) <= string(last) {
			return damaged("rows of %s are out of order", tx.named(name))
		}
		last = key
		data, err := openRow(tx.named(name), key, row)
		if err != nil {
			return err
		}
		return fn(key, data)
	})
}

// totals say how many horses and visits there are, so that a list that lost a
// row is known for damaged.
type totals struct{ horses, visits int }

func readTotals(tx txn) (totals, error) {
	data, err := getRow(tx, bucketMeta, []byte(string(tx.namespace)+rowTotals))
	if err != nil {
		return totals{}, err
	}
	if len(data) != 8 {
		return totals{}, damaged("the totals are missing")
	}
	return totals{int(binary.BigEndian.Uint32(data)), int(binary.BigEndian.Uint32(data[4:]))}, nil
}

func (t totals) write(tx txn) error {
	data := binary.BigEndian.AppendUint32(nil, uint32(t.horses))
	data = binary.BigEndian.AppendUint32(data, uint32(t.visits))
	return putRow(tx, bucketMeta, []byte(string(tx.namespace)+rowTotals), data)
}
