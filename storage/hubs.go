package storage

import (
	"bytes"
	"crypto/ed25519"
	"errors"
	"regexp"

	"loosebox/exam/signedlog"
)

// rowHub begins the name of the row of meta that says how far a hub was read; what is in
// it belongs to whoever reads the hub (storage/share/hub).
const rowHub = "hub "

// HubNote is what was noted of a hub; nil for nothing.
func (r *Record) HubNote(hub string) (note []byte, err error) {
	err = r.view(func(tx txn) error {
		data, err := getRow(tx, bucketMeta, []byte(rowHub+hub))
		note = bytes.Clone(data)
		return err
	})
	return note, err
}

// LogBranch is a log or a branch of it in this record (Held.LogBranch), and behind which record it begins.
type LogBranch struct {
	Name signedlog.ID
	Base uint64
}

// NoteOfHub says what is to be remembered of a hub once segments are in the record: done is
// what came of them, holding lists the rows in which the record has a record of a log.
type NoteOfHub func(done Adopted, holding func(signedlog.ID, signedlog.RecordRef) ([]LogBranch, error)) ([]byte, error)

// AdoptFrom is Adopt of a few segments that came from a hub. In the same transaction note
// is asked what is to be remembered of that hub, so that neither is without the other: a
// copy of this laptop that was seen ends its log at the same moment as the hub counts as
// read.
func (r *Record) AdoptFrom(hub string, list []signedlog.Segment, note NoteOfHub) (Adopted, error) {
	var done Adopted
	err := r.update(func(tx txn) error {
		done = Adopted{}
		if len(list) > 0 {
			if err := r.adopt(tx, &done, list); err != nil {
				return err
			}
		}
		data, err := note(done, func(log signedlog.ID, at signedlog.RecordRef) ([]LogBranch, error) {
			return rowsWith(tx, log, at.N, at.Digest[:])
		})
		if err != nil {
			return err
		}
		return putRow(tx, bucketMeta, []byte(rowHub+hub), data)
	})
	return done, err
}

// rowsWith lists the rows of a log that have a record with a digest that begins with some bytes.
func rowsWith(tx txn, log signedlog.ID, n uint64, digest []byte) (out []LogBranch, err error) {
	first, err := readLog(tx, log)
	if err != nil || first == nil {
		return nil, err
	}
	rows, err := branches(tx, first)
	if err != nil {
		return nil, err
	}
	for _, l := range rows {
		there, err := l.holds(tx, n, digest)
		if err != nil {
			return nil, err
		}
		if there {
			out = append(out, LogBranch{l.row, l.Base})
		}
	}
	return out, nil
}

// nonces are what a hub may ask to be signed: no text that this program signs for itself
// can look like one, as each of those has a zero byte in it.
var nonces = regexp.MustCompile(`^[A-Za-z0-9_+/=-]{8,64}$`)

// SignNonce signs what a hub asks this laptop to sign, to show that it holds its key.
func (r *Record) SignNonce(nonce []byte) ([]byte, error) {
	switch {
	case r.machine == nil:
		return nil, errors.Join(errors.New("this laptop has no key"), r.noKey)
	case !nonces.Match(nonce):
		return nil, errors.New("the hub asks for a signature of something else than a nonce; nothing was signed")
	}
	return ed25519.Sign(r.machine.private, nonce), nil
}
