package tour

import (
	"fmt"
	"sync"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// paper is the store of the tour: it holds one visit in memory, never on the disk. All other reads go to the record.
type paper struct {
	exam.Store
	mu      sync.Mutex
	visit   exam.Visit
	entries []exam.Entry
}

// The identities of the tour's horse and visit.
const (
	paperVisit exam.VisitID = "tour"
	paperHorse exam.HorseID = "tour"
)

// Begin opens the one visit.
func (p *paper) Begin(first exam.Entry) (exam.Visit, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.visit, p.entries = exam.Visit{}, nil
	first.Visit = paperVisit
	_, err := p.write(first)
	return p.visit, err
}

// Append adds an entry as a store does, with its digest over the one before.
func (p *paper) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch {
	case e.Visit != paperVisit || len(p.entries) == 0:
		return e, fmt.Errorf("visit %s: %w", notation.CleanLine(string(e.Visit), 60), exam.ErrNotFound)
	case p.visit.Closed():
		return e, exam.ErrClosed
	}
	if err := authorization.CheckDecided(p.visit, e); err != nil {
		return e, err
	}
	for _, check := range checks {
		if err := check(onPaper{p.visit}); err != nil {
			return e, err
		}
	}
	return p.write(e)
}

// onPaper is the one visit, of a horse without a past.
type onPaper struct{ visit exam.Visit }

func (o onPaper) Visit() (exam.Visit, error)  { return o.visit, nil }
func (o onPaper) Past() ([]exam.Visit, error) { return []exam.Visit{o.visit}, nil }

func (p *paper) write(e exam.Entry) (exam.Entry, error) {
	e, err := exam.Clean(e)
	if err != nil {
		return e, err
	}
	e.Seq, e.Prev = p.visit.Entries+1, p.visit.Last
	if err := exam.Seal(&e); err != nil {
		return e, err
	}
	p.entries = append(p.entries, e)
	v, err := exam.Fold(p.entries)
	if err != nil {
		return e, err
	}
	p.visit = v
	return e, nil
}

// Visit is the visit on paper.
func (p *paper) Visit(id exam.VisitID) (exam.Visit, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if id != paperVisit {
		return exam.Visit{}, fmt.Errorf("visit %s: %w", notation.CleanLine(string(id), 60), exam.ErrNotFound)
	}
	return exam.Fold(p.entries)
}

// Entries are the lines on paper.
func (p *paper) Entries(id exam.VisitID) ([]exam.Entry, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if id != paperVisit {
		return nil, fmt.Errorf("visit %s: %w", notation.CleanLine(string(id), 60), exam.ErrNotFound)
	}
	return append([]exam.Entry(nil), p.entries...), nil
}

// Past is empty for the horse of the tour.
func (p *paper) Past(exam.HorseID, int) ([]exam.Visit, error) { return nil, nil }
