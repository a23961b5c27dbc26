package storage_test

import (
	"bytes"
	"context"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	}
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
		assert.Equal(t, fmt.Sprintf("%s.broken-%d", name, i+1), r.BrokenKey(), "it is told")
		saveHorse(t, r, "Moth")
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
		assert.Equal(t, i+2, report.Machines)
		assert.Equal(t, i+2, report.Lines)
		assert.Len(t, report.Writers, i+2, "a key begins its own log")
		require.NoError(t, r.Close())
		kept, err := filepath.Glob(name + ".broken-*")
		require.NoError(t, err)
		assert.Len(t, kept, i+1)
	}
}

// What a person who knows the form of the record can do with it, short of the key: each
// edit with every digest, sum and derived row made to fit. The page "record" of the manual
// lists the ones that no local check can show.
func TestWhatWasMadeToFitIsFoundByTheSignatures(t *testing.T) {
	change := func(n int, from, to string) func([][]byte) [][]byte {
		return func(cores [][]byte) [][]byte {
			changed := bytes.Replace(cores[n], []byte(from), []byte(to), 1)
			require.NotEqual(t, string(cores[n]), string(changed))
			cores[n] = changed
			return cores
		}
	}
	// Records: 0 the horse, 1 to 7 a visit, 8 its closing; 9 to 15 an open visit; 16 a
	// line of a round, 17 settings, 18 a setting of the practice.
	for name, c := range map[string]struct {
		cut  bool
		edit func([][]byte) [][]byte
		says string
	}{
		"an entry of a closed visit":             {false, change(3, "Ann", "Bob"), "not what was signed"},
		"a revision of a horse":                  {false, change(0, "Bracken", "Bramble"), "not what was signed"},
		"the newest entry of an open visit":      {false, change(15, "Ann", "Bob"), "not what was signed"},
		"a line of a round":                      {false, change(16, "owner rang", "nobody rang"), "not what was signed"},
		"a line of the settings":                 {false, change(17, "Ann", "Bob"), "not what was signed"},
		"a setting of the practice":              {false, change(18, "OA==", "OTk="), "not what was signed"}, // 8 mL, 99
		"a setting of the practice gone":         {false, func(c [][]byte) [][]byte { return c[:18] }, "not what was signed"},
		"the newest lines cut":                   {false, func(c [][]byte) [][]byte { return c[:len(c)-2] }, "not what was signed"},
		"an entry taken out of the middle":       {false, func(c [][]byte) [][]byte { return slices.Delete(c, 11, 12) }, "not what was signed"},
		"an entry put in":                        {false, func(c [][]byte) [][]byte { return slices.Insert(c, 12, c[11]) }, "not what was signed"},
		"a whole visit gone":                     {false, func(c [][]byte) [][]byte { return slices.Delete(c, 9, 16) }, "not what was signed"},
		"the closing gone with its signature":    {false, func(c [][]byte) [][]byte { return slices.Delete(c, 8, 9) }, "not what was signed"},
		"everything after the last closing gone": {true, func(c [][]byte) [][]byte { return c[:9] }, "an older copy"},
	} {
		t.Run(name, func(t *testing.T) {
			r, _, dir := everyKind(t)
			require.NoError(t, r.Forge(c.cut, c.edit))
			report, err := r.Check(context.Background())
			require.NoError(t, err)
			if !c.cut { // within a run the mark beside the record is not looked at
				assertBroken(t, report, c.says)
				_, _, err = r.Rebuild(context.Background())
				require.ErrorIs(t, err, exam.ErrDamaged, "a rebuild does not paper it over")
			}
			require.NoError(t, r.Close())
			r, err = storage.Open(dir, storage.Options{})
			require.NoError(t, err)
			report, err = r.Check(context.Background())
			require.NoError(t, err)
			assertBroken(t, report, c.says)
			require.NoError(t, r.Close())
		})
	}
}

// Lines of another laptop that this one held when it wrote cannot be taken out of the record,
// all of its log or the newest, with everything derived made again.
func TestWhatOthersWroteCannotBeTakenOut(t *testing.T) {
	for _, whole := range []bool{true, false} {
		other, _ := newRecord(t)
		v := begin(t, other, saveHorse(t, other, "Bracken").ID, day())
		appendAll(t, other, append(answers(v.ID, 3, day()), closing(v.ID, day())))
		lines := segmentsOf(t, other)
		upTo := lines[len(lines)-1].Last()
		begin(t, other, saveHorse(t, other, "Pip").ID, day())

		r, err := storage.Open(t.TempDir(), storage.Options{})
		require.NoError(t, err)
		_, err = r.Adopt(context.Background(), feed(segmentsOf(t, other)))
		require.NoError(t, err)
		begin(t, r, saveHorse(t, r, "Alder").ID, day())
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
		left := 2
		if whole {
			upTo, left = 0, 1
		}
		require.NoError(t, r.Forget(upTo, left))
		_, _, err = r.Rebuild(context.Background())
		require.NoError(t, err)
		report, err = r.Check(context.Background())
		require.NoError(t, err)
		assertBroken(t, report, "and that is not here")
		require.NoError(t, r.Close())
	}
}

func assertBroken(t *testing.T, report storage.Report, says string) {
	t.Helper()
	require.False(t, report.OK)
	var said []string
	for _, b := range report.Broken {
		said = append(said, b.What)
	}
	assert.Contains(t, strings.Join(said, "\n"), says)
	_, ok := report.First()
	assert.True(t, ok)
}

// everyKind is a record with one line of each kind, opened again so that the mark beside
// it knows all of them.
func everyKind(t *testing.T) (r *storage.Record, visits []exam.VisitID, dir string) {
	t.Helper()
	dir = t.TempDir()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	closed, open := fill2(t, r)
	require.NoError(t, r.AddToRound(roundLine(horsesOf(t, r)[0], "2026-03-01", "owner rang")))
	require.NoError(t, r.SaveSettings(exam.Settings{Person: "Ann"}))
	require.NoError(t, r.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte("8"), By: "Ann", At: day()}))
	require.NoError(t, r.Close())
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	return r, []exam.VisitID{closed, open}, dir
}

func TestSettingsThatNobodySavedShow(t *testing.T) {
	r, _, _ := everyKind(t)
	require.NoError(t, r.SavedSettings([]byte(`{"person":"Bob"}`)))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assertBroken(t, report, "the settings in use are not the ones that were saved")
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
		assert.Contains(t, report.Broken[0].What, "records 5 to 6")
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
	assert.EqualValues(t, 1, r.Missing()[0].From, "of the log that the machine went on in")
	require.NoError(t, r.Close())

	// A count that was cut says nothing.
	require.NoError(t, os.WriteFile(filepath.Join(dir, storage.CountName), []byte("loosebox mach"), 0o600))
	r, err = storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	assert.Empty(t, r.Missing())
	require.NoError(t, r.Close())
}
