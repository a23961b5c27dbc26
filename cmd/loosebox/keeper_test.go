package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"filippo.io/age"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// A stick that is not there, or vanishes half way, is a sentence: the answer is
// stored, nobody waits, and the next closed visit is backed up again.
func TestAVanishedStickIsASentence(t *testing.T) {
	dir, stick := t.TempDir(), filepath.Join(t.TempDir(), "stick")
	e := &env{errOut: os.Stderr, now: time.Now, lookup: func(string) string { return "" }, dir: dir}
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, r.Close()) }()
	id, err := age.GenerateX25519Identity()
	require.NoError(t, err)
	require.NoError(t, r.SaveSettings(exam.Settings{BackupFolder: stick, BackupRecipient: id.Recipient().String()}))
	k := e.keep(r)
	said := make(chan string, 10)
	k.tellBy(func(text string) { said <- text })

	h, err := k.SaveHorse(exam.Horse{Revision: 1, Name: "Bracken", Kind: exam.AnimalPony}, "Ann", e.now())
	require.NoError(t, err)
	visit := func() exam.VisitID {
		v, err := k.Begin(exam.Entry{Kind: exam.EntryOpened, At: e.now(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full"}})
		require.NoError(t, err)
		_, err = k.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: e.now(), By: "Ann"})
		require.NoError(t, err)
		return v.ID
	}
	id1 := visit()
	assert.Contains(t, <-said, "(is the stick in the machine?). Every answer is saved here.")
	v, err := k.Visit(id1)
	require.NoError(t, err)
	assert.True(t, v.Closed())

	require.NoError(t, os.Mkdir(stick, 0o700))
	visit()
	require.Eventually(t, func() bool {
		list, err := filepath.Glob(filepath.Join(stick, "*.age"))
		return err == nil && len(list) == 1
	}, 30*time.Second, 10*time.Millisecond)

	require.NoError(t, os.RemoveAll(stick))
	_, err = k.Append(exam.Entry{
		Visit: id1, Kind: exam.EntryAdded, At: e.now(), By: "Ann", Note: "owner rang", Amend: &exam.Amendment{Why: "told later"},
	})
	require.NoError(t, err, "what comes after the closing asks for a backup too")
	text := <-said
	if strings.Contains(text, "is not there any more") { // the backup before was looked at once more as the stick was pulled
		text = <-said
	}
	assert.Contains(t, text, "is the stick in the machine?")

	require.NoError(t, r.SaveSettings(exam.Settings{BackupFolder: stick}))
	_, _, err = k.Strike(exam.Entry{Visit: id1, Kind: exam.EntryStruck, At: e.now(), By: "Ann", Amend: &exam.Amendment{Why: "wrong horse"}}, "")
	require.NoError(t, err)
	assert.Contains(t, <-said, "loosebox backup --new-key makes one")
	k.finish()
	k.kick() // a straggler after the end finds nobody and harms nobody
}
