package export

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"loosebox/exam/bounded"
	"loosebox/exam/inorder"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
)

// Header is what the first line of a stream says.
type Header struct {
	Teaching bool // a copy from which nobody is to be known again
}

// Read reads a stream and hands on each segment as it was written, unverified, in its order;
// the records are read on all cores. The error names the file and the line. A line that cannot
// be read is an error after everything else was handed on, and so is a stream without its end.
func Read(r io.Reader, file string, head func(Header) error, take func(signedlog.Segment) error) error {
	in := &reader{file: file, head: head}
	scan := bufio.NewScanner(r)
	scan.Buffer(make([]byte, 64<<10), maxLine+1)
	scan.Split(in.long.split)
	in.parts = inorder.OnAll(func(p *part) (*part, error) { p.read(); return p, nil }, func(p *part) error {
		in.unreadable(p.wrongAt, p.wrong)
		if err := take(p.segment); err != nil {
			return refuse(file, p.last, err)
		}
		return nil
	})
	err := in.all(scan)
	if in.refused { // what came before a line that is wrong stays
		err = cmp.Or(in.parts.End(nil), err)
	} else {
		err = in.parts.End(err)
	}
	if err != nil {
		return err
	}
	switch err := scan.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return refuse(file, in.at+1, errLong)
	case err != nil:
		return refuse(file, in.at+1, fmt.Errorf("it cannot be read (%w)", err))
	case !in.begun:
		return refuse(file, 1, errNone)
	case !in.whole:
		return refuse(file, in.at, errors.New("the end of the export is missing: the file was cut off"))
	case in.wrong != nil:
		return refuse(file, in.wrongAt, in.wrong)
	}
	return nil
}

var errNone = fmt.Errorf("an export begins with its schema, %s; this is none, or of another version (a spreadsheet is imported with --map)", Schema)

// reader is a stream as far as it was read.
type reader struct {
	file         string
	head         func(Header) error
	parts        *inorder.Pool[*part, *part]
	long         longLine
	begun, whole bool
	refused      bool  // a line ends the reading
	now          *part // whose records are to come; nil for none
	left, n      int   // records of it that are to come; of the stream
	lost         bool  // the beginning of a part could not be read
	at           int   // the line
	wrongAt      int   // the first line that could not be read
	wrong        error // what is wrong with it
}

// all reads every line.
func (r *reader) all(scan *bufio.Scanner) error {
	for scan.Scan() {
		r.at++
		text := scan.Bytes()
		if r.at == 1 {
			text = bytes.TrimPrefix(text, []byte("\ufeff")) // an editor may have put it there
		}
		if r.long.passed && !r.begun {
			r.refused = true
			return refuse(r.file, r.at, errLong)
		}
		if r.long.passed {
			r.tooLong()
		} else if len(bytes.TrimSpace(text)) == 0 {
			continue
		}
		if r.left > 0 {
			if err := r.record(text); err != nil {
				return err
			}
			continue
		}
		if err := r.line(text); err != nil {
			r.refused = true
			return refuse(r.file, r.at, err)
		}
	}
	return nil
}

// tooLong notes a line that was passed over. Where it stands for a record of a part, that part
// will not verify, and the others are not touched by it.
func (r *reader) tooLong() {
	switch {
	case r.left == 0:
		r.unreadable(r.at, errLong)
	case r.now.wrong == nil:
		r.now.wrongAt, r.now.wrong = r.at, errLong
	}
}

// record takes a line of the part that was begun, and hands the part on when it is whole.
func (r *reader) record(text []byte) error {
	p := r.now
	if len(p.text)+len(text) > maxPart {
		r.refused = true
		return refuse(r.file, r.at, &bounded.Error{What: "part of a log", Most: maxPart})
	}
	p.text = append(p.text, text...)
	p.ends, p.at, p.last = append(p.ends, len(p.text)), append(p.at, r.at), r.at
	r.n++
	if r.left--; r.left > 0 {
		return nil
	}
	r.now = nil
	return r.parts.Put(p)
}

// row is any line of the stream but a record of a part.
type row struct {
	schemaRow
	segmentRow
	Body json.RawMessage `json:"body"`
	End  bool            `json:"end"`
}

// line takes a line that is no record of a part.
func (r *reader) line(text []byte) error {
	var l row
	if err := json.Unmarshal(text, &l); err != nil {
		if !r.begun {
			return errNone
		}
		r.unreadable(r.at, fmt.Errorf("a line cannot be read (%w)", err))
		r.lost = true
		return nil
	}
	switch {
	case r.whole:
		return errors.New("something follows the end of the export")
	case !r.begun:
		if r.begun = l.Schema == Schema; !r.begun {
			return errNone
		}
		return r.head(Header{l.Teaching})
	case r.lost && l.Body != nil:
		return nil // of a part whose beginning is broken
	case l.End:
		r.whole = true
		if l.Records != r.n && r.wrong == nil {
			return fmt.Errorf("the export says that it has %d records, but %d are here", l.Records, r.n)
		}
		return nil
	}
	g, err := segmentOf(l.segmentRow)
	if r.lost = err != nil; r.lost {
		r.unreadable(r.at, err)
		return nil
	}
	r.now, r.left = &part{segment: g}, l.Records
	return nil
}

// unreadable notes what is wrong with a line, where none before it is; nothing where it is
// in order.
func (r *reader) unreadable(at int, wrong error) {
	if wrong != nil && (r.wrong == nil || at < r.wrongAt) {
		r.wrongAt, r.wrong = at, wrong
	}
}

// refuse says where a file was refused.
func refuse(file string, line int, err error) error {
	return fmt.Errorf("%s, line %d: %w", notation.CleanLine(file, 80), line, err)
}
