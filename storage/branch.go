package storage

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"slices"

	"loosebox/exam/signedlog"
)

// A key that was copied, or restored from a copy, can sign two records with the same number: the
// log then has branches. Both are kept and both count. The branch that came first to this file has
// the log's own row; each later one has a row of its own, which begins after the last record that
// it shares with its parent. Which of two came first differs between files and has no meaning:
// lines are ordered by clock, log, number and digest.

// rowOfBranch names the row of a branch by its first record.
func rowOfBranch(log signedlog.ID, first uint64, digest signedlog.Digest) signedlog.ID {
	b := append([]byte("loosebox/branch/1\x00"), log[:]...)
	b = binary.BigEndian.AppendUint64(b, first)
	sum := sha256.Sum256(append(b, digest[:]...))
	return signedlog.ID(sum[:16])
}

// branchOff makes the row of a branch that leaves a row behind a record; digest is that of
// the branch's first record. Neither row is written.
func branchOff(tx txn, from *logRow, base uint64, digest signedlog.Digest) (*logRow, error) {
	before := signedlog.Digest{}
	if base > 0 {
		var err error
		if before, err = digestAt(tx, from, base); err != nil {
			return nil, err
		}
	}
	l := &logRow{
		Namespace: from.Namespace, Public: bytes.Clone(from.Public), Nonce: bytes.Clone(from.Nonce), name: from.name,
		row: rowOfBranch(from.name, base+1, digest), Parent: from.Number, Base: base, Before: before[:],
		N: base, Last: before[:], Packed: base, PackedLast: before[:],
	}
	return l, l.enrol(tx)
}

// branches are the rows of a log: what came first, then its branches as they came.
func branches(tx txn, first *logRow) ([]*logRow, error) {
	rows := []*logRow{first}
	if !first.Branched {
		return rows, nil
	}
	err := eachLog(tx, func(l *logRow) error {
		if l.name == first.name && l.row != first.row {
			rows = append(rows, l)
		}
		return nil
	})
	slices.SortFunc(rows, func(a, b *logRow) int { return cmp.Compare(a.Number, b.Number) })
	return rows, err
}

// lineage is the rows through which a branch's records run, itself first, each up to a record.
func lineage(tx txn, l *logRow) ([]run, error) {
	out := []run{{place{l.Number, 1}, l.N}}
	for l.Parent > 0 {
		base := min(l.Base, out[len(out)-1].count)
		parent, err := numberedLog(tx, l.Parent)
		if err != nil {
			return nil, err
		}
		if parent.Number >= l.Number || parent.name != l.name {
			return nil, damaged("a branch of log %s has no parent", l.name)
		}
		out = append(out, run{place{parent.Number, 1}, base})
		l = parent
	}
	return out, nil
}

// common is the last record that two rows of one log have in common; 0 for none.
func common(tx txn, a, b *logRow) (uint64, error) {
	one, err := lineage(tx, a)
	if err != nil {
		return 0, err
	}
	two, err := lineage(tx, b)
	if err != nil {
		return 0, err
	}
	for _, x := range one {
		for _, y := range two {
			if x.log == y.log {
				return min(x.count, y.count), nil
			}
		}
	}
	return 0, nil
}

// holds says whether the record of a row, or of what it branched from, has a digest that
// begins with some bytes.
func (l *logRow) holds(tx txn, n uint64, digest []byte) (bool, error) {
	if n == 0 || n > l.N {
		return false, nil
	}
	d, err := digestAt(tx, l, n)
	return err == nil && bytes.HasPrefix(d[:], digest), err
}

// fits says how far some verified records go along with a row: the last number whose digest
// is the same, and whether there is one. Digests cover all records before.
func (l *logRow) fits(tx txn, s signedlog.Segment, digests []signedlog.Digest) (upTo uint64, ok bool, err error) {
	at := func(n uint64) (bool, error) {
		switch {
		case n == 0:
			return true, nil
		case n < s.First:
			return l.holds(tx, n, s.Prev[:])
		}
		return l.holds(tx, n, digests[n-s.First][:])
	}
	low, high := s.First-1, min(s.Last(), l.N)
	if high < low {
		return 0, false, nil
	}
	if ok, err = at(high); err != nil || ok {
		return high, ok, err
	}
	if ok, err = at(low); err != nil || !ok {
		return 0, false, err
	}
	for high-low > 1 { // low fits, high does not
		mid := low + (high-low)/2
		if ok, err = at(mid); err != nil {
			return 0, false, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, true, nil
}

// rowFor is the row of a log that some verified records go on from, and the last record that
// both have. Where that is not the row's end and more follows, they are a branch. It is nil
// where no row holds the record before them.
func rowFor(tx txn, first *logRow, s signedlog.Segment, digests []signedlog.Digest) (row *logRow, upTo uint64, err error) {
	rows, err := branches(tx, first)
	if err != nil {
		return nil, 0, err
	}
	for _, l := range rows {
		n, ok, err := l.fits(tx, s, digests)
		if err != nil {
			return nil, 0, err
		}
		if ok && (row == nil || n > upTo || n == upTo && n == l.N) {
			row, upTo = l, n
		}
	}
	return row, upTo, nil
}

// leaves checks that the record after which a branch begins is in the other row.
func leaves(tx txn, l *logRow) error {
	parent, err := numberedLog(tx, l.Parent)
	if err != nil {
		return err
	}
	ok := parent.name == l.name && parent.Number < l.Number
	if ok && l.Base > 0 {
		ok, err = parent.holds(tx, l.Base, l.Before)
	}
	if err == nil && !ok {
		err = damaged("the branch of log %s behind record %d leaves nothing that is here", l.name, l.Base)
	}
	return err
}

// mixed notes the visits and horses with lines both in a log that has branches and in other logs:
// what their writers held of each other depends on which branches are here.
func (a *adoption) mixed(tx txn) error {
	if len(a.branched[tx.namespace]) == 0 {
		return nil
	}
	numbers := map[uint32]bool{}
	err := eachLog(tx, func(l *logRow) error {
		if a.branched[tx.namespace][l.name] {
			numbers[l.Number] = true
		}
		return nil
	})
	if err != nil {
		return err
	}
	of := func(where runs) bool {
		return where.logs() > 1 && slices.ContainsFunc(where, func(r run) bool { return numbers[r.log] })
	}
	err = eachRow(tx, bucketVisits, func(key, data []byte) error {
		h, err := decodeHead(data)
		if err == nil && of(h.where) {
			note(a.visits, tx.namespace, id(key))
		}
		return err
	})
	if err != nil {
		return err
	}
	return eachRow(tx, bucketHorseLines, func(key, data []byte) error {
		where, err := decodeRuns(data)
		if err == nil && of(where) {
			note(a.horses, tx.namespace, id(key))
		}
		return err
	})
}

// branch makes the row of records that leave a row behind its record held.
func (a *adoption) branch(tx txn, first, from *logRow, held uint64, digest signedlog.Digest) (*logRow, error) {
	if err := doubtOwn(tx, first, true); err != nil {
		return nil, err
	}
	log, err := branchOff(tx, from, held, digest)
	if err != nil {
		return nil, err
	}
	a.done.Branches = append(a.done.Branches, Branch{Log: first.name.String(), Fingerprint: signedlog.Fingerprint(first.Public), From: held + 1})
	if first.Branched {
		return log, nil
	}
	first.Branched = true
	return log, first.write(tx)
}

// digestAt is the digest of a record of a row, or of what it branched from.
func digestAt(tx txn, log *logRow, n uint64) (signedlog.Digest, error) {
	switch {
	case n == log.N:
		return log.last(), nil
	case n == log.Base && n > 0:
		return digestOf(log.Before), nil
	}
	var d signedlog.Digest
	err := readRun(tx, log, run{place{log.Number, n}, 1}, func(l line) {
		d, _ = signedlog.ParseDigest(string(l.identity)) // it was made from one
	})
	return d, err
}
