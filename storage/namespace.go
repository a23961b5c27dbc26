package storage

import (
	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// namespace is one of the two sets of visits that a record keeps in the same form: those
// of real horses, and the rehearsals. Its text is the prefix of its buckets' names, so
// that no list of one namespace can hold a row of the other.
type namespace string

// The namespaces.
const (
	visitsNamespace     namespace = ""
	rehearsalsNamespace namespace = "rehearsal "
)

func namespaces() []namespace { return []namespace{visitsNamespace, rehearsalsNamespace} }

// namespaceBuckets names the buckets that each namespace has of its own, without the prefix. All
// of them hold derived rows.
func namespaceBuckets() []string {
	return []string{bucketVisits, bucketHorseLines, bucketRoundLines, bucketSummaries, bucketSnapshots, bucketOutlines, bucketSeen, bucketSettingLines, bucketStanding}
}

// txn is a transaction within one namespace.
type txn struct {
	*bbolt.Tx
	namespace namespace
	w         *writer // what it writes to the logs; nil where nothing is written
	key       []byte  // public key of this machine; nil for none
	// packs caches the packs that were opened last; nil caches none.
	packs *packCache
	// parsed are entries that a transaction has read before it wrote them; each is used once.
	parsed map[place]exam.Entry
}

// in is the same transaction within another namespace.
func (tx txn) in(b namespace) txn { return txn{tx.Tx, b, tx.w, tx.key, tx.packs, tx.parsed} }

// named is the full name of a bucket: those that are not derived belong to no namespace.
func (tx txn) named(bucket string) string {
	switch bucket {
	case bucketMeta, bucketSettings, bucketLogs, bucketLines, bucketPacks, bucketAside:
		return bucket
	}
	return string(tx.namespace) + bucket
}

// Rehearsals returns the store of simulated horses' visits. They are in the same file, with
// the same guarantees, and apart from the visits of real horses. It takes openings of
// rehearsals only, and the record takes none of them. Both have the machine's settings.
// Check and Rebuild of the record cover both; Close closes both.
func (r *Record) Rehearsals() exam.Store { return &Record{r.holding, rehearsalsNamespace} }

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
	where, err := readRuns(tx.in(visitsNamespace), bucketStanding, []byte(exam.SettingRehearsals))
	if err != nil {
		return false, err
	}
	said, err := readSetting(tx, where, exam.SettingRehearsals)
	return err == nil && len(said) > 0 && string(said[len(said)-1].Value) == exam.LeftOut, err
}
