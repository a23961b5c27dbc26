package export

import (
	"bufio"
	"bytes"

	"loosebox/exam/bounded"
)

// maxPassed is how much of one line is passed over: an endless one ends the reading.
const maxPassed = 256 << 20 // bytes

// errLong says that a line is too long.
var errLong = &bounded.Error{What: "line", Most: maxLine}

// longLine splits a stream into lines and passes over what is longer than maxLine, of which
// it hands on nothing.
type longLine struct {
	passed bool // the line at hand was passed over
	so     int  // bytes of the line that are passed over up to here
}

// split is a bufio.SplitFunc.
func (l *longLine) split(data []byte, last bool) (advance int, token []byte, err error) {
	l.passed = false
	end := bytes.IndexByte(data, '\n')
	switch {
	case end < 0 && !last && len(data) <= maxLine && l.so == 0:
		return 0, nil, nil
	case end < 0 && !last: // more of it is to come
		if l.so += len(data); l.so > maxPassed {
			return 0, nil, bufio.ErrTooLong
		}
		return len(data), nil, nil
	case l.so == 0:
		return bufio.ScanLines(data, last)
	}
	if advance = end + 1; end < 0 {
		advance = len(data)
	}
	l.passed, l.so = true, 0
	return advance, []byte{}, nil
}
