package storage

import (
	"encoding/binary"
	"io"
)

// The parts of the file's format that are looked at here: go.etcd.io/bbolt,
// internal/common, page.go and meta.go (magic, format 2, both meta pages, page
// headers of 16 bytes, elements of 16 bytes). Numbers are in the machine's order.
const (
	pageHeader  = 16
	pageElement = 16
	metaSize    = 64
	metaMagic   = 0xED0CDAED
	metaFormat  = 2

	flagBranch   = 0x01
	flagLeaf     = 0x02
	flagFreelist = 0x10

	flagBucket   = 0x01 // of a leaf element: its value is a bucket
	bucketHeader = 16   // root page and sequence
)

// maxKey is longer than any key of the record.
const maxKey = 1 << 10

// maxDepth bounds the tree; ten levels hold more than any disk.
const maxDepth = 24

// pages is one look at a file that nobody writes meanwhile. A library that
// maps the file into memory believes what the pages say of each other; a
// branch that leads back to itself would end the program, a free list with a
// flipped bit would let live pages be written over. So they are looked at here
// first, by plain reads.
type pages struct {
	file io.ReaderAt
	meta
	deep  bool
	taken []uint64 // one bit a page
	free  []uint64
	count uint64 // pages taken or free

	buffers [][]byte // one a level
	lists   [][]element
}

// inspect looks at the pages of the file: both meta pages, the free list and
// every branch; deep also at every leaf, and that each page belongs to exactly
// one thing. No writer may be at work.
func (r *Record) inspect(deep bool) error {
	m, err := readMeta(r.file)
	if err != nil {
		return err
	}
	return r.inspectAt(m, deep)
}

// inspectAt looks at the pages that a beginning leads to. None of them may change
// meanwhile.
func (r *Record) inspectAt(m meta, deep bool) error {
	info, err := r.file.Stat()
	if err != nil {
		return err
	}
	if uint64(info.Size()) < m.end*uint64(m.pageSize) {
		return damaged("the file is cut: %d bytes are there, %d were written", info.Size(), m.end*uint64(m.pageSize))
	}
	p := &pages{file: r.file, meta: m, deep: deep, taken: make([]uint64, m.end/64+1), free: make([]uint64, m.end/64+1)}
	if err := p.readFree(); err != nil {
		return err
	}
	if err := p.tree(m.root, 0, true); err != nil {
		return err
	}
	if deep && p.count != m.end-2 {
		return damaged("of %d pages %d belong to something", m.end-2, p.count)
	}
	return nil
}

// page is a page's header and its first bytes, all of them where it was read whole.
type page struct {
	no           uint64
	flags, count int
	extra        uint64 // further pages that belong to it
	size         int    // bytes of all of them
	data         []byte
}

// read reads a page into the buffer of its level; whole reads the further
// pages too. The bytes stay until the level is read again.
func (p *pages) read(no uint64, level int, whole bool) (page, error) {
	if no < 2 || no >= p.end {
		return page{}, damaged("page %d is not in the file", no)
	}
	data, err := p.fill(no, level, p.pageSize)
	if err != nil {
		return page{}, err
	}
	order := binary.NativeEndian
	g := page{no: no, flags: int(order.Uint16(data[8:])), count: int(order.Uint16(data[10:])), extra: uint64(order.Uint32(data[12:])), data: data}
	if order.Uint64(data) != no || g.extra >= p.end-no {
		return g, damaged("page %d is another page", no)
	}
	g.size = int(g.extra+1) * p.pageSize
	if table := pageHeader + g.count*pageElement; table > len(data) && table <= g.size {
		whole = true
	}
	if whole && g.extra > 0 {
		g.data, err = p.fill(no, level, g.size)
	}
	return g, err
}

func (p *pages) fill(no uint64, level, size int) ([]byte, error) {
	for len(p.buffers) <= level {
		p.buffers = append(p.buffers, nil)
	}
	if cap(p.buffers[level]) < size {
		p.buffers[level] = make([]byte, size)
	}
	data := p.buffers[level][:size]
	if _, err := p.file.ReadAt(data, int64(no)*int64(p.pageSize)); err != nil {
		return nil, damaged("page %d cannot be read (%v)", no, err)
	}
	return data, nil
}

// key returns size bytes at a place of a page, from the file where they lie
// beyond what was read.
func (p *pages) key(g page, at, size int) ([]byte, error) {
	if at+size <= len(g.data) {
		return g.data[at : at+size], nil
	}
	if size > maxKey {
		return nil, damaged("a key of page %d is too long", g.no)
	}
	key := make([]byte, size)
	if _, err := p.file.ReadAt(key, int64(g.no)*int64(p.pageSize)+int64(at)); err != nil {
		return nil, damaged("page %d cannot be read (%v)", g.no, err)
	}
	return key, nil
}

// take marks pages as belonging to something; none belongs to two things.
func (p *pages) take(no, n uint64) error {
	for i := no; i < no+n; i++ {
		word, bit := i/64, uint64(1)<<(i%64)
		if i < 2 || i >= p.end || (p.taken[word]|p.free[word])&bit != 0 {
			return damaged("page %d belongs to two things", i)
		}
		p.taken[word] |= bit
	}
	p.count += n
	return nil
}

// readFree reads the list of free pages.
func (p *pages) readFree() error {
	g, err := p.read(p.freelist, 0, true)
	if err != nil {
		return err
	}
	if g.flags != flagFreelist {
		return damaged("the list of free pages is no such list")
	}
	order, at, n := binary.NativeEndian, pageHeader, uint64(g.count)
	if n == 0xFFFF {
		n, at = order.Uint64(g.data[pageHeader:]), pageHeader+8
	}
	if n > uint64(len(g.data)-at)/8 {
		return damaged("the list of free pages is too long")
	}
	last := uint64(1)
	for i := range n {
		no := order.Uint64(g.data[uint64(at)+8*i:])
		if no <= last || no >= p.end {
			return damaged("the list of free pages is out of order")
		}
		p.free[no/64] |= 1 << (no % 64)
		last = no
	}
	p.count += n
	return p.take(p.freelist, g.extra+1)
}
