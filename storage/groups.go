package storage

import (
	"bytes"
	"slices"
	"sort"

	"loosebox/exam"
)

// Horses that were entered twice are joined by lines (exam.Joining). Every line keeps the
// horse that it was written for, and so does every row that is derived, but for one: the
// summary of the horse that leads a group holds the horse as all of them make it. What is
// read is put together: the visits of all, each of the horse that leads.

// The rows of meta about horses that are joined; both are derived.
const (
	rowJoins  = "joins"  // runs of the lines that join and part
	rowGroups = "groups" // horse ‖ the horse that leads it, 16 bytes each, by horse; of joined ones
)

// readJoins reads the lines that join and part, in their order.
func readJoins(tx txn) (exam.Joinings, error) {
	where, err := readRuns(tx, bucketMeta, []byte(rowJoins))
	if err != nil || len(where) == 0 {
		return nil, err
	}
	lines, err := readLines(tx, where)
	if err != nil {
		return nil, err
	}
	out := make(exam.Joinings, len(lines))
	for i, l := range lines {
		if err := l.read(exam.LineJoin, &out[i]); err != nil {
			return nil, err
		}
		out[i].Line = l.identity
	}
	if ofOneLog(lines) {
		return out, nil
	}
	missing, err := unseen(tx, lines)
	for i, list := range missing {
		for _, n := range list {
			out[i].Unseen = append(out[i].Unseen, out[n-1].Line)
		}
	}
	return out, err
}

// groups are the horses of the record that are one with others.
type groups []byte

const groupSize = 32

func readGroups(tx txn) (groups, error) {
	if tx.namespace != visitsNamespace {
		return nil, nil // a simulated horse is entered once
	}
	data, err := getRow(tx, bucketMeta, []byte(rowGroups))
	if err == nil && len(data)%groupSize != 0 {
		err = damaged("which horses are joined cannot be read")
	}
	return data, err
}

// lead is the horse that stands for another: itself where it is joined to none.
func (g groups) lead(horse id) id {
	i, found := sort.Find(len(g)/groupSize, func(i int) int { return bytes.Compare(horse[:], g[i*groupSize:i*groupSize+16]) })
	if !found {
		return horse
	}
	return id(g[i*groupSize+16 : (i+1)*groupSize])
}

// with are the horses that are one with a horse, the one that leads first; itself alone
// where it is joined to none.
func (g groups) with(horse id) []id {
	lead := g.lead(horse)
	out := []id{lead}
	for i := 0; i < len(g); i += groupSize {
		if h := id(g[i : i+16]); h != lead && id(g[i+16:i+groupSize]) == lead {
			out = append(out, h)
		}
	}
	return out
}

// joined are the horses that are one with a horse; see groups.with.
func joined(tx txn, horse id) ([]id, error) {
	g, err := readGroups(tx)
	return g.with(horse), err
}

// summaries reads the summaries of all that are one with a horse, the one that leads first.
func summaries(tx txn, horse id) ([]*summary, error) {
	all, err := joined(tx, horse)
	if err != nil {
		return nil, err
	}
	out := make([]*summary, len(all))
	for i, h := range all {
		if out[i], err = readSummary(tx, h); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// makeGroups is which horses of the record are one, as the lines have it. A horse that is
// not here yet joins others and is itself left out.
func makeGroups(tx txn) (groups, error) {
	lines, err := readJoins(tx)
	if err != nil {
		return nil, err
	}
	var out groups
	all := lines.Groups()
	for _, one := range sortedHorses(all) {
		horse, ok := parseID(string(one))
		if !ok {
			return nil, damaged("a line joins a horse without an identity")
		}
		var here []id
		for _, h := range all[one] {
			other, ok := parseID(string(h))
			if !ok {
				return nil, damaged("a line joins a horse without an identity")
			}
			data, err := getRow(tx, bucketHorseLines, other[:])
			if err != nil {
				return nil, err
			}
			if data != nil {
				here = append(here, other)
			}
		}
		if len(here) > 1 && slices.Contains(here, horse) {
			out = append(append(out, horse[:]...), here[0][:]...)
		}
	}
	return out, nil
}

func sortedHorses(all map[exam.HorseID][]exam.HorseID) []exam.HorseID {
	out := make([]exam.HorseID, 0, len(all))
	for h := range all {
		out = append(out, h)
	}
	slices.Sort(out)
	return out
}

// regroup brings the groups up to the lines, and returns the horses of the record that are
// one with others than before.
func regroup(tx txn) ([]id, error) {
	if tx.namespace != visitsNamespace {
		return nil, nil
	}
	old, err := readGroups(tx)
	if err != nil {
		return nil, err
	}
	now, err := makeGroups(tx)
	if err != nil || bytes.Equal(old, now) {
		return nil, err
	}
	if err := putRow(tx, bucketMeta, []byte(rowGroups), now); err != nil {
		return nil, err
	}
	var changed []id
	for _, row := range []groups{old, now} {
		for i := 0; i < len(row); i += groupSize {
			h := id(row[i : i+16])
			if slices.Contains(changed, h) || slices.Equal(old.with(h), now.with(h)) {
				continue
			}
			lines, err := getRow(tx, bucketHorseLines, h[:])
			if err != nil {
				return nil, err
			}
			if lines != nil { // not gone with the laptop that wrote them
				changed = append(changed, h)
			}
		}
	}
	return changed, nil
}
