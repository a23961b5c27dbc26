package export

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"loosebox/exam"
	"loosebox/exam/bounded"
	"loosebox/exam/notation"
)

// Schema names the form of the stream; its first line carries it.
const Schema = "loosebox/export/1"

// maxLine is the longest line that is read, bytes.
const maxLine = 4 << 20 // an entry has 256 kB at most

// Sink takes one line of a record after the other.
type Sink interface {
	Line(exam.Line) error
	// Close ends the stream; without it the stream counts as cut off.
	Close() error
}

// jsonLines writes {"line":"entry","hash":…,"body":…} a line; the body is the
// stored JSON itself, untouched.
type jsonLines struct {
	w *bufio.Writer
	n int
}

// NewJSON begins a stream of JSON lines.
func NewJSON(w io.Writer) (Sink, error) {
	s := &jsonLines{w: bufio.NewWriter(w)}
	_, err := fmt.Fprintf(s.w, "{\"schema\":%q}\n", Schema)
	return s, wrote(err)
}

func wrote(err error) error {
	if err != nil {
		return fmt.Errorf("the export could not be written whole: %w", err)
	}
	return nil
}

func (s *jsonLines) Line(l exam.Line) error {
	s.n++
	_, err := fmt.Fprintf(s.w, "{\"line\":%q,\"hash\":%q,\"body\":%s}\n", l.Kind, l.Hash, l.Body)
	return wrote(err)
}

func (s *jsonLines) Close() error {
	if _, err := fmt.Fprintf(s.w, "{\"lines\":%d}\n", s.n); err != nil {
		return wrote(err)
	}
	return wrote(s.w.Flush())
}

// row is any line of the stream.
type row struct {
	Schema string          `json:"schema"`
	Line   exam.LineKind   `json:"line"`
	Hash   exam.Hash       `json:"hash"`
	Body   json.RawMessage `json:"body"`
	Lines  *int            `json:"lines"`
}

// ReadJSON reads a stream of JSON lines and hands on each. The error names the
// file and the line; a stream without its end is refused.
func ReadJSON(r io.Reader, file string, take func(exam.Line) error) error {
	scan := bufio.NewScanner(r)
	scan.Buffer(make([]byte, 64<<10), maxLine)
	n, lines, whole := 0, 0, false
	for scan.Scan() {
		n++
		if len(bytes.TrimSpace(scan.Bytes())) == 0 {
			continue
		}
		var one row
		err := json.Unmarshal(scan.Bytes(), &one)
		switch {
		case whole:
			err = errors.New("something follows the end of the export")
		case err != nil:
			err = fmt.Errorf("this is no line of an export (%w)", err)
		case n == 1 && one.Schema != Schema:
			err = fmt.Errorf("an export begins with its schema, %s; this is none, or of another version", Schema)
		case n == 1:
		case one.Lines != nil:
			whole = true
			if *one.Lines != lines {
				err = fmt.Errorf("the export says that it has %d lines, but %d are here", *one.Lines, lines)
			}
		default:
			lines++
			err = handOn(one.Line, one.Hash, one.Body, take)
		}
		if err != nil {
			return refuse(file, n, err)
		}
	}
	if errors.Is(scan.Err(), bufio.ErrTooLong) {
		return refuse(file, n+1, &bounded.Error{What: "line", Most: maxLine})
	}
	if err := scan.Err(); err != nil {
		return refuse(file, n+1, fmt.Errorf("it cannot be read (%w)", err))
	}
	if !whole {
		return refuse(file, n, errors.New("the end of the export is missing: the file was cut off"))
	}
	return nil
}

func handOn(kind exam.LineKind, hash exam.Hash, body []byte, take func(exam.Line) error) error {
	if !slices.Contains(exam.LineKinds(), kind) {
		return fmt.Errorf("a line is a horse, an entry or of a round, not %q", notation.CleanLine(string(kind), 20))
	}
	if exam.LineDigest(kind, body) != hash {
		return errors.New("the line does not match its digest: the file was changed after it was written")
	}
	return take(exam.Line{Kind: kind, Hash: hash, Body: bytes.Clone(body)})
}

// refuse says where a file was refused; nothing of it was taken.
func refuse(file string, line int, err error) error {
	return fmt.Errorf("%s, line %d: %w; nothing was imported", notation.CleanLine(file, 80), line, err)
}
