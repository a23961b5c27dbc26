package export

import (
	"bufio"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Schema names the form of the stream; its first line carries it.
const Schema = "loosebox/export/2"

// Bounds of what is read.
const (
	maxLine    = 4 << 20  // bytes of a line; an entry has 256 kB at most
	maxPart    = 32 << 20 // of the records of a segment, which has 16 MB at most
	maxRecords = 100_000  // of a segment
)

// JSON writes segments of logs as JSON lines:
//
//	{"schema":"loosebox/export/2","teaching":false}
//	{"log":…,"key":…,"nonce":…,"rehearsals":false,"first":1,"before":…,"records":62,"signature":…}
//	{"counter":1,"heads":[{"log":…,"n":7,"digest":…}],"line":"entry","identity":…,"body":{…}}
//	{"end":true,"records":62}
//
// A line with a log is followed by its records. The body is the stored JSON itself,
// untouched; names, digests, keys and signatures are hex. "identity" is for readers: what
// counts is what the signature covers.
type JSON struct {
	w *bufio.Writer
	n int
}

// NewJSON begins a stream; teaching marks copies from which nobody is to be known again.
func NewJSON(w io.Writer, teaching bool) (*JSON, error) {
	s := &JSON{w: bufio.NewWriter(w)}
	return s, s.put(schemaRow{Schema, teaching})
}

type schemaRow struct {
	Schema   string `json:"schema"`
	Teaching bool   `json:"teaching"`
}

type segmentRow struct {
	Log        string `json:"log"`
	Key        string `json:"key"`
	Nonce      string `json:"nonce"`
	Rehearsals bool   `json:"rehearsals"`
	First      uint64 `json:"first"`
	Before     string `json:"before"`
	Records    int    `json:"records"`
	Signature  string `json:"signature"`
}

type recordRow struct {
	Counter  uint64          `json:"counter"`
	Heads    []headRow       `json:"heads,omitempty"`
	Line     exam.LineKind   `json:"line"`
	Identity string          `json:"identity"`
	Body     json.RawMessage `json:"body"`
}

type headRow struct {
	Log    string `json:"log"`
	N      uint64 `json:"n"`
	Digest string `json:"digest"`
}

type endRow struct {
	End     bool `json:"end"`
	Records int  `json:"records"`
}

func wrote(err error) error {
	if err != nil {
		return fmt.Errorf("the export could not be written whole: %w", err)
	}
	return nil
}

func (s *JSON) put(row any) error {
	b, err := json.Marshal(row)
	if err != nil {
		return wrote(err)
	}
	_, err = s.w.Write(append(b, '\n'))
	return wrote(err)
}

// Segment writes one segment and its records.
func (s *JSON) Segment(g signedlog.Segment) error { return s.Put(TextOf(g, g.Digests())) }

// SegmentText is a segment as lines of a stream.
type SegmentText struct {
	lines   []byte
	records int
	err     error
}

// Put writes a segment that was made text before.
func (s *JSON) Put(t SegmentText) error {
	if t.err != nil {
		return wrote(t.err)
	}
	s.n += t.records
	_, err := s.w.Write(t.lines)
	return wrote(err)
}

// aroundBody is about how many bytes the line of a record has beside its body: its counter,
// its kind and its identity in hex.
const aroundBody = 144

// TextOf makes text of a segment and its records, whose digests are given. It may be called
// by several goroutines.
func TextOf(g signedlog.Segment, digests []signedlog.Digest) SegmentText {
	t := SegmentText{records: len(g.Cores)}
	t.lines, t.err = json.Marshal(segmentRow{
		Log: g.Log.String(), Key: hex.EncodeToString(g.Public), Nonce: hex.EncodeToString(g.Nonce[:]), Rehearsals: g.Rehearsals,
		First: g.First, Before: g.Prev.String(), Records: len(g.Cores), Signature: hex.EncodeToString(g.Signature),
	})
	t.lines = append(t.lines, '\n')
	size := 0
	for _, core := range g.Cores {
		size += len(core) + aroundBody
	}
	t.lines = slices.Grow(t.lines, size)
	for i, d := range digests {
		if t.err != nil {
			break
		}
		t.lines, t.err = appendRecord(t.lines, g.Cores[i], d)
	}
	return t
}

// appendRecord writes the line of a record by hand: encoding would change the bytes of its
// body.
func appendRecord(b, core []byte, digest signedlog.Digest) ([]byte, error) {
	rec, err := signedlog.ParseCore(core)
	if err != nil {
		return b, err
	}
	kind, text, err := exam.SplitLine(rec.Body)
	if err != nil {
		return b, err
	}
	b = append(strconv.AppendUint(append(b, `{"counter":`...), rec.Counter, 10), `,"heads":[`...)
	for i, h := range rec.Heads {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(hex.AppendEncode(append(b, `{"log":"`...), h.Log[:]), `","n":`...)
		b = append(strconv.AppendUint(b, h.N, 10), `,"digest":"`...)
		b = append(hex.AppendEncode(b, h.Digest[:]), `"}`...)
	}
	b = append(append(append(b, `],"line":"`...), kind...), `","identity":"`...)
	b = append(hex.AppendEncode(b, digest[:]), `","body":`...)
	return append(append(b, text...), '}', '\n'), nil
}

// Close ends the stream; without it the stream counts as cut off.
func (s *JSON) Close() error {
	if err := s.put(endRow{true, s.n}); err != nil {
		return err
	}
	return wrote(s.w.Flush())
}
