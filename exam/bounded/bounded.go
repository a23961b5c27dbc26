// Package bounded reads what strangers send within limits: so many bytes, lines of
// so many bytes. A file made to be endless or to fill the memory ends with an error
// that names the limit.
package bounded

import (
	"fmt"
	"io"
)

// Limits of what is read. Zero is no limit.
type Limits struct {
	Bytes int64 // in all
	Line  int64 // of one line
	CSV   bool  // lines are those of CSV (RFC 4180): one may go on behind a line end in quotes
}

// Error says which limit was passed.
type Error struct {
	What string // "file", "line"
	Most int64  // bytes
}

// Error says what was too large, and the limit.
func (e *Error) Error() string {
	return fmt.Sprintf("a %s of more than %s; so much is not read", e.What, Size(e.Most))
}

// Size is a number of bytes in words: 10 MB, 64 kB, 200 bytes.
func Size(n int64) string {
	switch {
	case n >= 1<<30 && n%(1<<30) == 0:
		return fmt.Sprintf("%d GB", n>>30)
	case n >= 1<<20 && n%(1<<20) == 0:
		return fmt.Sprintf("%d MB", n>>20)
	case n >= 1<<10 && n%(1<<10) == 0:
		return fmt.Sprintf("%d kB", n>>10)
	default:
		return fmt.Sprintf("%d bytes", n)
	}
}

// Reader reads r until a limit is passed; then every read fails with an *Error.
func Reader(r io.Reader, l Limits) io.Reader { return &reader{r: r, limits: l} }

type reader struct {
	r      io.Reader
	limits Limits
	bytes  int64
	line   int64
	quoted bool
	err    error
}

func (b *reader) Read(p []byte) (int, error) {
	if b.err != nil {
		return 0, b.err
	}
	n, err := b.r.Read(p)
	b.look(p[:n])
	if b.err != nil {
		return 0, b.err
	}
	return n, err
}

// look counts what was read and keeps the limit that was passed.
func (b *reader) look(p []byte) {
	b.bytes += int64(len(p))
	if b.limits.Bytes > 0 && b.bytes > b.limits.Bytes {
		b.err = &Error{"file", b.limits.Bytes}
		return
	}
	if b.limits.Line == 0 {
		return
	}
	for _, c := range p {
		switch {
		case c == '\n' && !b.quoted:
			b.line = 0
			continue
		case c == '"' && b.limits.CSV:
			b.quoted = !b.quoted
		}
		if b.line++; b.line > b.limits.Line {
			b.err = &Error{"line", b.limits.Line}
			return
		}
	}
}
