package storage_test

import (
	"bytes"
	"context"
	"encoding/hex"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/storage"
)

// RFC 8032, section 7.1: TEST 1, TEST 2, TEST 3 and TEST SHA(abc).
func TestSignaturesAreThoseOfRFC8032(t *testing.T) {
	for _, v := range []struct{ name, seed, public, message, signature string }{
		{
			"1", "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
			"d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
			"e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
		},
		{
			"2", "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
			"3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
			"92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
		},
		{
			"3", "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
			"fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
			"6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
		},
		{
			"SHA(abc)", "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
			"ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
			"ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
			"dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704",
		},
	} {
		raw := func(text string) []byte {
			b, err := hex.DecodeString(text)
			require.NoError(t, err)
			return b
		}
		key := storage.KeyOf(raw(v.seed))
		assert.Equal(t, v.public, hex.EncodeToString(key.Public()), v.name)
		signature := key.Sign(raw(v.message))
		assert.Equal(t, v.signature, hex.EncodeToString(signature), v.name)
		assert.True(t, storage.Signed(raw(v.public), raw(v.message), raw(v.signature)), v.name)
		signature[7] ^= 1
		assert.False(t, storage.Signed(raw(v.public), raw(v.message), signature), v.name)
		assert.False(t, storage.Signed(raw(v.public), append(raw(v.message), 0), raw(v.signature)), v.name)
	}
	assert.False(t, storage.Signed([]byte("short"), nil, nil))
}

func TestTheKeyIsMadeOnceAndIsItsOwnersAlone(t *testing.T) {
	r, dir := newRecord(t)
	name := filepath.Join(dir, storage.KeyName)
	first, err := os.ReadFile(name)
	require.NoError(t, err)
	if runtime.GOOS != "windows" {
		assert.Equal(t, os.FileMode(0o600), mode(t, name))
		require.NoError(t, os.Chmod(name, 0o644))
	}
	require.NoError(t, r.Close())
	r = openRecord(t, dir)
	saveHorse(t, r, "Bracken")
	if runtime.GOOS != "windows" {
		assert.Equal(t, os.FileMode(0o600), mode(t, name), "wider rights are taken back")
	}
	again, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, first, again)
	require.NoError(t, r.Close())

	// A broken key is kept, and another machine goes on; both are checked.
	for i, rubbish := range []string{"", "rubbish", string(first[:30]), string(first) + "x"} {
		require.NoError(t, os.WriteFile(name, []byte(rubbish), 0o600))
		r = openRecord(t, dir)
		saveHorse(t, r, "Moth")
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
		assert.Equal(t, i+2, report.Machines)
		assert.Equal(t, i+2, report.Lines)
		require.NoError(t, r.Close())
		kept, err := filepath.Glob(name + ".broken-*")
		require.NoError(t, err)
		assert.Len(t, kept, i+1)
	}
}

func TestEveryLineAfterTheClosingIsSignedFor(t *testing.T) {
	r, dir := newRecord(t)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	kept := appendAll(t, r, answers(v.ID, 3, day()))
	signatures := func() int {
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
		assert.Equal(t, 1+report.Entries, report.Lines, "the horse and every entry")
		return report.Signatures
	}
	assert.Zero(t, signatures(), "an open visit is not signed")
	_, err := r.Append(closing(v.ID, day()))
	require.NoError(t, err)
	assert.Equal(t, 1, signatures())
	fix := kept[0]
	fix.Corrects, fix.Amend = fix.Seq, &exam.Amendment{Why: "read wrong"}
	_, err = r.Append(fix)
	require.NoError(t, err)
	assert.Equal(t, 2, signatures(), "a corrected visit is signed again, and the first signature is kept")
	_, _, err = r.Strike(exam.Entry{Visit: v.ID, Kind: exam.EntryStruck, By: "Ann", At: day(), Amend: &exam.Amendment{Why: "x"}}, v.Horse.ID)
	require.NoError(t, err)
	assert.Equal(t, 5, signatures(), "struck, and the two lines of the other one since its closing")
	require.NoError(t, r.Close())
	_, err = os.Stat(filepath.Join(dir, storage.CountName))
	require.NoError(t, err)
}

// key of a row that begins with a visit or horse.
func rawID(t testing.TB, text string) []byte {
	t.Helper()
	id, err := uuid.Parse(text)
	require.NoError(t, err)
	return id[:]
}

// What a person who knows the form of the record can do with it, short of the key,
// is found by the chain.
func TestTheChainFindsWhatWasMadeToFit(t *testing.T) {
	for name, c := range map[string]struct {
		tamper func(t *testing.T, tx *bbolt.Tx, closed, open exam.VisitID)
		says   string
	}{
		"the last entry of an open visit gone with its head": {func(t *testing.T, tx *bbolt.Tx, _, open exam.VisitID) {
			require.NoError(t, tx.Bucket([]byte("entries")).Delete(entryKey(open, 7)))
			require.NoError(t, tx.Bucket([]byte("heads")).Delete(rawID(t, string(open))))
		}, "entry 7 of visit"},
		"a whole visit gone from everywhere": {func(t *testing.T, tx *bbolt.Tx, _, open exam.VisitID) {
			for seq := byte(1); seq <= 7; seq++ {
				require.NoError(t, tx.Bucket([]byte("entries")).Delete(entryKey(open, seq)))
			}
			require.NoError(t, tx.Bucket([]byte("heads")).Delete(rawID(t, string(open))))
			require.NoError(t, tx.Bucket([]byte("meta")).Delete([]byte("totals")))
		}, "entry 1 of visit"},
		"an entry changed with all digests after it": {func(t *testing.T, tx *bbolt.Tx, closed, _ exam.VisitID) {
			b := tx.Bucket([]byte("entries"))
			prev := exam.Hash("")
			for seq := byte(1); b.Get(entryKey(closed, seq)) != nil; seq++ {
				row := b.Get(entryKey(closed, seq))
				e, err := exam.Unseal(row[32:], exam.Digest(row[32:]))
				require.NoError(t, err)
				if seq == 3 {
					e.By = "Bob"
				}
				e.Prev = prev
				body, err := exam.Seal(&e)
				require.NoError(t, err)
				prev = e.Hash
				require.NoError(t, b.Put(entryKey(closed, seq), append(digestOf(e.Hash), body...)))
			}
			require.NoError(t, tx.Bucket([]byte("heads")).Delete(rawID(t, string(closed))))
		}, "entry 3 of visit"},
		"an entry added without the machine": {func(t *testing.T, tx *bbolt.Tx, _, open exam.VisitID) {
			row := tx.Bucket([]byte("entries")).Get(entryKey(open, 7))
			last, err := exam.Unseal(row[32:], exam.Digest(row[32:]))
			require.NoError(t, err)
			e := exam.Entry{Visit: open, Seq: 8, At: day(), By: "Bob", Kind: exam.EntryNote, Note: "x", Prev: last.Hash}
			body, err := exam.Seal(&e)
			require.NoError(t, err)
			require.NoError(t, tx.Bucket([]byte("entries")).Put(entryKey(open, 8), append(digestOf(e.Hash), body...)))
			require.NoError(t, tx.Bucket([]byte("heads")).Delete(rawID(t, string(open))))
		}, "on no machine's chain"},
		"a link gone": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			c := tx.Bucket([]byte("chain")).Cursor()
			_, _ = c.First()
			_, _ = c.Next()
			key, _ := c.Next()
			require.NoError(t, tx.Bucket([]byte("chain")).Delete(bytes.Clone(key)))
		}, "lines 3 to 3 of machine"},
		"a link changed under a right sum": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			c := tx.Bucket([]byte("chain")).Cursor()
			_, _ = c.First()
			key, row := c.Next()
			data := bytes.Clone(row[4:])
			data[len(data)-1] ^= 1
			require.NoError(t, storage.PutRow(tx, "chain", bytes.Clone(key), data))
		}, "does not follow the line before it"},
		"a signature changed under a right sum": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			key, row := tx.Bucket([]byte("signatures")).Cursor().First()
			data := bytes.Clone(row[4:])
			data[len(data)-1] ^= 1
			require.NoError(t, storage.PutRow(tx, "signatures", bytes.Clone(key), data))
		}, "its signature is not that of machine"},
		"a signature gone": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			key, _ := tx.Bucket([]byte("signatures")).Cursor().First()
			require.NoError(t, tx.Bucket([]byte("signatures")).Delete(bytes.Clone(key)))
		}, "nobody's key signed"},
		"a signature of another line": {func(t *testing.T, tx *bbolt.Tx, closed, open exam.VisitID) {
			_, row := tx.Bucket([]byte("signatures")).Cursor().First()
			require.NoError(t, storage.PutRow(tx, "signatures", entryKey(open, 2), bytes.Clone(row[4:])))
		}, "its signature is of another line"},
		"the machine's key changed": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			key, row := tx.Bucket([]byte("machines")).Cursor().First()
			data := bytes.Clone(row[4:])
			data[0] ^= 1
			require.NoError(t, storage.PutRow(tx, "machines", bytes.Clone(key), data))
		}, "the key of a machine is not what was written"},
		"the whole chain of another key": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			key, _ := tx.Bucket([]byte("machines")).Cursor().First()
			require.NoError(t, tx.Bucket([]byte("machines")).Delete(bytes.Clone(key)))
		}, "has lines and no key"},
		"a revision of a horse gone with its summary": {func(t *testing.T, tx *bbolt.Tx, _, _ exam.VisitID) {
			h := saveRevisionByHand(t, tx)
			require.NoError(t, tx.Bucket([]byte("horses")).Delete(h))
		}, "revision 1 of horse"},
	} {
		t.Run(name, func(t *testing.T) {
			r, closed, open := filledWithASpare(t)
			require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error { c.tamper(t, tx, closed, open); return nil }))
			_ = r.MakeSnapshotsFit()
			report, err := r.Check(context.Background())
			require.NoError(t, err)
			require.False(t, report.OK)
			var said []string
			for _, b := range report.Broken {
				said = append(said, b.What)
			}
			assert.Contains(t, strings.Join(said, "\n"), c.says)
			_, ok := report.First()
			assert.True(t, ok)
		})
	}
}

// filledWithASpare is filled, and a second horse without visits.
func filledWithASpare(t *testing.T) (r *storage.Record, closed, open exam.VisitID) {
	t.Helper()
	r, closed, open = filled(t, realVisits)
	saveHorse(t, r, "Spare")
	return r, closed, open
}

// saveRevisionByHand is the key of the last horse's first revision.
func saveRevisionByHand(t *testing.T, tx *bbolt.Tx) []byte {
	t.Helper()
	key, _ := tx.Bucket([]byte("horses")).Cursor().Last()
	require.NotNil(t, key)
	return bytes.Clone(key)
}

func TestTheFirstBrokenLineIsTheOneThatWasWrittenFirst(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	one, two := begin(t, r, h.ID, day()), begin(t, r, h.ID, day().Add(time.Hour))
	appendAll(t, r, answers(two.ID, 2, day()))
	appendAll(t, r, answers(one.ID, 4, day()))
	require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error {
		for _, key := range [][]byte{entryKey(one.ID, 4), entryKey(two.ID, 3)} {
			row := bytes.Clone(tx.Bucket([]byte("entries")).Get(key))
			require.NoError(t, tx.Bucket([]byte("entries")).Put(key, bytes.Replace(row, []byte("Ann"), []byte("Bob"), 1)))
		}
		return nil
	}))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	first, ok := report.First()
	require.True(t, ok)
	assert.Equal(t, string(two.ID), first.Visit)
	assert.Equal(t, 3, first.Seq)
	assert.EqualValues(t, 5, first.Line, "the horse, two openings, one answer, this one")
	require.NoError(t, r.Close())
}

// An older copy in the place of the record is whole in itself: only the count
// beside it tells that lines are missing.
func TestAnOlderCopyInThePlaceOfTheRecordIsNoticed(t *testing.T) {
	r, dir := newRecord(t)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	appendAll(t, r, answers(v.ID, 2, day()))
	require.NoError(t, r.Close())
	file := filepath.Join(dir, storage.FileName)
	old, err := os.ReadFile(file)
	require.NoError(t, err)

	r = openRecord(t, dir)
	require.Empty(t, r.Missing())
	appendAll(t, r, answers(v.ID, 4, day())[2:])
	require.NoError(t, r.Close())
	require.NoError(t, os.WriteFile(file, old, 0o600))

	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err, "what is there can be worked with")
	gaps := r.Missing()
	require.Len(t, gaps, 1)
	assert.EqualValues(t, 5, gaps[0].From)
	assert.EqualValues(t, 6, gaps[0].To)
	check := func() {
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.Len(t, report.Broken, 1)
		assert.Contains(t, report.Broken[0].What, "lines 5 to 6")
	}
	check()
	appendAll(t, r, answers(v.ID, 6, day())[2:])
	check()
	require.NoError(t, r.Close())
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	assert.Empty(t, r.Missing(), "it is said once, and stays in the check")
	check()
	require.NoError(t, r.Close())

	// Another history of the same length is no better.
	require.NoError(t, os.WriteFile(file, old, 0o600))
	require.NoError(t, os.Rename(filepath.Join(dir, storage.CountName), filepath.Join(dir, "aside")))
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	appendAll(t, r, answers(v.ID, 12, day().Add(time.Minute))[2:])
	require.NoError(t, r.Close())
	require.NoError(t, os.Rename(filepath.Join(dir, "aside"), filepath.Join(dir, storage.CountName)))
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	require.Len(t, r.Missing(), 1)
	assert.EqualValues(t, 8, r.Missing()[0].From)
	require.NoError(t, r.Close())

	// A count that was cut says nothing.
	require.NoError(t, os.WriteFile(filepath.Join(dir, storage.CountName), []byte("loosebox mach"), 0o600))
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	assert.Empty(t, r.Missing())
	require.NoError(t, r.Close())
}
