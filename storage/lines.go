package storage

import (
	"bytes"
	"cmp"
	"errors"
	"slices"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// line is one line as it is read back.
type line struct {
	place
	log      *logRow
	identity exam.Hash
	signedlog.Record
}

// read decodes the line's JSON.
func (l line) read(kind exam.LineKind, into any) error {
	if err := exam.ReadLine(kind, l.Body, into); err != nil {
		return damaged("record %d of log %s: %v", l.n, l.log.name, err)
	}
	return nil
}

// compare orders lines for reading: by their clocks, then by log, number and digest. The order
// is the same on every machine, and a line comes after all that its writer had seen.
func (l line) compare(o line) int {
	return cmp.Or(cmp.Compare(l.Counter, o.Counter), bytes.Compare(l.log.name[:], o.log.name[:]), cmp.Compare(l.n, o.n), cmp.Compare(l.identity, o.identity))
}

// errEnough ends a walk over rows before the last one; it is not returned to callers.
var errEnough = errors.New("enough")

// readLines reads the lines of runs in the order in which they are read.
func readLines(tx txn, where runs) ([]line, error) {
	var out []line
	logs := map[uint32]*logRow{}
	for _, r := range where {
		log := logs[r.log]
		if log == nil {
			var err error
			if log, err = numberedLog(tx, r.log); err != nil {
				return nil, err
			}
			logs[r.log] = log
		}
		if r.n == 0 || r.count > log.N || r.n+r.count-1 > log.N {
			return nil, damaged("records %d to %d of log %s are not there", r.n, r.n+r.count-1, log.name)
		}
		err := readRun(tx, log, r, func(l line) { out = append(out, l) })
		if err != nil {
			return nil, err
		}
	}
	if len(logs) > 1 || !slices.IsSortedFunc(out, line.compare) {
		slices.SortFunc(out, line.compare)
	}
	return out, nil
}

// readRun reads records of a row, and of what it branched from.
func readRun(tx txn, log *logRow, r run, take func(line)) error {
	n, end := r.n, r.n+r.count
	if n <= log.Base {
		parent, err := numberedLog(tx, log.Parent)
		if err != nil {
			return err
		}
		if parent.Number >= log.Number {
			return damaged("a branch of log %s has no parent", log.name)
		}
		upTo := min(end, log.Base+1)
		if err := readRun(tx, parent, run{place{parent.Number, n}, upTo - n}, take); err != nil {
			return err
		}
		n = upTo
	}
	for n < end && n <= log.Packed {
		s, err := packOf(tx, log, n)
		if err != nil {
			return err
		}
		for ; n < end && n <= s.Last(); n++ {
			i := n - s.First
			if err := takeLine(log, n, s.digests[i], s.Cores[i], take); err != nil {
				return err
			}
		}
	}
	if n >= end {
		return nil
	}
	err := eachTail(tx, log, n, func(p place, digest signedlog.Digest, core []byte) error {
		if p.n >= end {
			return errEnough
		}
		n++
		return takeLine(log, p.n, digest, bytes.Clone(core), take)
	})
	if errors.Is(err, errEnough) {
		err = nil
	}
	if err == nil && n < end {
		err = damaged("records %d to %d of log %s are missing", n, end-1, log.name)
	}
	return err
}

func takeLine(log *logRow, n uint64, digest signedlog.Digest, core []byte, take func(line)) error {
	rec, err := signedlog.ParseCore(core)
	if err != nil {
		return damaged("record %d of log %s: %v", n, log.name, err)
	}
	take(line{place: place{log.Number, n}, log: log, identity: exam.Hash(digest.String()), Record: rec})
	return nil
}

// packOf reads the pack that holds a record.
func packOf(tx txn, log *logRow, n uint64) (opened, error) {
	if p, ok := tx.packs.find(log.Number, n); ok {
		return p, nil
	}
	p := opened{log: log.Number}
	packs, err := bucket(tx, bucketPacks)
	if err != nil {
		return p, err
	}
	key, row := packs.Cursor().Seek(place{log.Number, n}.key())
	if at, ok := splitPlace(key); !ok || at.log != log.Number {
		return p, damaged("record %d of log %s is missing", n, log.name)
	}
	data, err := openRow(bucketPacks, key, row)
	if err != nil {
		return p, err
	}
	if p.Segment, err = readPack(log, key, data); err != nil {
		return p, err
	}
	if n < p.First || n > p.Last() { // a page whose keys are out of order finds an earlier one
		return p, damaged("record %d of log %s is missing", n, log.name)
	}
	p.digests = p.Digests()
	tx.packs.keep(p)
	return p, nil
}
