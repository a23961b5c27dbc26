package storage

import (
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"errors"
	"os"
	"testing"
	"time"

	"github.com/fxamacker/cbor/v2"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/signedlog"
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
func NewestSchema() int { return newestSchema }

// AnswerWithin sets how long the run that holds a record is waited for, and gives back what
// it was.
func AnswerWithin(d time.Duration) (was time.Duration) {
	was, answerWithin = answerWithin, d
	return was
}

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
func (m *machine) Sign(message []byte) []byte { return ed25519.Sign(m.private, message) }

// Forge changes the records of the log of visits as somebody would who knows the form of
// the record and does not have the key: every digest, sum and derived row is made to fit;
// signatures stay as they were. With cut the log's row is put back to where the last pack
// was signed.
func (r *Record) Forge(cut bool, edit func(cores [][]byte) [][]byte) error {
	return r.db.Update(func(btx *bbolt.Tx) error {
		tx := txn{Tx: btx}
		log, err := currentLog(tx)
		if err != nil {
			return err
		}
		var packs []signedlog.Segment
		var cores [][]byte
		nothing := func(signedlog.Segment, []signedlog.Digest) struct{} { return struct{}{} }
		err = eachLooked(tx, log, nothing, func(s looked[struct{}]) error {
			packs = append(packs, s.Segment)
			cores = append(cores, s.Cores...)
			return nil
		})
		if err != nil {
			return err
		}
		cores = edit(cores)
		for _, name := range []string{bucketLines, bucketPacks} {
			if err := tx.DeleteBucket([]byte(name)); err != nil {
				return err
			}
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		signature := log.Signature
		log.N, log.Last, log.Packed, log.PackedLast, log.TailBytes = 0, make([]byte, 32), 0, make([]byte, 32), 0
		for _, p := range packs {
			if p.Last() > uint64(len(cores)) || len(p.Signature) == 0 {
				break
			}
			part := segmentAfter(log, cores[p.First-1:p.Last()])
			part.Signature = p.Signature
			d := part.Digests()
			end := d[len(d)-1]
			if p.Last() < uint64(len(cores)) || cut {
				if err := putPack(tx, log.Number, part); err != nil {
					return err
				}
				log.N, log.Last, log.Packed, log.PackedLast = p.Last(), end[:], p.Last(), end[:]
				if cut {
					signature = p.Signature
				}
			}
		}
		for _, core := range cores[log.N:] {
			if _, _, err := lay(tx, log, core); err != nil {
				return err
			}
		}
		log.Signature = signature
		if err := log.write(tx); err != nil {
			return err
		}
		return refit(tx, log)
	})
}

// refit makes what is derived again without looking at signatures.
func refit(tx txn, log *logRow) error {
	if err := emptyDerived(tx); err != nil {
		return err
	}
	lines, err := readLines(tx, runs{{place{log.Number, 1}, log.N}})
	if err != nil {
		return err
	}
	for _, l := range lines {
		if at, err := locate(tx.namespace, l); err != nil {
			return err
		} else if err := at.put(tx); err != nil {
			return err
		}
	}
	if err := deriveSettings(tx); err != nil {
		return err
	}
	err = eachKey(tx, bucketHorseLines, func(h id) error { _, err := deriveHorse(tx, h); return err })
	if err != nil {
		return err
	}
	return eachKey(tx, bucketVisits, func(v id) error {
		data, err := getRow(tx, bucketVisits, v[:])
		if err != nil {
			return err
		}
		h, err := decodeHead(data)
		if err != nil {
			return err
		}
		return deriveVisit(tx, v, h.where)
	})
}

// SavedSettings puts settings in use that no line says.
func (r *Record) SavedSettings(data []byte) error {
	return r.db.Update(func(btx *bbolt.Tx) error {
		return putRow(txn{Tx: btx}, bucketSettings, []byte(rowSettings), data)
	})
}

// Repack stores a visit's snapshot with a text exchanged, under a right sum.
func Repack(tx *bbolt.Tx, namespace, key, from, to string) error {
	b := tx.Bucket([]byte(namespace + bucketSnapshots))
	raw, err := signedlog.Decompress(b.Get([]byte(key))[4:])
	if err != nil {
		return err
	}
	raw = bytes.ReplaceAll(raw, []byte(from), []byte(to))
	return PutRow(tx, namespace+bucketSnapshots, []byte(key), signedlog.Compress(raw))
}

// OlderSnapshot stores a visit's snapshot as a version of the program would that wrote one field more, under a right sum.
func OlderSnapshot(tx *bbolt.Tx, key string) error {
	raw, err := signedlog.Decompress(tx.Bucket([]byte(bucketSnapshots)).Get([]byte(key))[4:])
	if err != nil {
		return err
	}
	var fields map[string]cbor.RawMessage
	if err := decoder().Unmarshal(raw, &fields); err != nil {
		return err
	}
	fields["a field of then"] = cbor.RawMessage{1}
	if raw, err = encoder().Marshal(fields); err != nil {
		return err
	}
	return PutRow(tx, bucketSnapshots, []byte(key), signedlog.Compress(raw))
}

// DecodeEvery feeds every reader of rows with the same bytes.
func DecodeEvery(data []byte) {
	_, _ = decodeHead(data)
	_, _ = decodeRuns(data)
	_, _ = decodeSnapshot(data)
	if log, err := decodeLog(signedlog.ID{1}, data); err == nil {
		_, _ = readPack(log, place{log.Number, 1}.key(), data)
	}
	if s, err := decodeSummary(data); err == nil {
		_, _ = s.found()
		_ = s.open()
		_ = s.those(s.struckSet())
	}
	_, _ = splitPlace(data)
	_, _ = openRow(bucketMeta, data, data)
}

// EditOutline changes a horse's outline as somebody would who knows the form of the record.
func (r *Record) EditOutline(h exam.HorseID, edit func([]exam.Visit)) error {
	return r.db.Update(func(btx *bbolt.Tx) error {
		tx := txn{Tx: btx}
		horse, _ := parseID(string(h))
		visits, err := readOutline(tx, horse)
		if err != nil {
			return err
		}
		edit(visits)
		data, err := encoder().Marshal(visits)
		if err != nil {
			return err
		}
		return putRow(tx, bucketOutlines, horse[:], signedlog.Compress(data))
	})
}

// Forget takes the logs of every other machine out of the record, as somebody would who knows
// its form; so many horses with a visit each are left. With upTo they are cut behind that record
// instead, which is the end of a pack.
func (r *Record) Forget(upTo uint64, left int) error {
	return r.db.Update(func(btx *bbolt.Tx) error {
		tx := txn{Tx: btx}
		if err := (totals{left, left}).write(tx); err != nil {
			return err
		}
		return eachLog(tx, func(l *logRow) error {
			if bytes.Equal(l.Public, r.machine.public()) {
				return nil
			}
			for _, name := range []string{bucketLines, bucketPacks} {
				c := tx.Bucket([]byte(name)).Cursor()
				for key, _ := c.Seek(place{l.Number, upTo + 1}.key()); key != nil && bytes.HasPrefix(key, place{l.Number, 0}.key()[:4]); key, _ = c.Seek(key) {
					if err := c.Delete(); err != nil {
						return err
					}
				}
			}
			if upTo == 0 {
				logs := tx.Bucket([]byte(bucketLogs))
				return errors.Join(logs.Delete(l.row[:]), logs.Delete(binary.BigEndian.AppendUint32(nil, l.Number)))
			}
			data, err := getRow(tx, bucketPacks, place{l.Number, upTo}.key())
			if err != nil {
				return err
			}
			p, err := readPack(l, place{l.Number, upTo}.key(), data)
			if err != nil {
				return err
			}
			digests := p.Digests()
			end := digests[len(digests)-1]
			l.N, l.Packed, l.Last, l.PackedLast, l.Signature, l.Told = upTo, upTo, end[:], end[:], p.Signature, upTo
			return l.write(tx)
		})
	})
}

// PackKeys are where in a file the keys stand that say which page the packs from there on are in.
func PackKeys(t testing.TB, file string) (at []int) {
	t.Helper()
	db, err := bbolt.Open(file, 0o600, &bbolt.Options{ReadOnly: true})
	require.NoError(t, err)
	var root, page int
	require.NoError(t, db.View(func(tx *bbolt.Tx) error {
		root, page = int(tx.Bucket([]byte(bucketPacks)).Root()), db.Info().PageSize
		return nil
	}))
	require.NoError(t, db.Close())
	data, err := os.ReadFile(file) //nolint:gosec // a file of the test
	require.NoError(t, err)
	data = data[root*page : (root+1)*page]
	require.Equal(t, uint16(1), binary.LittleEndian.Uint16(data[8:]), "packs take several pages")
	for i := range int(binary.LittleEndian.Uint16(data[10:])) { // elements of 16 bytes, the first says how far behind it its key is
		e := 16 + 16*i
		at = append(at, root*page+e+int(binary.LittleEndian.Uint32(data[e:])))
	}
	return at
}
