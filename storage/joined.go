package storage

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
)

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

// asOne gives visits the horse that leads their group. An open visit gets the cautions and
// reactions of the whole group.
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
	if r.namespace != visitsNamespace {
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
		} else if together == len(j.Horses) && len(lines.DisputesOf(exam.Horse{ID: j.Horses[0]})) == 0 {
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
		if tx.namespace == visitsNamespace {
			out, err = readJoins(tx)
		}
		return err
	})
	return out, err
}
