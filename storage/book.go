package storage

import (
	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// book is one of the two books that a record keeps in the same form: the visits
// of real horses, and the rehearsals. It is what stands before the names of its
// buckets, so that no list of the one can hold a row of the other.
type book string

// The books.
const (
	bookVisits     book = ""
	bookRehearsals book = "rehearsal "
)

func books() []book { return []book{bookVisits, bookRehearsals} }

// bookBuckets are the buckets that each book has of its own; all of them are derived.
func bookBuckets() []string {
	return []string{bucketVisits, bucketHorseLines, bucketRoundLines, bucketSummaries, bucketSnapshots, bucketOutlines, bucketSeen, bucketSettingLines, bucketStanding}
}

// txn is a transaction within one book.
type txn struct {
	*bbolt.Tx
	book book
	w    *writer // what it writes to the logs; nil where nothing is written
	key  []byte  // public key of this machine; nil for none
	// packs are those that were opened last; nil keeps none.
	packs *packCache
	// parsed are entries that a transaction has read before it wrote them; each is used once.
	parsed map[place]exam.Entry
}

// in is the same transaction within another book.
func (tx txn) in(b book) txn { return txn{tx.Tx, b, tx.w, tx.key, tx.packs, tx.parsed} }

// named is the full name of a bucket: those that are not derived belong to no book.
func (tx txn) named(bucket string) string {
	switch bucket {
	case bucketMeta, bucketSettings, bucketLogs, bucketLines, bucketPacks, bucketAside:
		return bucket
	}
	return string(tx.book) + bucket
}

// Rehearsals is the other book of the same file: the visits of simulated horses,
// kept with the same guarantees and apart from the record. It takes openings of
// rehearsals only, and the record takes none. Settings are the machine's, the
// same in both. Check and Rebuild look after it too; Close closes both.
func (r *Record) Rehearsals() exam.Store { return &Record{r.holding, bookRehearsals} }

// RehearsalsStay says that the practice leaves rehearsals out of the exchange with other
// laptops.
func (r *Record) RehearsalsStay() (stay bool, err error) {
	err = r.view(func(tx txn) (err error) {
		stay, err = rehearsalsStay(tx)
		return err
	})
	return stay, err
}

func rehearsalsStay(tx txn) (bool, error) {
	where, err := readRuns(tx.in(bookVisits), bucketStanding, []byte(exam.SettingRehearsals))
	if err != nil {
		return false, err
	}
	said, err := readSetting(tx, where, exam.SettingRehearsals)
	return err == nil && len(said) > 0 && string(said[len(said)-1].Value) == exam.LeftOut, err
}
