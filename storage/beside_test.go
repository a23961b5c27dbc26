package storage_test

import (
	"context"
	"encoding/json"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

func beside(t *testing.T, dir string) *storage.Record {
	t.Helper()
	r, err := storage.Open(dir, storage.Options{Beside: true, MustExist: true, Wait: 50 * time.Millisecond})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, r.Close()) })
	return r
}

// While one run holds the record another reads it as it is at that moment, finds it
// sound, and can write nothing.
func TestARecordIsReadBesideTheRunThatHoldsIt(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	_, err := storage.Open(dir, storage.Options{Beside: true, MustExist: true, Wait: 50 * time.Millisecond})
	require.ErrorIs(t, err, exam.ErrInUse, "nobody answers yet")
	require.NoError(t, r.Host())
	require.NoError(t, r.Host(), "twice is once")

	seen := beside(t, dir)
	was, err := seen.Visit(v.ID)
	require.NoError(t, err)
	_, err = r.Append(exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryFinding, Step: "demeanour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"bright"}}})
	require.NoError(t, err)
	report, err := seen.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	assert.True(t, report.Writers[0].Own, "it knows the key of the folder")
	again, err := seen.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, was, again, "the moment stays")
	_, err = seen.SaveHorse(exam.Horse{Name: "Alder", Revision: 1}, "Ann", day())
	require.ErrorIs(t, err, exam.ErrInUse)

	now, err := beside(t, dir).Visit(v.ID)
	require.NoError(t, err)
	assert.Len(t, now.Findings, 1)
	left, err := filepath.Glob(filepath.Join(dir, "*.read-*"))
	require.NoError(t, err)
	if len(left) > 0 {
		t.Log("this system keeps the copies until they are closed:", left)
	}

	info, err := os.Stat(filepath.Join(dir, storage.OpenName))
	require.NoError(t, err)
	assert.Zero(t, info.Mode().Perm()&0o077, "its owner's alone")
	require.NoError(t, r.Close())
	assert.NoFileExists(t, filepath.Join(dir, storage.OpenName))
	alone, err := storage.Open(dir, storage.Options{Beside: true, MustExist: true})
	require.NoError(t, err)
	require.NoError(t, alone.SaveSettings(exam.Settings{Person: "Ann"}), "nobody holds it: it is opened itself")
	require.NoError(t, alone.Close())
}

// Readers come and go while answers are written: each of them finds a sound record that
// holds at least what was accepted before it asked.
func TestReadersBesideAWriter(t *testing.T) {
	r, dir := newRecord(t)
	require.NoError(t, r.Host())
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	stop, over := make(chan struct{}), make(chan struct{})
	written := 1
	var mu sync.Mutex
	go func() {
		defer close(over)
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
			}
			_, err := r.Append(exam.Entry{
				Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryNote, Note: strings.Repeat("x", 500+i%1500),
			})
			if !assert.NoError(t, err) {
				return
			}
			mu.Lock()
			written++
			mu.Unlock()
		}
	}()
	for range 25 {
		mu.Lock()
		least := written
		mu.Unlock()
		seen := beside(t, dir)
		got, err := seen.Visit(v.ID)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got.Entries, least)
		report, err := seen.Check(context.Background())
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
	}
	close(stop)
	<-over
}

// Who does not know the word is told nothing, a file that names another machine is not
// believed, and one that was left behind costs nothing but the wait.
func TestOnlyTheOwnerReadsBeside(t *testing.T) {
	r, dir := newRecord(t)
	require.NoError(t, r.Host())
	name := filepath.Join(dir, storage.OpenName)
	var at struct{ Address, Word string }
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &at))

	conn, err := net.Dial("tcp", at.Address)
	require.NoError(t, err)
	_, err = conn.Write([]byte(strings.Repeat("0", len(at.Word))))
	require.NoError(t, err)
	require.NoError(t, conn.SetReadDeadline(time.Now().Add(10*time.Second)))
	n, err := conn.Read(make([]byte, 1))
	assert.Zero(t, n)
	require.Error(t, err)
	require.NoError(t, conn.Close())

	for _, text := range []string{
		`{"address":"192.0.2.1:9","word":"` + at.Word + `"}`, `{"address":"127.0.0.1:1","word":"x"}`, "not JSON", "",
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
		_, err := storage.Open(dir, storage.Options{Beside: true, MustExist: true, Wait: 50 * time.Millisecond})
		require.ErrorIs(t, err, exam.ErrInUse, text)
	}
}

// A run that was killed left its file behind, and another program has its port by now: one
// that never answers, or one that says something else. The record is opened itself, and who
// writes next takes the file away.
func TestAnotherProgramAtThePort(t *testing.T) {
	was := storage.AnswerWithin(50 * time.Millisecond)
	t.Cleanup(func() { storage.AnswerWithin(was) })
	r, dir := newRecord(t)
	saveHorse(t, r, "Bracken")
	require.NoError(t, r.Close())
	for what, answer := range map[string]string{
		"silent": "", "in other words": "HTTP/1.1 400 Bad Request\r\n\r\n", "nothing": strings.Repeat("\x00", 12),
		"a longer file": "\x00\x00\x00\x00\x7f\x00\x00\x00\x00\x00\x10\x00" + strings.Repeat("A", 4096),
	} {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		require.NoError(t, err)
		over := make(chan struct{})
		go func() {
			defer close(over)
			var all []net.Conn
			for {
				conn, err := l.Accept()
				if err != nil {
					break
				}
				_, _ = conn.Write([]byte(answer)) // who asked may be gone
				all = append(all, conn)
			}
			for _, conn := range all {
				_ = conn.Close()
			}
		}()
		name := filepath.Join(dir, storage.OpenName)
		require.NoError(t, os.WriteFile(name, []byte(`{"address":"`+l.Addr().String()+`","word":"x"}`), 0o600))
		seen := beside(t, dir)
		horses, err := seen.Horses()
		require.NoError(t, err, what)
		assert.Len(t, horses, 1, what)
		require.NoError(t, seen.Close())
		left, err := filepath.Glob(filepath.Join(dir, "*.read-*"))
		require.NoError(t, err)
		assert.Empty(t, left, what)
		r, err := storage.Open(dir, storage.Options{})
		require.NoError(t, err, what)
		assert.NoFileExists(t, name, what)
		require.NoError(t, r.Close())
		require.NoError(t, l.Close())
		<-over
	}
}
