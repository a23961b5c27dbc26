package storage

import (
	"encoding/json"
	"fmt"
	"time"
)

// Exchanged is what is remembered of the last exchange with other laptops at a place.
type Exchanged struct {
	At    time.Time `json:"at"`
	Place string    `json:"place"` // the folder, or the hub
	// Waiting is how many lines could not be written there; as Exchanges has it, with those
	// that came since.
	Waiting int `json:"waiting"`
	// Held is how far the record held each log then, by the log's name (Held.Row).
	Held map[string]uint64 `json:"held"`
	// Unknown is how many lines are there of laptops that are not in the practice, by the
	// fingerprint of their keys.
	Unknown map[string]int `json:"unknown,omitempty"`
	// Sealed is how many lines are there that this laptop cannot open.
	Sealed int `json:"sealed,omitempty"`
	// Aside has a sentence for each part in the folder that did not fit.
	Aside []string `json:"aside,omitempty"`
}

// exchanges is the row of what is remembered: the last exchange, and the last one at each other
// place, the newest first.
type exchanges struct {
	Exchanged
	Others []Exchanged `json:"others,omitempty"`
}

// maxPlaces is how many places are remembered: a folder and a hub, and those they took the place of.
const maxPlaces = 8

func readExchanges(tx txn) (x exchanges, err error) {
	data, err := getRow(tx, bucketMeta, []byte(rowExchange))
	if err == nil && data != nil && json.Unmarshal(data, &x) != nil {
		err = damaged("when was last shared cannot be read")
	}
	return x, err
}

// at is the last exchange at a place; without a time where there was none.
func (x exchanges) at(place string) Exchanged {
	for _, o := range append([]Exchanged{x.Exchanged}, x.Others...) {
		if o.Place == place {
			return o
		}
	}
	return Exchanged{Place: place}
}

// NoteExchange remembers an exchange; how far each log is held is noted by itself.
func (r *Record) NoteExchange(x Exchanged) error {
	logs, err := r.Logs()
	if err != nil {
		return err
	}
	x.Held = map[string]uint64{}
	for _, l := range logs {
		x.Held[l.Row.String()] = l.N
	}
	return r.update(func(tx txn) error {
		before, err := readExchanges(tx)
		if err != nil {
			before = exchanges{} // it is written again
		}
		now := exchanges{Exchanged: x}
		for _, o := range append([]Exchanged{before.Exchanged}, before.Others...) {
			if o.Place != x.Place && !o.At.IsZero() && len(now.Others) < maxPlaces-1 {
				now.Others = append(now.Others, o)
			}
		}
		data, err := json.Marshal(now)
		if err != nil {
			return fmt.Errorf("write when was shared: %w", err)
		}
		if err := stampArrivals(tx, x.At); err != nil {
			return err
		}
		return putRow(tx, bucketMeta, []byte(rowExchange), data)
	})
}

// Exchanges are the last exchanges at some places, in their order, each with how many lines
// wait for it: those that could not be written then, and those that came since. Where there was
// none yet, it has no time, and every line waits. Without a place it is the last exchange of all, or nothing.
func (r *Record) Exchanges(places ...string) (out []Exchanged, err error) {
	err = r.view(func(tx txn) error {
		known, err := readExchanges(tx)
		if err != nil {
			return err
		}
		if len(places) == 0 && !known.At.IsZero() {
			places = []string{known.Place}
		}
		for _, p := range places {
			out = append(out, known.at(p))
		}
		stay, err := rehearsalsStay(tx)
		if err != nil {
			return err
		}
		return eachLog(tx, func(l *logRow) error {
			if stay && l.Namespace == rehearsalsNamespace {
				return nil
			}
			for i, x := range out {
				out[i].Waiting += int(l.N - min(max(x.Held[l.row.String()], l.Base), l.N))
			}
			return nil
		})
	})
	return out, err
}
