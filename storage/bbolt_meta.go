package storage

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
)

// meta is what bbolt writes at the end of a commit, into one of two pages in turns.
type meta struct {
	pageSize       int
	root, freelist uint64
	end            uint64 // pages from here on were never used
	txid           uint64
}

// readMeta reads both meta pages and returns the newer. A commit writes one of them in one small
// write, so both are whole at any time; going on with the older one would lose an accepted answer
// without a word. They are one commit apart. In a copy (see Copy) the older one is made up, and the
// first commit after it may overwrite the newer one, so that the two are two commits apart until
// the next.
func readMeta(f io.ReaderAt) (meta, error) {
	first, err := readOneMeta(f, 0)
	if err != nil {
		return first, err
	}
	second, err := readOneMeta(f, int64(first.pageSize))
	if err != nil {
		return second, err
	}
	newer, older := first, second
	if second.txid > first.txid {
		newer, older = second, first
	}
	if first.pageSize != second.pageSize || newer.txid-older.txid > 2 || newer.end < 4 {
		return newer, damaged("its two beginnings do not fit together")
	}
	return newer, nil
}

// readMetaOf reads the meta page of the transaction that a reader of the file is in.
func readMetaOf(f io.ReaderAt, txid uint64) (meta, error) {
	first, err := readOneMeta(f, 0)
	if err != nil {
		return first, err
	}
	if first.txid == txid {
		return first, nil
	}
	second, err := readOneMeta(f, int64(first.pageSize))
	if err == nil && second.txid != txid {
		err = errMoved
	}
	return second, err
}

// errMoved says that two transactions were committed before the reader looked at its meta page.
var errMoved = errors.New("the file was written to meanwhile")

func readOneMeta(f io.ReaderAt, at int64) (meta, error) {
	buf := make([]byte, pageHeader+metaSize)
	if _, err := f.ReadAt(buf, at); err != nil {
		return meta{}, damaged("its beginning cannot be read (%v)", err)
	}
	body, order := buf[pageHeader:], binary.NativeEndian
	check := fnv.New64a()
	_, _ = check.Write(body[:metaSize-8]) // a hash takes everything
	m := meta{
		pageSize: int(order.Uint32(body[8:])),
		root:     order.Uint64(body[16:]),
		freelist: order.Uint64(body[32:]),
		end:      order.Uint64(body[40:]),
		txid:     order.Uint64(body[48:]),
	}
	if order.Uint32(body) != metaMagic || order.Uint32(body[4:]) != metaFormat || order.Uint64(body[56:]) != check.Sum64() {
		return m, damaged("its beginning is not what was written")
	}
	if m.pageSize < 512 || m.pageSize > 1<<20 || m.pageSize&(m.pageSize-1) != 0 || m.end > 1<<40 {
		return m, damaged("its beginning makes no sense")
	}
	return m, nil
}
