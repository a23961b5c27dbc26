package backup_test

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"filippo.io/age"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/backup"
)

// block is a tar header as it stands in the file (POSIX ustar), because the library
// writes no sparse files.
func block(name string, size int64, flag byte, magic string, more map[int]string) []byte {
	b := make([]byte, 512)
	for at, text := range map[int]string{0: name, 100: "0000600", 108: "0000000", 116: "0000000", 124: fmt.Sprintf("%011o", size), 136: "00000000000", 148: "        ", 257: magic} {
		copy(b[at:], text)
	}
	for at, text := range more {
		copy(b[at:], text)
	}
	b[156] = flag
	sum := 0
	for _, c := range b {
		sum += int(c)
	}
	copy(b[148:], fmt.Sprintf("%06o\x00 ", sum))
	return b
}

// padded fills text up to whole blocks.
func padded(text string) []byte {
	return append([]byte(text), make([]byte, (512-len(text)%512)%512)...)
}

// A sparse file is a few bytes in the backup and as many as it likes on the disk.
func TestASparseFileIsRefused(t *testing.T) {
	const expanded = 64 << 20
	record := func(key, value string) string {
		n := len(key) + len(value) + 3
		n += len(fmt.Sprint(n + len(fmt.Sprint(n))))
		return fmt.Sprintf("%d %s=%s\n", n, key, value)
	}
	pax := record("GNU.sparse.numblocks", "1") + record("GNU.sparse.size", fmt.Sprint(expanded)) + record("GNU.sparse.map", "0,4")
	const ustar = "ustar\x0000"
	for name, raw := range map[string][]byte{
		"pax": bytes.Join([][]byte{
			block("PaxHeaders/record.db", int64(len(pax)), 'x', ustar, nil), padded(pax),
			block("record.db", 4, '0', ustar, nil), padded("abcd"),
		}, nil),
		"gnu": bytes.Join([][]byte{
			block("record.db", 4, 'S', "ustar  ", map[int]string{386: "00000000000", 398: "00000000004", 483: fmt.Sprintf("%011o", expanded)}), padded("abcd"),
		}, nil),
	} {
		var b bytes.Buffer
		enc, err := age.Encrypt(&b, recipient(t))
		require.NoError(t, err)
		_, err = enc.Write(append(raw, make([]byte, 1024)...))
		require.NoError(t, errors.Join(err, enc.Close()))
		dir := t.TempDir()
		_, err = backup.Unpack(&b, dir, identity(t, phrase))
		require.ErrorIs(t, err, backup.ErrNotWhole, name)
		require.ErrorContains(t, err, `it holds "record.db", which no backup has`, name)
		assert.NoFileExists(t, dir+"/record.db", name)
	}
}
