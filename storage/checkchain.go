package storage

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"

	"loosebox/exam"
)

// chains checks the chain of every machine against the lines of the record, and
// the signatures of closed visits against both.
type chains struct {
	*Report
	ctx     context.Context
	public  map[id][]byte           // key of every machine
	covered map[id]map[int]struct{} // entries and revisions that a link names
	upTo    map[id]int              // entries from 1 on that one link covers
	closed  map[id]int              // entry from which a visit is closed, and signed for
}

// check walks the chains; tx is in the book of visits.
func (c *chains) check(tx txn) error {
	parts := []func(txn) error{c.machines, c.links, c.uncovered, c.signatures, c.gaps}
	for _, part := range parts {
		if err := guarded(func() error { return part(tx) }); err != nil && !c.note("", err) {
			return err
		}
	}
	return nil
}

func (c *chains) machines(tx txn) error {
	return eachRow(tx, bucketMachines, func(key, public []byte) error {
		c.Machines++
		if len(key) != 16 || len(public) != 32 || nameOf(public) != id(key) {
			c.note("", damaged("the key of a machine is not what was written"))
			return nil
		}
		c.public[id(key)] = bytes.Clone(public)
		return nil
	})
}

// links walks every chain from its first link to its last.
func (c *chains) links(tx txn) error {
	var machine id
	var last link
	whole := true // the chain up to here
	return eachRow(tx, bucketChain, func(key, data []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		if len(key) != 24 {
			return damaged("a line of a machine has a wrong key")
		}
		if id(key[:16]) != machine {
			machine, last, whole = id(key[:16]), link{}, true
			if c.public[machine] == nil {
				c.note("", damaged("machine %s has lines and no key", machine))
			}
		}
		c.Lines++
		l, err := decodeLink(binary.BigEndian.Uint64(key[16:]), data)
		if err != nil {
			c.note("", err)
			whole = false
			return nil
		}
		c.link(tx, machine, last, l, &whole)
		last = l
		return nil
	})
}

// link checks one link behind the one before it, and the line that it names.
func (c *chains) link(tx txn, machine id, before, l link, whole *bool) {
	want := l
	want.seal(machine, before.sum)
	switch {
	case l.count != before.count+1:
		c.line(l, "lines %d to %d of machine %s are missing", before.count+1, l.count-1, machine)
		*whole = false
	case l.sum != want.sum && *whole:
		c.line(l, "line %d of machine %s, %s, does not follow the line before it", l.count, machine, l.lineWords())
		*whole = false
	}
	name := bucketEntries
	if l.kind == linkHorse {
		name = bucketHorses
	}
	b, err := bucket(tx, name)
	if err != nil {
		c.note("", err)
		return
	}
	row := b.Get(l.what.numbered(l.number))
	switch {
	case row == nil:
		c.line(l, "%s, line %d of machine %s, is missing", l.lineWords(), l.count, machine)
	case len(row) < 32 || !bytes.Equal(row[:32], l.digest):
		c.line(l, "%s is not what machine %s wrote as its line %d", l.lineWords(), machine, l.count)
	}
	if l.kind == linkVisit {
		c.upTo[l.what] = max(c.upTo[l.what], l.number)
		return
	}
	if c.covered[l.what] == nil {
		c.covered[l.what] = map[int]struct{}{}
	}
	c.covered[l.what][l.number] = struct{}{}
}

// line reports a link by the line of the record that it is about.
func (c *chains) line(l link, format string, args ...any) {
	b := Broken{What: fmt.Sprintf(format, args...), Line: l.count}
	if l.kind != linkHorse {
		b.Visit, b.Seq = l.what.String(), l.number
	}
	c.Broken = append(c.Broken, b)
}

// uncovered finds lines that no machine's chain names.
func (c *chains) uncovered(tx txn) error {
	for _, name := range []string{bucketHorses, bucketEntries} {
		err := eachStored(c.ctx, tx, name, func(key, _ []byte) error {
			what, number, ok := splitNumbered(key)
			if !ok || number <= c.upTo[what] {
				return nil
			}
			if _, ok := c.covered[what][number]; ok {
				return nil
			}
			b := Broken{What: fmt.Sprintf("revision %d of horse %s is on no machine's chain", number, what)}
			if name == bucketEntries {
				b = Broken{Visit: what.String(), Seq: number, What: "it is on no machine's chain"}
			}
			c.Broken = append(c.Broken, b)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// signatures checks every signature, and that each closed visit has one for every
// line since it was closed.
func (c *chains) signatures(tx txn) error {
	have := map[id]map[int]bool{}
	err := eachRow(tx, bucketSignatures, func(key, data []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		visit, seq, ok := splitNumbered(key)
		if !ok {
			return damaged("a signature has a wrong key")
		}
		c.Signatures++
		if have[visit] == nil {
			have[visit] = map[int]bool{}
		}
		have[visit][seq] = true
		if err := c.signature(tx, visit, seq, data); err != nil {
			c.Broken = append(c.Broken, Broken{Visit: visit.String(), Seq: seq, What: err.Error()})
		}
		return nil
	})
	if err != nil {
		return err
	}
	return eachRow(tx, bucketHeads, func(key, data []byte) error {
		h, err := decodeHead(data)
		if err != nil || len(key) != 16 || !h.closed {
			return nil // said elsewhere
		}
		visit := id(key)
		for seq := max(c.closed[visit], c.upTo[visit]); seq > 0 && seq <= h.seq; seq++ {
			if !have[visit][seq] {
				c.Broken = append(c.Broken, Broken{Visit: visit.String(), Seq: seq, What: "the visit is closed and nobody's key signed for it as of here"})
			}
		}
		return nil
	})
}

func (c *chains) signature(tx txn, visit id, seq int, data []byte) error {
	s, err := decodeSignature(data)
	if err != nil {
		return err
	}
	row, err := getRow(tx, bucketChain, s.machine.counted(s.count))
	if err != nil {
		return err
	}
	if row == nil {
		return damaged("its signature is of line %d of machine %s, which is missing", s.count, s.machine)
	}
	l, err := decodeLink(s.count, row)
	if err != nil {
		return err
	}
	if l.what != visit || l.number != seq || l.kind == linkHorse {
		return damaged("its signature is of another line")
	}
	if !signed(c.public[s.machine], signedMessage(s.machine, l), s.bytes) {
		return damaged("its signature is not that of machine %s", s.machine)
	}
	return nil
}

// gaps reports what is known to be missing.
func (c *chains) gaps(tx txn) error {
	gaps, err := readGaps(tx)
	if err != nil {
		return err
	}
	for _, g := range gaps {
		c.Broken = append(c.Broken, Broken{Line: g.From, What: g.String()})
	}
	return nil
}

// String says what is missing.
func (g Gap) String() string {
	return fmt.Sprintf("lines %d to %d that machine %s had written are not here: an older copy was put in the place of the record", g.From, g.To, g.Machine)
}

// closedFrom is the entry that closed a visit; 0 where none did.
func closedFrom(list []exam.Entry) int {
	for _, e := range list {
		if e.Kind == exam.EntryClosed || e.Kind == exam.EntryStruck {
			return e.Seq
		}
	}
	return 0
}

// place says of everything that is broken where it stands on its machine's chain.
func (c *chains) place(tx txn) error {
	wanted := map[string][]int{}
	for i, b := range c.Broken {
		if visit, ok := parseID(b.Visit); ok && b.Line == 0 {
			key := string(visit.numbered(max(b.Seq, 1)))
			wanted[key] = append(wanted[key], i)
		}
	}
	if len(wanted) == 0 {
		return nil
	}
	return guarded(func() error {
		b, err := bucket(tx, bucketChain)
		if err != nil {
			return nil // said already
		}
		return b.ForEach(func(key, row []byte) error {
			if len(key) != 24 || len(row) != 4+linkSize {
				return nil
			}
			for _, i := range wanted[string(row[5:25])] {
				c.Broken[i].Line = binary.BigEndian.Uint64(key[16:])
			}
			return nil
		})
	})
}
