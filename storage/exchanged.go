package storage

import (
	"encoding/json"
	"fmt"
	"time"
)

// Exchanged is what is remembered of the last exchange with other laptops.
type Exchanged struct {
	At    time.Time `json:"at"`
	Place string    `json:"place"` // the folder
	// Waiting is how many lines could not be written there.
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
	data, err := json.Marshal(x)
	if err != nil {
		return fmt.Errorf("write when was shared: %w", err)
	}
	return r.update(func(tx txn) error {
		if err := stampArrivals(tx, x.At); err != nil {
			return err
		}
		return putRow(tx, bucketMeta, []byte(rowExchange), data)
	})
}

// LastExchange is the last one and how many lines wait since: those that could not be
// written then, and those that came. It is zero where there was none.
func (r *Record) LastExchange() (x Exchanged, waiting int, err error) {
	err = r.view(func(tx txn) error {
		data, err := getRow(tx, bucketMeta, []byte(rowExchange))
		if err == nil && data != nil && json.Unmarshal(data, &x) != nil {
			err = damaged("when was last shared cannot be read")
		}
		waiting = x.Waiting
		if err != nil {
			return err
		}
		stay, err := rehearsalsStay(tx)
		if err != nil {
			return err
		}
		return eachLog(tx, func(l *logRow) error {
			if stay && l.Book == bookRehearsals {
				return nil
			}
			waiting += int(l.N - min(max(x.Held[l.row.String()], l.Base), l.N))
			return nil
		})
	})
	return x, waiting, err
}
