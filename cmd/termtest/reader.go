//go:build unix

package termtest

import (
	"time"
)

// Scan types a line as a reader of chips does, gap apart; 0 sends all characters in one write. It returns the longest
// time between two characters, which on a busy machine is longer than gap.
func (t *Terminal) Scan(line string, gap time.Duration) (longest time.Duration, err error) {
	t.hand = hand{}
	if gap == 0 {
		_, err := t.Write(line)
		return 0, err
	}
	return t.paced([]byte(line), gap, gap)
}

// Hold holds a key: a press, a pause of delay, then repeats every gap for long. It returns the longest time that was
// between two repeats.
func (t *Terminal) Hold(key string, delay, gap, long time.Duration) (longest time.Duration, err error) {
	text, err := bytesOf(key)
	if err != nil {
		return 0, err
	}
	t.hand = hand{key: key, at: now()}
	keys := make([]byte, 0, 64)
	for range int(long/gap) + 1 {
		keys = append(keys, text...)
	}
	return t.paced(keys, delay, gap)
}

// paced writes bytes gap apart, the second one pause after the first.
func (t *Terminal) paced(bytes []byte, pause, gap time.Duration) (longest time.Duration, err error) {
	due := now()
	var last time.Time
	for i, b := range bytes {
		switch i {
		case 0:
		case 1:
			due = due.Add(pause)
		default:
			due = due.Add(gap)
		}
		<-time.After(due.Sub(now()))
		at, err := t.Write(string(b))
		if err != nil {
			return longest, err
		}
		if i > 1 {
			longest = max(longest, at.Sub(last))
		}
		last = at
	}
	t.hand.at = last
	return longest, nil
}
