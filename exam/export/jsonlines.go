package export

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"loosebox/exam"
	"loosebox/exam/bounded"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
)

// Schema names the form of the stream; its first line carries it.
const Schema = "loosebox/export/2"

// Bounds of what is read.
const (
	maxLine    = 4 << 20 // bytes of a line; an entry has 256 kB at most
	maxRecords = 100_000 // of a segment
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
func (s *JSON) Segment(g signedlog.Segment) error {
	err := s.put(segmentRow{
		Log: g.Log.String(), Key: hex.EncodeToString(g.Public), Nonce: hex.EncodeToString(g.Nonce[:]), Rehearsals: g.Rehearsals,
		First: g.First, Before: g.Prev.String(), Records: len(g.Cores), Signature: hex.EncodeToString(g.Signature),
	})
	for i, d := range g.Digests() {
		if err != nil {
			return err
		}
		err = s.record(g.Cores[i], d)
	}
	return err
}

// record writes the body by hand: encoding would change its bytes.
func (s *JSON) record(core []byte, digest signedlog.Digest) error {
	rec, err := signedlog.ParseCore(core)
	if err != nil {
		return fmt.Errorf("the export could not be written whole: %w", err)
	}
	kind, text, err := exam.SplitLine(rec.Body)
	if err != nil {
		return err
	}
	heads := make([]headRow, len(rec.Heads))
	for i, h := range rec.Heads {
		heads[i] = headRow{h.Log.String(), h.N, hex.EncodeToString(h.Digest[:])}
	}
	b, err := json.Marshal(heads)
	if err != nil {
		return wrote(err)
	}
	s.n++
	_, err = fmt.Fprintf(s.w, "{\"counter\":%d,\"heads\":%s,\"line\":%q,\"identity\":%q,\"body\":%s}\n", rec.Counter, b, kind, digest, text)
	return wrote(err)
}

// Close ends the stream; without it the stream counts as cut off.
func (s *JSON) Close() error {
	if err := s.put(endRow{true, s.n}); err != nil {
		return err
	}
	return wrote(s.w.Flush())
}

// Head is what the first line of a stream says.
type Head struct {
	Teaching bool // a copy from which nobody is to be known again
}

// Read reads a stream and hands on each segment as it was written, unverified. The
// error names the file and the line. A line that cannot be read is an error after
// everything else was handed on, and so is a stream without its end.
func Read(r io.Reader, file string, head func(Head) error, take func(signedlog.Segment) error) error {
	scan := bufio.NewScanner(r)
	scan.Buffer(make([]byte, 64<<10), maxLine)
	in := &reader{take: take, head: head}
	n := 0
	for scan.Scan() {
		n++
		if len(bytes.TrimSpace(scan.Bytes())) == 0 {
			continue
		}
		if err := in.line(scan.Bytes()); err != nil {
			return refuse(file, n, err)
		}
		if in.wrong != nil && in.at == 0 {
			in.at = n
		}
	}
	switch err := scan.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return refuse(file, n+1, &bounded.Error{What: "line", Most: maxLine})
	case err != nil:
		return refuse(file, n+1, fmt.Errorf("it cannot be read (%w)", err))
	case !in.begun:
		return refuse(file, 1, errNone)
	case !in.whole:
		return refuse(file, n, errors.New("the end of the export is missing: the file was cut off"))
	case in.wrong != nil:
		return refuse(file, in.at, in.wrong)
	}
	return nil
}

var errNone = fmt.Errorf("an export begins with its schema, %s; this is none, or of another version (a spreadsheet is imported with --map)", Schema)

// reader is a stream as far as it was read.
type reader struct {
	head         func(Head) error
	take         func(signedlog.Segment) error
	begun, whole bool
	segment      signedlog.Segment
	left, n      int   // records of the segment that are to come; of the stream
	lost         bool  // the beginning of a segment could not be read
	at           int   // its line
	wrong        error // the first line that could not be read
}

// anyRow is any line of the stream.
type anyRow struct {
	schemaRow
	segmentRow
	recordRow
	End bool `json:"end"`
}

func (r *reader) line(text []byte) error {
	var row anyRow
	if err := json.Unmarshal(text, &row); err != nil {
		if !r.begun {
			return errNone
		}
		r.broken(err)
		return r.taken()
	}
	switch {
	case r.whole:
		return errors.New("something follows the end of the export")
	case !r.begun:
		if r.begun = row.Schema == Schema; !r.begun {
			return errNone
		}
		return r.head(Head{row.Teaching})
	case r.left > 0:
		r.record(row.recordRow)
		return r.taken()
	case r.lost && row.Body != nil:
		return nil // of a part whose beginning is broken
	case row.End:
		r.whole = true
		if row.Records != r.n {
			return fmt.Errorf("the export says that it has %d records, but %d are here", row.Records, r.n)
		}
		return nil
	default:
		err := r.begin(row.segmentRow)
		if r.lost = err != nil; r.lost {
			r.wrong = cmp.Or(r.wrong, err)
		}
		return nil
	}
}

// broken passes over a line that cannot be read: its part of a log will not verify, and
// the others are not touched by it.
func (r *reader) broken(err error) {
	r.wrong = cmp.Or(r.wrong, fmt.Errorf("a line cannot be read (%w)", err))
	if r.left == 0 {
		r.lost = true
		return
	}
	r.add(nil)
}

func (r *reader) begin(row segmentRow) error {
	if row.Records < 1 || row.Records > maxRecords || row.First < 1 {
		return errors.New("a part of a log has no records")
	}
	r.segment = signedlog.Segment{Rehearsals: row.Rehearsals, First: row.First}
	g := &r.segment
	for _, f := range []struct {
		what, text string
		into       []byte
	}{{"log", row.Log, g.Log[:]}, {"nonce", row.Nonce, g.Nonce[:]}, {"before", row.Before, g.Prev[:]}} {
		if b, err := hex.DecodeString(f.text); err != nil || copy(f.into, b) != len(f.into) || len(b) != len(f.into) {
			return fmt.Errorf("%q is not what %q must be", notation.CleanLine(f.text, 40), f.what)
		}
	}
	var err1, err2 error
	g.Public, err1 = hex.DecodeString(row.Key)
	g.Signature, err2 = hex.DecodeString(row.Signature)
	if err1 != nil || err2 != nil {
		return errors.New("key or signature of a part of a log are not hex")
	}
	r.left = row.Records
	return nil
}

// record takes one record; one that is out of shape will not verify.
func (r *reader) record(row recordRow) {
	body := []byte(nil)
	for _, k := range exam.LineKinds() {
		if k == row.Line {
			body = exam.JoinLine(k, row.Body)
		}
	}
	if body == nil {
		r.broken(fmt.Errorf("a line is a horse, an entry, of a round or the settings, not %q", notation.CleanLine(string(row.Line), 20)))
		return
	}
	rec := signedlog.Record{Counter: row.Counter, Body: body}
	for _, h := range row.Heads {
		log, err1 := hex.DecodeString(h.Log)
		digest, err2 := hex.DecodeString(h.Digest)
		if err1 != nil || err2 != nil || len(log) != 16 || len(digest) != 8 {
			r.broken(errors.New("what a record says of another log is out of shape"))
			return
		}
		rec.Heads = append(rec.Heads, signedlog.Head{Log: signedlog.ID(log), N: h.N, Digest: [8]byte(digest)})
	}
	r.add(rec.Core())
}

func (r *reader) add(core []byte) {
	r.segment.Cores = append(r.segment.Cores, core)
	r.n++
	r.left--
}

// taken hands a segment on when it is whole.
func (r *reader) taken() error {
	if r.left > 0 || len(r.segment.Cores) == 0 {
		return nil
	}
	defer func() { r.segment.Cores = nil }()
	return r.take(r.segment)
}

// refuse says where a file was refused.
func refuse(file string, line int, err error) error {
	return fmt.Errorf("%s, line %d: %w", notation.CleanLine(file, 80), line, err)
}
