//go:build unix

package termtest

import (
	"time"
)

// Scan types a line as a reader of chips does: a time between two characters, zero
// for all of them in one write. It returns the longest time that really was between
// two, because a machine that is busy makes a slow reader of it.
func (t *Terminal) Scan(line string, gap time.Duration) (longest time.Duration, err error) {
	t.hand = hand{}
	if gap == 0 {
		_, err := t.Write(line)
		return 0, err
	}
	return t.paced([]byte(line), gap, gap)
}

// Hold holds a key: a press, a pause, then repeats for so long. It returns the
// longest time that really was between two repeats.
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

// paced writes bytes at their times, the second one after a pause.
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
