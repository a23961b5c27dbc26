package hub

import (
	"maps"
	"slices"

	"loosebox/exam/signedlog"
)

// widen forgets how far the hub was read where a laptop came in since, and something there
// is sealed: what the hub holds for all then is another thing. True where it forgot.
func (x *exchange) widen() bool {
	if x.seal.Includes(x.state.For) {
		return false
	}
	again := x.state.Sealed
	if again {
		x.forget()
	}
	x.state.For = x.seal.Tags()
	return again
}

// forget begins to read the hub from its first message on.
func (x *exchange) forget() {
	x.state = empty()
	x.state.For = x.seal.Tags()
}

// opened takes from what is kept aside the sealed messages whose lines the record has by
// now, because another laptop sealed them anew.
func (x *exchange) opened() error {
	logs, err := x.r.Logs()
	if err != nil {
		return err
	}
	rows := map[string][]signedlog.ID{}
	for _, l := range logs {
		rows[l.Log.String()] = append(rows[l.Log.String()], l.Row)
	}
	changed := false
	for _, seq := range slices.Sorted(maps.Keys(x.state.Aside)) {
		c := x.state.Aside[seq].Closed
		if c == nil {
			continue
		}
		digest, err := signedlog.ParseDigest(c.Digest)
		if err != nil {
			return err
		}
		for _, row := range rows[c.Log] {
			held, err := x.r.Holds(row, signedlog.RecordRef{N: c.N, Digest: digest})
			if err != nil {
				return err
			}
			if held {
				delete(x.state.Aside, seq)
				changed = true
				break
			}
		}
	}
	if !changed {
		return nil
	}
	return x.keep()
}
