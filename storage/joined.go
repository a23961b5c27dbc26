package storage

import (
	"bytes"
	"fmt"
	"slices"
	"sort"

	"loosebox/exam"
	"loosebox/exam/notation"
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
	return out, nil
}

// groups are the horses of the record that are one with others.
type groups []byte

const groupSize = 32

func readGroups(tx txn) (groups, error) {
	if tx.book != bookVisits {
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
	if tx.book != bookVisits {
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

// said reads what was said of some horses that are one, in the order of the record; lines
// about a horse that is not one with them now are left out.
func said(tx txn, all []id) ([]horseLine, error) {
	var where runs
	for _, h := range all {
		r, err := readRuns(tx, bucketHorseLines, h[:])
		if err != nil {
			return nil, err
		}
		where = append(where, r...)
	}
	lines, err := readLines(tx, where)
	if err != nil {
		return nil, err
	}
	is := make(map[exam.HorseID]bool, len(all))
	for _, h := range all {
		is[h.horse()] = true
	}
	var out []horseLine
	var counted []line
	for _, l := range lines {
		var one horseLine
		if err := l.read(exam.LineHorse, &one); err != nil {
			return nil, err
		}
		if !is[one.Horse.ID] {
			return nil, damaged("record %d of log %s is of another horse", l.n, l.log.name)
		}
		if slices.ContainsFunc(one.Of, func(h exam.HorseID) bool { return !is[h] }) {
			continue
		}
		counted = append(counted, l)
		one.Horse.Revision = len(counted)
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, damaged("what was said of horse %s is missing", all[0])
	}
	if ofOneLog(counted) {
		return out, nil
	}
	missing, err := unseen(tx, counted)
	for i := range missing {
		out[i].Unseen = missing[i]
	}
	return out, err
}

// foldHorse is a horse as its summary has it: the one that leads as all that are one with
// it make it, every other by itself.
func foldHorse(tx txn, g groups, horse id) (exam.Horse, error) {
	all := []id{horse}
	if g.lead(horse) == horse {
		all = g.with(horse)
	}
	lines, err := said(tx, all)
	if err != nil {
		return exam.Horse{}, err
	}
	return exam.FoldHorse(lines)
}

// asOne puts visits under the horse that leads theirs. An open visit has the cautions and
// reactions of all.
func asOne(tx txn, visits []exam.Visit) error {
	g, err := readGroups(tx)
	if err != nil || len(g) == 0 {
		return err
	}
	for i := range visits {
		v := &visits[i]
		own, ok := parseID(string(v.Horse.ID))
		if !ok {
			continue
		}
		all := g.with(own)
		if len(all) == 1 {
			continue
		}
		v.Horse.ID = all[0].horse()
		if v.Closed() {
			continue
		}
		s, err := readSummary(tx, all[0])
		if err != nil {
			return err
		}
		h, err := s.horse()
		if err != nil {
			return err
		}
		v.Horse.Cautions, v.Horse.Reactions = exam.United(v.Horse.Cautions, h.Cautions), exam.United(v.Horse.Reactions, h.Reactions)
	}
	return nil
}

// one is asOne for one visit.
func one(tx txn, v exam.Visit) (exam.Visit, error) {
	list := []exam.Visit{v}
	err := asOne(tx, list)
	return list[0], err
}

// saveJoined adds a revision of a horse that is several records. What is added to its
// cautions and reactions is also said of each record, so that it stays where they are
// parted again; all else stands as long as they are one.
func saveJoined(tx txn, all []id, l horseLine, united exam.Horse) error {
	for _, h := range all {
		lines, err := said(tx, []id{h})
		if err != nil {
			return err
		}
		own, err := exam.FoldHorse(lines)
		if err != nil {
			return err
		}
		before := own
		own.Cautions = exam.United(own.Cautions, exam.Beyond(l.Horse.Cautions, united.Cautions))
		own.Reactions = exam.United(own.Reactions, exam.Beyond(l.Horse.Reactions, united.Reactions))
		if len(own.Cautions) == len(before.Cautions) && len(own.Reactions) == len(before.Reactions) {
			continue
		}
		own.Revision, own.Differ = before.Revision+1, nil
		line, err := cleanHorseLine(horseLine{Horse: own, By: l.By, At: l.At})
		if err == nil {
			err = putHorse(tx, h, line)
		}
		if err != nil {
			return err
		}
	}
	for _, h := range all {
		l.Of = append(l.Of, h.horse())
	}
	return putHorse(tx, all[0], l)
}

// Join writes that horses are one, or that the first is none of the others; then Undoes is
// set here. What is derived follows in the same transaction. The error is a
// *notation.Refusal where there is nothing to join or to part, and wraps exam.ErrNotFound
// where a horse is not in the record.
func (r *Record) Join(j exam.Joining) error {
	j, err := exam.Clean(j)
	if err != nil {
		return err
	}
	if err := j.Check(); err != nil {
		return err
	}
	if r.book != bookVisits {
		return &notation.Refusal{Why: "A simulated horse is joined to no other. Nothing was saved."}
	}
	return r.update(func(tx txn) error {
		lines, err := readJoins(tx)
		if err != nil {
			return err
		}
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		together := 0
		first, _ := parseID(string(j.Horses[0]))
		for _, h := range j.Horses {
			key, ok := parseID(string(h))
			if !ok {
				return exam.NoSuch("no horse has the number %q in the record", notation.CleanLine(string(h), 60))
			}
			if _, err := readSummary(tx, key); err != nil {
				return err
			}
			if g.lead(key) == g.lead(first) {
				together++
			}
		}
		if j.Undoes = nil; j.Apart {
			j.Undoes = lines.Undoing(j.Horses[0])
		} else if together == len(j.Horses) {
			return &notation.Refusal{Why: "They are one horse in the record already. Nothing was saved."}
		}
		p, _, _, err := add(tx, exam.LineJoin, j)
		if err != nil {
			return err
		}
		if err := addRun(tx, bucketMeta, []byte(rowJoins), p); err != nil {
			return err
		}
		changed, err := regroup(tx)
		if err != nil {
			return err
		}
		return deriveHorses(tx, changed)
	})
}

// deriveHorses writes summaries and outlines of some horses as they are now.
func deriveHorses(tx txn, all []id) error {
	for _, h := range all {
		if _, err := deriveHorse(tx, h); err != nil {
			return err
		}
	}
	for _, h := range all {
		if err := outline(tx, h); err != nil {
			return fmt.Errorf("after joining: %w", err)
		}
	}
	return nil
}

// Joinings lists the lines that join and part horses, in the order of the record.
func (r *Record) Joinings() (exam.Joinings, error) {
	var out exam.Joinings
	err := r.view(func(tx txn) (err error) {
		if tx.book == bookVisits {
			out, err = readJoins(tx)
		}
		return err
	})
	return out, err
}
