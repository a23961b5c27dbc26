package storage

import (
	"context"
	"crypto/ed25519"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"filippo.io/age"
	"filippo.io/age/agessh"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

// The rows of meta that say who shares this record.
const (
	rowPractice = "practice" // the roster, as the text of an answer
	rowEnded    = "ended"    // how far the logs of laptops that are out count
)

// ErrOtherPractice is wrapped where something belongs to another practice than the record.
var ErrOtherPractice = errors.New("it belongs to another practice")

// Roster is the practice of the record and its laptops; it is none where this laptop
// works alone.
func (r *Record) Roster() (roster.Roster, error) {
	var out roster.Roster
	err := r.view(func(tx txn) (err error) {
		out, err = readRoster(tx)
		return err
	})
	return out, err
}

func readRoster(tx txn) (roster.Roster, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowPractice))
	if err != nil || data == nil {
		return roster.Roster{}, err
	}
	out, err := roster.ReadAnswer(data)
	if err != nil {
		return out, damaged("the practice and its laptops cannot be read (%v)", err)
	}
	return out, nil
}

// TakeStatements adds statements to the roster, the first of which makes the practice
// where there is none, and returns how many were new. What a laptop that is out wrote
// after its end stays in the record and counts no more.
func (r *Record) TakeStatements(ctx context.Context, list []roster.Statement) (fresh int, err error) {
	err = r.update(func(tx txn) error {
		have, err := readRoster(tx)
		if err != nil {
			return err
		}
		for _, s := range list {
			if !have.None() && !s.Practice.Key.Equal(have.Practice.Key) {
				return fmt.Errorf("%w: %q; this record is of %q", ErrOtherPractice, s.Practice.Name, have.Practice.Name)
			}
			if have.Add(s) {
				fresh++
			}
		}
		if fresh == 0 {
			return nil
		}
		if err := putRow(tx, bucketMeta, []byte(rowPractice), have.Answer()); err != nil {
			return err
		}
		return endLogs(ctx, tx, have)
	})
	return fresh, err
}

// ended is how far logs count, by the key of their laptop and by their name. A log of
// such a key that is not named counts for nothing.
type ended map[string]map[string]uint64

func readEnded(tx txn) (ended, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowEnded))
	if err != nil || data == nil {
		return nil, err
	}
	var e ended
	if json.Unmarshal(data, &e) != nil {
		return nil, damaged("how far the lines of laptops that are out count cannot be read")
	}
	return e, nil
}

// upTo is the last record of a log that counts.
func (e ended) upTo(log *logRow) uint64 {
	logs, out := e[keyText(log.Public)]
	if !out {
		return math.MaxUint64
	}
	return logs[log.name.String()]
}

// endLogs writes how far logs count of laptops that are out, or were never in, and brings what is derived up to that.
func endLogs(ctx context.Context, tx txn, r roster.Roster) error {
	was, err := readEnded(tx)
	if err != nil {
		return err
	}
	now := ended{}
	for _, l := range r.Laptops() {
		if (l.Membership == roster.Out || l.Membership == roster.Earlier) && !l.Key.Equal(tx.w.machine.public()) { // its own lines always count here
			now[keyText(l.Key)] = map[string]uint64{}
		}
	}
	for _, s := range r.Said {
		for log := range s.Until {
			if logs := now[keyText(s.Key)]; logs != nil {
				logs[log.String()], _ = r.Until(s.Key, log)
			}
		}
	}
	data, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("write which laptops are out: %w", err)
	}
	if err := putRow(tx, bucketMeta, []byte(rowEnded), data); err != nil {
		return err
	}
	return recount(ctx, tx, was, now)
}

func keyText(key []byte) string { return fmt.Sprintf("%x", key) }

// Request is this laptop's request to come into a practice, as a file; words are what is
// read aloud.
func (r *Record) Request(name string) (text []byte, words string, err error) {
	if r.machine == nil {
		return nil, "", errors.Join(errors.New("this laptop has no key"), r.noKey)
	}
	q := roster.Request{Key: r.machine.public(), Name: name}
	if q.Earlier, err = r.Others(); err != nil {
		return nil, "", err
	}
	text, err = q.Bytes(func(b []byte) []byte { return ed25519.Sign(r.machine.private, b) })
	return text, q.Words(), err
}

// Others is how far the record holds the logs of other keys than this laptop's, by key.
func (r *Record) Others() ([]roster.Lines, error) {
	logs, err := r.Logs()
	var out []roster.Lines
	for _, l := range logs {
		i := slices.IndexFunc(out, func(o roster.Lines) bool { return o.Key.Equal(l.Public) })
		if i < 0 && !l.Own {
			i, out = len(out), append(out, roster.Lines{Key: l.Public, Until: map[signedlog.ID]uint64{}})
		}
		if i >= 0 {
			out[i].Until[l.Log] = max(out[i].Until[l.Log], l.N)
		}
	}
	return out, err
}

// Key is this laptop's public key; nil where it cannot be read.
func (r *Record) Key() ed25519.PublicKey {
	if r.machine == nil {
		return nil
	}
	return r.machine.public()
}

// Identity opens what was sealed to this laptop's key (storage/share, Seal).
func (r *Record) Identity() (age.Identity, error) {
	if r.machine == nil {
		return nil, errors.Join(errors.New("this laptop has no key"), r.noKey)
	}
	return agessh.NewEd25519Identity(r.machine.private)
}

// Reach is how far the record holds each log of a laptop: what ends with it.
func (r *Record) Reach(key ed25519.PublicKey) (map[signedlog.ID]uint64, error) {
	logs, err := r.Logs()
	out := map[signedlog.ID]uint64{}
	for _, l := range logs {
		if l.Public.Equal(key) {
			out[l.Log] = max(out[l.Log], l.N)
		}
	}
	return out, err
}

// Apart is how many lines of a laptop the record keeps that do not count, because it is out.
func (r *Record) Apart() (map[string]int, error) {
	out := map[string]int{}
	err := r.view(func(tx txn) error {
		e, err := readEnded(tx)
		if err != nil || e == nil {
			return err
		}
		return eachLog(tx, func(l *logRow) error {
			if upTo := max(e.upTo(l), l.Base); l.N > upTo {
				out[keyText(l.Public)] += int(l.N - upTo)
			}
			return nil
		})
	})
	return out, err
}
