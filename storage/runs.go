package storage

import (
	"encoding/binary"
	"slices"
)

// place is where a line lies: the number of its log in this file, and its record.
type place struct {
	log uint32
	n   uint64
}

func (p place) key() []byte {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint32(make([]byte, 0, 12), p.log), p.n)
}

func splitPlace(key []byte) (place, bool) {
	if len(key) != 12 {
		return place{}, false
	}
	return place{binary.BigEndian.Uint32(key), binary.BigEndian.Uint64(key[4:])}, true
}

// run is lines of one log that follow each other.
type run struct {
	place
	count uint64
}

// runs are where the lines of one thing are.
type runs []run

// with adds a line to the last run, or begins another.
func (r runs) with(p place) runs {
	if n := len(r); n > 0 && r[n-1].log == p.log && r[n-1].n+r[n-1].count == p.n {
		r[n-1].count++
		return r
	}
	return append(r, run{p, 1})
}

// without leaves a line out.
func (r runs) without(p place) runs {
	for i, one := range r {
		if one.log != p.log || p.n < one.n || p.n >= one.n+one.count {
			continue
		}
		var parts runs
		if p.n > one.n {
			parts = append(parts, run{one.place, p.n - one.n})
		}
		if end := one.n + one.count; p.n+1 < end {
			parts = append(parts, run{place{p.log, p.n + 1}, end - p.n - 1})
		}
		return slices.Concat(r[:i], parts, r[i+1:])
	}
	return r
}

func (r runs) append(b []byte) []byte {
	for _, one := range r {
		b = binary.AppendUvarint(b, uint64(one.log))
		b = binary.AppendUvarint(b, one.n)
		b = binary.AppendUvarint(b, one.count)
	}
	return b
}

func decodeRuns(data []byte) (runs, error) {
	var out runs
	for len(data) > 0 {
		var v [3]uint64
		for i := range v {
			n, size := binary.Uvarint(data)
			if size <= 0 {
				return nil, damaged("the places of lines are out of shape")
			}
			v[i], data = n, data[size:]
		}
		out = append(out, run{place{uint32(v[0]), v[1]}, v[2]})
	}
	return out, nil
}

// readRuns reads where the lines of a horse or a day are.
func readRuns(tx txn, bucket string, key []byte) (runs, error) {
	data, err := getRow(tx, bucket, key)
	if err != nil {
		return nil, err
	}
	return decodeRuns(data)
}

// addRun notes one more line of a horse or a day.
func addRun(tx txn, bucket string, key []byte, p place) error {
	r, err := readRuns(tx, bucket, key)
	if err != nil {
		return err
	}
	return putRow(tx, bucket, key, r.with(p).append(nil))
}

// logs is how many logs the lines are in.
func (r runs) logs() int {
	set := map[uint32]bool{}
	for _, one := range r {
		set[one.log] = true
	}
	return len(set)
}

// lines is how many lines there are.
func (r runs) lines() int {
	n := uint64(0)
	for _, one := range r {
		n += one.count
	}
	return int(min(n, 1<<31))
}
