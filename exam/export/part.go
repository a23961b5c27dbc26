package export

import (
	"cmp"
	"encoding/hex"
	"errors"
	"fmt"

	jsonv2 "github.com/go-json-experiment/json"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
)

// part is a segment of which the records are read later.
type part struct {
	segment signedlog.Segment
	text    []byte // of its records
	ends    []int  // of each in the text
	at      []int  // the line of each in the file
	last    int    // the last one's
	wrongAt int
	wrong   error
}

// segmentOf is a segment without its records.
func segmentOf(row segmentRow) (signedlog.Segment, error) {
	g := signedlog.Segment{Rehearsals: row.Rehearsals, First: row.First}
	if row.Records < 1 || row.Records > maxRecords || row.First < 1 {
		return g, errors.New("a part of a log has no records")
	}
	for _, f := range []struct {
		what, text string
		into       []byte
	}{{"log", row.Log, g.Log[:]}, {"nonce", row.Nonce, g.Nonce[:]}, {"before", row.Before, g.Prev[:]}} {
		if b, err := hex.DecodeString(f.text); err != nil || copy(f.into, b) != len(f.into) || len(b) != len(f.into) {
			return g, fmt.Errorf("%q is not what %q must be", notation.CleanLine(f.text, 40), f.what)
		}
	}
	var err1, err2 error
	g.Public, err1 = hex.DecodeString(row.Key)
	g.Signature, err2 = hex.DecodeString(row.Signature)
	if err1 != nil || err2 != nil {
		return g, errors.New("key or signature of a part of a log are not hex")
	}
	return g, nil
}

// read reads the records. One that cannot be read, or is out of shape, stays empty: the
// segment will not verify, and the others are not touched by it.
func (p *part) read() {
	from := 0
	p.segment.Cores = make([][]byte, len(p.ends))
	for i, end := range p.ends {
		var row recordRow
		err := jsonv2.Unmarshal(p.text[from:end], &row)
		if from = end; err != nil {
			err = fmt.Errorf("a line cannot be read (%w)", err)
		} else {
			p.segment.Cores[i], err = row.core()
		}
		if err != nil && p.wrong == nil {
			p.wrongAt, p.wrong = p.at[i], err
		}
	}
}

// core is the record as it was signed.
func (row recordRow) core() ([]byte, error) {
	body := []byte(nil)
	for _, k := range exam.LineKinds() {
		if k == row.Line {
			body = exam.JoinLine(k, row.Body)
		}
	}
	if body == nil {
		return nil, fmt.Errorf("a line is a horse, an entry, of a round or the settings, not %q", notation.CleanLine(string(row.Line), 20))
	}
	rec := signedlog.Record{Counter: row.Counter, Body: body}
	for _, h := range row.Heads {
		log, err1 := hex.DecodeString(h.Log)
		digest, err2 := hex.DecodeString(h.Digest)
		if cmp.Or(err1, err2) != nil || len(log) != 16 || len(digest) != 8 {
			return nil, errors.New("what a record says of another log is out of shape")
		}
		rec.Heads = append(rec.Heads, signedlog.Head{Log: signedlog.ID(log), N: h.N, Digest: [8]byte(digest)})
	}
	return rec.Core(), nil
}
