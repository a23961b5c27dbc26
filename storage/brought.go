package storage

import (
	"runtime"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// brought is a segment from outside, read as far as possible without looking into the record.
type brought struct {
	signedlog.Segment
	digests []signedlog.Digest
	why     error // its key did not sign it
	lines   []broughtLine
	// rehearses says that a rehearsal is opened in it, or in another part of its log.
	rehearses bool
}

// broughtLine is what one record of it is about.
type broughtLine struct {
	located
	counter  uint64
	entry    exam.Entry
	readable bool // this version reads it, and it belongs to the namespace
}

// bring verifies and reads a segment.
func bring(s signedlog.Segment) brought {
	b := brought{Segment: s}
	if b.digests, b.why = s.Verify(); b.why != nil {
		return b
	}
	b.lines = make([]broughtLine, len(s.Cores))
	for i, core := range s.Cores {
		l := &b.lines[i]
		rec, err := signedlog.ParseCore(core)
		if err != nil {
			continue
		}
		l.n, l.identity, l.heads, l.counter = s.First+uint64(i), exam.Hash(b.digests[i].String()), rec.Heads, rec.Counter
		l.readable = l.read(namespaceOf(s), rec.Body)
		b.rehearses = b.rehearses || l.readable && s.Rehearsals && l.entry.Opening != nil
	}
	return b
}

// bringAll is bring of many, on all cores, in their order.
func bringAll(list []signedlog.Segment, take func(brought) error) error {
	work := make([]func(signedlog.Segment) (brought, error), min(runtime.GOMAXPROCS(0), len(list)))
	for i := range work {
		work[i] = func(s signedlog.Segment) (brought, error) { return bring(s), nil }
	}
	a := newAssembly(work, take)
	var err error
	for _, s := range list {
		if err = a.Put(s); err != nil {
			break
		}
	}
	return a.End(err)
}

// read reads the whole line, and says whether it can be read and belongs to the namespace.
func (l *broughtLine) read(b namespace, body []byte) (ok bool) {
	kind, _, err := exam.SplitLine(body)
	if err != nil {
		return false
	}
	l.kind = kind
	switch kind {
	case exam.LineEntry:
		e := &l.entry
		if exam.ReadLine(kind, body, e) != nil {
			return false
		}
		l.about, ok = parseID(string(e.Visit))
		return ok && (e.Opening == nil || exam.CheckApart(*e.Opening, b == rehearsalsNamespace) == nil)
	case exam.LineHorse:
		var h horseLine
		err = exam.ReadLine(kind, body, &h)
		l.about, ok = parseID(string(h.Horse.ID))
		return err == nil && ok
	case exam.LineRound:
		var r exam.RoundLine
		err = exam.ReadLine(kind, body, &r)
		l.day = r.Day
		return err == nil && r.Check() == nil
	case exam.LineJoin:
		var j exam.Joining
		return b == visitsNamespace && exam.ReadLine(kind, body, &j) == nil && j.Check() == nil && allIDs(j.Horses)
	case exam.LinePractice:
		var s exam.Setting
		err = exam.ReadLine(kind, body, &s)
		l.setting = s.Key
		return err == nil && b == visitsNamespace && s.Check() == nil
	case exam.LineSettings:
	}
	return true
}
