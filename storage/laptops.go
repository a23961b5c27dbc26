package storage

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

// onLaptops says of visits on which laptops they were written, and whether another one puts
// the needles in. Where there is no practice nothing is said of visits of this laptop alone.
func onLaptops(tx txn, visits []exam.Visit, wanted func(exam.Visit) bool) error {
	for i := range visits {
		if !wanted(visits[i]) {
			continue
		}
		visit, ok := parseID(string(visits[i].ID))
		if !ok {
			continue
		}
		h, err := readHead(tx, visit)
		if err != nil {
			return err
		}
		if err := onLaptop(tx, h, &visits[i]); err != nil {
			return err
		}
	}
	return nil
}

func onLaptop(tx txn, h head, v *exam.Visit) error {
	v.Laptops, v.Elsewhere = nil, false
	who, err := readRoster(tx)
	if err != nil {
		return err
	}
	if foreign, err := foreign(tx, h); err != nil || !foreign && who.None() {
		return err
	}
	lines, err := readLines(tx, h.where)
	if err != nil {
		return err
	}
	at := map[string]int{}
	for i, l := range lines {
		var e struct {
			At    time.Time       `json:"at"`
			By    string          `json:"by"`
			Taken *exam.TakenLine `json:"taken"`
		}
		if err := l.read(exam.LineEntry, &e); err != nil {
			return err
		}
		n, known := at[string(l.log.Public)]
		if !known {
			n = len(v.Laptops)
			at[string(l.log.Public)] = n
			name, named := laptopOf(who, l.log.Public)
			v.Laptops = append(v.Laptops, exam.OnLaptop{Laptop: name, Named: named, Own: tx.key != nil && bytes.Equal(l.log.Public, tx.key), From: e.At, To: e.At})
		}
		on := &v.Laptops[n]
		if on.Lines++; !slices.Contains(on.By, e.By) {
			on.By = append(on.By, e.By)
		}
		if e.At.After(on.To) {
			on.To = e.At
		}
		if i == 0 || e.Taken != nil {
			for j := range v.Laptops {
				v.Laptops[j].Holds = j == n
			}
			v.Elsewhere = tx.key != nil && !on.Own
		}
	}
	return nil
}

// laptopOf is the name of a laptop in the practice, or the beginning of its fingerprint.
func laptopOf(who roster.Roster, key []byte) (name string, named bool) {
	name = "laptop " + signedlog.Fingerprint(key)[:4]
	for _, one := range who.Laptops() {
		if bytes.Equal(one.Key, key) && one.Name != "" {
			name, named = one.Name, true
		}
	}
	return name, named
}

// foreign says whether another key than this machine's wrote a line of the visit.
func foreign(tx txn, h head) (bool, error) {
	if tx.key == nil { // without a key nothing is written here, and every line is another's
		return false, nil
	}
	for _, r := range h.where {
		log, err := numberedLog(tx, r.log)
		if err != nil {
			return false, err
		}
		if !bytes.Equal(log.Public, tx.key) {
			return true, nil
		}
	}
	return false, nil
}

// rowArrived is the row of meta that says when visits came in from other laptops: this
// machine's own knowledge, which follows from no line. A visit whose exchange is not noted
// yet has no time.
const rowArrived = "arrived"

// What is remembered of arrivals: so many visits, so long.
const (
	mostArrivals = 1000
	arrivalsKept = 8 * 24 * time.Hour
)

func readArrivals(tx txn) ([]exam.Arrival, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowArrived))
	if err != nil || data == nil {
		return nil, err
	}
	var out []exam.Arrival
	if json.Unmarshal(data, &out) != nil {
		return nil, damaged("which visits came in cannot be read")
	}
	return out, nil
}

// arrive notes that lines of visits came in.
func arrive(tx txn, visits []exam.VisitID) error {
	if len(visits) == 0 {
		return nil
	}
	list, err := readArrivals(tx)
	if err != nil {
		return err
	}
	came := make(map[exam.VisitID]bool, len(visits))
	for _, v := range visits {
		came[v] = true
	}
	list = slices.DeleteFunc(list, func(a exam.Arrival) bool { return came[a.Visit] })
	for _, v := range visits {
		list = append(list, exam.Arrival{Visit: v})
	}
	return writeArrivals(tx, list)
}

func writeArrivals(tx txn, list []exam.Arrival) error {
	data, err := json.Marshal(list[max(len(list)-mostArrivals, 0):])
	if err != nil {
		return fmt.Errorf("write which visits came in: %w", err)
	}
	return putRow(tx, bucketMeta, []byte(rowArrived), data)
}

// stampArrivals gives the time of an exchange to what it brought, and forgets what is old.
func stampArrivals(tx txn, now time.Time) error {
	list, err := readArrivals(tx)
	if err != nil || len(list) == 0 {
		return err
	}
	for i := range list {
		if list[i].At.IsZero() {
			list[i].At = now
		}
	}
	list = slices.DeleteFunc(list, func(a exam.Arrival) bool { return now.Sub(a.At) > arrivalsKept })
	return writeArrivals(tx, list)
}

// Arrived lists the visits that came in from other laptops since a time, newest first, at
// most 1,000. What came in by an exchange that was not noted yet counts.
func (r *Record) Arrived(since time.Time) ([]exam.Arrival, error) {
	var out []exam.Arrival
	err := r.view(func(tx txn) error {
		list, err := readArrivals(tx)
		for _, a := range list {
			if a.At.IsZero() || !a.At.Before(since) {
				out = append(out, a)
			}
		}
		return err
	})
	slices.Reverse(out)
	return out, err
}
