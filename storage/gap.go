package storage

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Gap is a part of a log that is not in the record although it was written: records
// From to To, both included.
type Gap struct {
	Log  string `json:"log"`
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
}

// String says for a person which records are missing.
func (g Gap) String() string {
	return fmt.Sprintf("records %d to %d of this machine's log %s are missing: an older copy replaced the record",
		g.From, g.To, g.Log)
}

// missing compares a mark with the record; nil where nothing is missing.
func (m mark) missing(tx txn) (*Gap, error) {
	log, err := readLog(tx, m.log)
	if err != nil {
		return nil, err
	}
	switch {
	case log == nil:
		return &Gap{Log: m.log.String(), From: 1, To: m.n}, nil
	case log.N < m.n:
		return &Gap{Log: m.log.String(), From: log.N + 1, To: m.n}, nil
	}
	d, err := digestAt(tx, log, m.n)
	if err != nil {
		return nil, err
	}
	if d != m.last { // another line is in its place
		return &Gap{Log: m.log.String(), From: m.n, To: m.n}, nil
	}
	return nil, nil
}

func readGaps(tx txn) ([]Gap, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowGaps))
	if err != nil || data == nil {
		return nil, err
	}
	var gaps []Gap
	if err := json.Unmarshal(data, &gaps); err != nil {
		return nil, damaged("what is known to be missing cannot be read (%v)", err)
	}
	return gaps, nil
}

// Missing lists what was found at this opening to be missing from the record: it
// ends before lines that this machine had written. Each is found once; Check
// goes on to report it.
func (r *Record) Missing() []Gap { return slices.Clone(r.found) }
