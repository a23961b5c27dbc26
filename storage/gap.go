package storage

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"loosebox/exam/signedlog"
)

// Gap is a part of a log that is not in the record although it was written: records
// From to To, both included.
type Gap struct {
	Log  string `json:"log"`
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
	Last string `json:"last,omitempty"` // digest of record To
}

// String says for a person which records are missing.
func (g Gap) String() string {
	which := fmt.Sprintf("records %d to %d of this machine's log %s are", g.From, g.To, g.Log)
	if g.From == g.To {
		which = fmt.Sprintf("record %d of this machine's log %s is", g.From, g.Log)
	}
	return which + " missing: an older copy replaced the record"
}

// missing compares a mark with the record; nil where nothing is missing.
func (m mark) missing(tx txn) (*Gap, error) {
	log, err := readLog(tx, m.log)
	if err != nil {
		return nil, err
	}
	gap := &Gap{Log: m.log.String(), From: m.n, To: m.n, Last: m.last.String()} // another line may be in its place
	switch {
	case log == nil:
		gap.From = 1
	case log.N < m.n:
		gap.From = log.N + 1
	}
	filled, err := gap.filled(tx)
	if err != nil || filled {
		return nil, err
	}
	return gap, nil
}

// filled says whether what was missing is here: an import may bring it, as the end of the log
// or as a branch of it.
func (g Gap) filled(tx txn) (bool, error) {
	name, err1 := hex.DecodeString(g.Log)
	last, err2 := signedlog.ParseDigest(g.Last)
	if err1 != nil || err2 != nil || len(name) != len(signedlog.ID{}) { // noted by an earlier version
		return false, nil
	}
	return holdsRecord(tx, signedlog.ID(name), g.To, last[:])
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
