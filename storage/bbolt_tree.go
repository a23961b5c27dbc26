package storage

import (
	"bytes"
	"encoding/binary"
)

// reach bounds the keys of a page: at least low, and below high; nil for no bound.
type reach struct{ low, high []byte }

func (r reach) holds(key []byte) bool {
	return (r.low == nil || bytes.Compare(key, r.low) >= 0) && (r.high == nil || bytes.Compare(key, r.high) < 0)
}

// tree looks at one bucket's pages from its root on; the level says how many
// pages lead to it and so which buffers are in use. Only the top one holds
// buckets; its leaves are always read.
func (p *pages) tree(root uint64, level int, top bool) error {
	depth, err := p.depth(root, level)
	if err != nil {
		return err
	}
	return p.node(root, level, depth, reach{}, top)
}

// depth counts the levels above the leaves on the leftmost path; all leaves of a tree are equally
// deep.
func (p *pages) depth(no uint64, level int) (int, error) {
	for depth := range maxDepth {
		g, err := p.read(no, level, false)
		if err != nil {
			return 0, err
		}
		if g.flags == flagLeaf {
			return depth, nil
		}
		if g.flags != flagBranch || g.count < 1 {
			return 0, damaged("page %d is neither branch nor leaf", no)
		}
		no = binary.NativeEndian.Uint64(g.data[pageHeader+8:])
	}
	return 0, damaged("the pages lead round in a ring")
}

func (p *pages) node(no uint64, level, depth int, within reach, top bool) error {
	if depth == 0 && !p.deep && !top {
		// A leaf is left alone but for its place: not free, not in use twice.
		return p.take(no, 1)
	}
	g, err := p.read(no, level, top || depth > 0)
	if err != nil {
		return err
	}
	if err := p.take(no, g.extra+1); err != nil {
		return err
	}
	if depth == 0 {
		return p.leaf(g, level, within, top)
	}
	if g.flags != flagBranch || g.count < 1 {
		return damaged("page %d is no branch", no)
	}
	list, err := p.elements(g, level, within)
	if err != nil {
		return err
	}
	for i, e := range list {
		child := reach{e.key, within.high}
		if i+1 < len(list) {
			child.high = list[i+1].key
		}
		if err := p.node(e.page, level+1, depth-1, child, top); err != nil {
			return err
		}
	}
	return nil
}

func (p *pages) leaf(g page, level int, within reach, top bool) error {
	if g.flags != flagLeaf {
		return damaged("page %d is no leaf", g.no)
	}
	list, err := p.elements(g, level, within)
	if err != nil {
		return err
	}
	for _, e := range list {
		if top != (e.flags == flagBucket) || e.flags > flagBucket {
			return damaged("page %d holds what it should not", g.no)
		}
		if !top {
			continue
		}
		if len(e.value) < bucketHeader {
			return damaged("a part of the record has no beginning")
		}
		if err := p.part(g.no, level+1, e); err != nil {
			return err
		}
	}
	return nil
}

// part looks at one bucket: pages of its own, or a small page inside the value.
func (p *pages) part(no uint64, level int, e element) error {
	if root := binary.NativeEndian.Uint64(e.value); root != 0 {
		return p.tree(root, level, false)
	}
	data := e.value[bucketHeader:]
	if len(data) < pageHeader {
		return damaged("a part of the record has no page")
	}
	order := binary.NativeEndian
	inner := page{no: no, flags: int(order.Uint16(data[8:])), count: int(order.Uint16(data[10:])), size: len(data), data: data}
	return p.leaf(inner, level, reach{}, false)
}

// element is one key of a branch or leaf.
type element struct {
	key, value []byte
	page       uint64 // of a branch
	flags      uint32 // of a leaf
}

// elements reads the keys of a page: they lie one behind the other right after
// their table, in order, and within the page.
// Values are given where they were read.
func (p *pages) elements(g page, level int, within reach) ([]element, error) {
	order := binary.NativeEndian
	next := pageHeader + g.count*pageElement
	if next > len(g.data) {
		return nil, damaged("page %d says that it holds %d keys", g.no, g.count)
	}
	list := p.list(level, g.count)
	for i := range list {
		at := pageHeader + i*pageElement
		row := g.data[at : at+pageElement]
		e := &list[i]
		pos, keySize, valueSize := order.Uint32(row), order.Uint32(row[4:]), uint32(0)
		if g.flags == flagBranch {
			e.page = order.Uint64(row[8:])
		} else {
			e.flags, pos, keySize, valueSize = pos, order.Uint32(row[4:]), order.Uint32(row[8:]), order.Uint32(row[12:])
		}
		if at+int(pos) != next || int(keySize)+int(valueSize) > g.size-next {
			return nil, damaged("key %d of page %d lies outside its page", i, g.no)
		}
		var err error
		if e.key, err = p.key(g, next, int(keySize)); err != nil {
			return nil, err
		}
		next += int(keySize) + int(valueSize)
		if next <= len(g.data) {
			e.value = g.data[next-int(valueSize) : next]
		}
		if !within.holds(e.key) || i > 0 && bytes.Compare(list[i-1].key, e.key) >= 0 {
			return nil, damaged("key %d of page %d is out of order", i, g.no)
		}
	}
	return list, nil
}

// list returns the level's own list of elements, emptied.
func (p *pages) list(level, n int) []element {
	for len(p.lists) <= level {
		p.lists = append(p.lists, nil)
	}
	if cap(p.lists[level]) < n {
		p.lists[level] = make([]element, n, n+n/2)
	}
	list := p.lists[level][:n]
	clear(list)
	return list
}
