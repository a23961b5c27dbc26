package storage

import (
	"bytes"
	"maps"
	"slices"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// located is a line and what it is about: what the index of a namespace keeps of it.
type located struct {
	place
	identity exam.Hash
	heads    []signedlog.Head
	kind     exam.LineKind
	about    id     // the visit of an entry, the horse of a revision
	day      string // of a line of a round
	setting  exam.SettingKey
}

// locate reads what a line of a namespace is about. It reads nothing of the file.
func locate(b namespace, l line) (located, error) {
	out := located{place: l.place, identity: l.identity, heads: l.Heads}
	kind, _, err := exam.SplitLine(l.Body)
	if err != nil {
		return out, err
	}
	out.kind = kind
	switch kind {
	case exam.LineEntry:
		var e struct {
			Visit exam.VisitID `json:"visit"`
		}
		if err := l.read(kind, &e); err != nil {
			return out, err
		}
		var ok bool
		if out.about, ok = parseID(string(e.Visit)); !ok {
			return out, damaged("record %d of log %s names no visit", l.n, l.log.name)
		}
	case exam.LineHorse:
		var line horseLine
		if err := l.read(kind, &line); err != nil {
			return out, err
		}
		var ok bool
		if out.about, ok = parseID(string(line.Horse.ID)); !ok {
			return out, damaged("record %d of log %s names no horse", l.n, l.log.name)
		}
	case exam.LineRound:
		var r exam.RoundLine
		if err := l.read(kind, &r); err != nil {
			return out, err
		}
		if err := r.Check(); err != nil {
			return out, damaged("record %d of log %s: %v", l.n, l.log.name, err)
		}
		out.day = r.Day
	case exam.LineJoin:
		if b != visitsNamespace {
			return out, damaged("record %d of log %s joins simulated horses", l.n, l.log.name)
		}
	case exam.LinePractice:
		var s exam.Setting
		if err := l.read(kind, &s); err != nil {
			return out, err
		}
		if out.setting = s.Key; b != visitsNamespace || s.Check() != nil {
			return out, damaged("record %d of log %s is no setting of a practice", l.n, l.log.name)
		}
	case exam.LineSettings: // a machine's own, read from its row
	}
	return out, nil
}

// put stores where the line is.
func (l located) put(tx txn) error {
	if err := putHeads(tx, l.place, l.heads); err != nil {
		return err
	}
	switch l.kind {
	case exam.LineEntry:
		return indexEntries(tx, l.about, []located{l})
	case exam.LineHorse:
		return addRun(tx, bucketHorseLines, l.about[:], l.place)
	case exam.LineRound:
		return addRun(tx, bucketRoundLines, []byte(l.day), l.place)
	case exam.LineJoin:
		return addRun(tx, bucketMeta, []byte(rowJoins), l.place)
	case exam.LinePractice:
		return addRun(tx, bucketSettingLines, []byte(l.setting), l.place)
	case exam.LineSettings:
	}
	return nil
}

// putAll stores where many lines are, with one row for each visit.
func putAll(tx txn, list []located) error {
	visits := map[id][]located{}
	for _, l := range list {
		if l.kind != exam.LineEntry {
			if err := l.put(tx); err != nil {
				return err
			}
			continue
		}
		if err := putHeads(tx, l.place, l.heads); err != nil {
			return err
		}
		visits[l.about] = append(visits[l.about], l)
	}
	order := slices.SortedFunc(maps.Keys(visits), func(a, b id) int { return bytes.Compare(a[:], b[:]) })
	for _, visit := range order { // pages fill as keys come in their order
		if err := indexEntries(tx, visit, visits[visit]); err != nil {
			return err
		}
	}
	return nil
}

// indexEntries notes where entries of a visit lie; the rest of the head is derived later.
func indexEntries(tx txn, visit id, lines []located) error {
	data, err := getRow(tx, bucketVisits, visit[:])
	if err != nil {
		return err
	}
	h := head{waiting: true}
	if data != nil {
		if h, err = decodeHead(data); err != nil {
			return err
		}
	}
	for _, l := range lines {
		h.where = h.where.with(l.place)
		if h.last == "" {
			h.last = l.identity
		}
	}
	return h.write(tx, visit)
}

// indexing gathers lines until there are enough for one transaction, or one step of it.
type indexing struct {
	lines []located
	flush func([]located) error
}

func (x *indexing) add(list []located) error {
	if x.lines = append(x.lines, list...); len(x.lines) < inOne {
		return nil
	}
	return x.end()
}

func (x *indexing) end() error {
	if len(x.lines) == 0 {
		return nil
	}
	now := x.lines
	x.lines = nil
	return x.flush(now)
}
