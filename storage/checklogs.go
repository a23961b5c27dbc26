package storage

import (
	"encoding/json"
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// Writer is one log as Check found it.
type Writer struct {
	Log         string `json:"log"`
	Fingerprint string `json:"fingerprint"` // of its key
	Own         bool   `json:"own"`         // the key is this machine's
	Rehearsals  bool   `json:"rehearsals"`  // it holds visits of simulated horses
	Lines       uint64 `json:"lines"`
	// Branch is true where another row of the same log is here, which this one leaves behind
	// record Behind: the laptop was copied or restored, and both wrote.
	Branch bool   `json:"branch"`
	Behind uint64 `json:"behind"`
	// From and To are the earliest and the latest time that its segments begin and end
	// with, as the lines say; nil where they say none.
	From *time.Time `json:"from"`
	To   *time.Time `json:"to"`
	// SignedTo is the last record that a signature covers.
	SignedTo uint64 `json:"signed_to"`
	OK       bool   `json:"ok"`
}

// logs walks every log of the namespace from its first record to its last.
func (c *checker) logs(tx txn) error {
	if _, err := currentLog(tx); err != nil {
		return err
	}
	keys, before := map[string]bool{}, c.Lines
	all := 0
	err := eachLog(tx, func(log *logRow) error {
		if log.Namespace == c.namespace {
			all += int(log.N - log.Base) //nolint:gosec // lines of one record
		}
		return nil
	})
	if err != nil {
		return err
	}
	c.tell = func() { progress.Say(c.ctx, "lines", c.Lines-before, all) }
	return eachLog(tx, func(log *logRow) error {
		if log.Namespace != c.namespace {
			return nil
		}
		before := len(c.Broken)
		w := Writer{
			Log: log.name.String(), Fingerprint: signedlog.Fingerprint(log.Public), Own: c.own != nil && string(log.Public) == string(c.own),
			Rehearsals: c.namespace == rehearsalsNamespace, Lines: log.N - log.Base, Branch: log.Parent > 0, Behind: log.Base,
		}
		if !keys[w.Fingerprint] && c.namespace == visitsNamespace {
			c.Machines++
		}
		keys[w.Fingerprint] = true
		err := catchFaults(func() error { return c.log(tx, log, &w) })
		if err != nil && !c.note("", err) {
			return err
		}
		w.OK = len(c.Broken) == before
		c.Writers = append(c.Writers, w)
		return nil
	})
}

// log verifies one log.
func (c *checker) log(tx txn, log *logRow, w *Writer) error {
	if log.Parent > 0 {
		if err := leaves(tx, log); err != nil {
			return err
		}
	}
	left, err := readEnded(tx)
	if err != nil {
		return err
	}
	upTo := left.upTo(log)
	return eachLooked(tx, log, lookAt, func(s looked[segmentLook]) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		if s.what.signature != nil {
			c.Broken = append(c.Broken, Broken{What: s.what.signature.Error(), Log: w.Log, Line: s.First})
		} else {
			c.Signatures++
			w.SignedTo = s.Last()
		}
		c.Lines += len(s.Cores)
		c.tell()
		for i, l := range s.what.lines {
			n := s.First + uint64(i)
			if l.wrong != nil {
				c.Broken = append(c.Broken, Broken{What: l.wrong.Error(), Log: w.Log, Line: n})
				continue
			}
			if n > upTo {
				c.Apart++
				continue
			}
			c.lines[l.kind]++
			c.heads += len(l.heads)
			for _, h := range l.heads {
				kept, err := headKept(tx, place{log.Number, n}, h)
				if err == nil && !kept {
					err = damaged("what record %d of log %s says of another log is not kept", n, log.name)
				}
				c.note("", err)
				if c.mine(log, n) && h.N >= c.held[h.Log].N {
					c.held[h.Log] = h
				}
			}
			if l.kind == exam.LineSettings {
				c.keep(log, n, l.counter, l.text)
			}
			w.saw(l.at)
		}
		return nil
	})
}

// segmentLook is what check wants to know of a segment.
type segmentLook struct {
	signature error
	lines     []lineLook
}

// lineLook is what it wants to know of one line.
type lineLook struct {
	wrong   error
	kind    exam.LineKind
	counter uint64
	heads   []signedlog.Head
	text    []byte
	at      *time.Time // of the first line and the last; nil for others, and where none is said
}

func lookAt(s signedlog.Segment, digests []signedlog.Digest) segmentLook {
	out := segmentLook{signature: s.VerifyBy(digests), lines: make([]lineLook, len(s.Cores))}
	for i, core := range s.Cores {
		l := &out.lines[i]
		rec, err := signedlog.ParseCore(core)
		if err == nil {
			l.kind, l.text, err = exam.SplitLine(rec.Body)
		}
		l.wrong, l.counter, l.heads = err, rec.Counter, rec.Heads
		if err == nil && (i == 0 || i == len(s.Cores)-1) {
			l.at = saidAt(l.text)
		}
	}
	return out
}

func (w *Writer) saw(at *time.Time) {
	if at == nil {
		return
	}
	if w.From == nil || at.Before(*w.From) {
		w.From = at
	}
	if w.To == nil || at.After(*w.To) {
		w.To = at
	}
}

// saidAt is the time that a line says; nil where it says none.
func saidAt(text []byte) *time.Time {
	var l struct {
		At *time.Time `json:"at"`
	}
	if json.Unmarshal(text, &l) != nil {
		return nil
	}
	return l.At
}

// mine says that this machine's key wrote a record of a log in this file, and no copy of it.
func (c *checker) mine(log *logRow, n uint64) bool {
	return n <= log.Mine && c.own != nil && string(log.Public) == string(c.own)
}

// others makes sure that what this machine's lines say it held of other logs is here.
func (c *checker) others(tx txn) error {
	for _, h := range c.held {
		here, err := holdsRecord(tx, h.Log, h.N, h.Digest[:])
		if err != nil && !c.note("", err) {
			return err
		}
		if err == nil && !here {
			c.Broken = append(c.Broken, Broken{
				What: fmt.Sprintf("this laptop had log %s up to record %d, and that is not here", h.Log, h.N), Log: h.Log.String(), Line: h.N,
			})
		}
	}
	return nil
}

// keep remembers the newest settings that this machine's key signed in this file. Settings that
// came with a copy, or from another record, are of that file and do not count.
func (c *checker) keep(log *logRow, n, counter uint64, text []byte) {
	if c.mine(log, n) && counter >= c.settled {
		c.settled, c.saved = counter, append([]byte(nil), text...)
	}
}

// settings sets the settings in use beside the newest line about them.
func (c *checker) settings(tx txn) error {
	if c.namespace != visitsNamespace {
		return nil // both have the same
	}
	now, err := readSettings(tx)
	if err != nil || c.saved == nil {
		return err
	}
	data, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("write settings: %w", err)
	}
	var said exam.Settings
	if err := json.Unmarshal(c.saved, &said); err != nil {
		return damaged("a line of settings cannot be read (%v)", err)
	}
	want, err := json.Marshal(said)
	if err == nil && string(want) != string(data) {
		err = damaged("the settings in use are not the ones that were saved")
	}
	return err
}
