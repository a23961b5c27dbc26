package storage_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/storage"
)

// FuzzRows feeds the readers of rows with what a broken disk may hold under a
// right sum: an error or a row, never a panic.
func FuzzRows(f *testing.F) {
	f.Add([]byte{})
	f.Add(make([]byte, 53))
	f.Add(make([]byte, 85))
	f.Add(make([]byte, 88))
	f.Add([]byte{0x84, 0xa0, 0x40, 0x40, 0x40})
	f.Add([]byte{0xbf, 0x62, 'i', 'd', 0xff})
	f.Fuzz(func(_ *testing.T, data []byte) { storage.DecodeEvery(data) })
}

// FuzzKeyFiles opens a record beside a key and a count of any content: it opens,
// with another key where this one is none, and nothing in it is lost.
func FuzzKeyFiles(f *testing.F) {
	for _, text := range []string{
		"", "loosebox machine key 1\n", "loosebox machine key 1\nzz\n", "loosebox machine count 1\n00 5 00\n",
		"loosebox machine key 1\n9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60\n",
		"loosebox machine count 1\n00000000000000000000000000000000 18446744073709551615 0000000000000000000000000000000000000000000000000000000000000000\n",
	} {
		f.Add([]byte(text), []byte(text))
	}
	dir := f.TempDir()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(f, err)
	saveHorse(f, r, "Bracken")
	require.NoError(f, r.Close())
	f.Fuzz(func(t *testing.T, key, count []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, storage.KeyName), key, 0o600))
		require.NoError(t, os.WriteFile(filepath.Join(dir, storage.CountName), count, 0o600))
		r, err := storage.Open(dir, storage.Options{})
		require.NoError(t, err)
		list, err := r.Horses()
		require.NoError(t, err)
		require.Len(t, list, 1)
		require.NoError(t, r.Close())
		kept, err := filepath.Glob(filepath.Join(dir, storage.KeyName+".broken-*"))
		require.NoError(t, err)
		for _, name := range kept {
			require.NoError(t, os.Remove(name))
		}
	})
}
