package desk

import (
	"errors"
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// Write checks an entry and adds it to its visit in one transaction of the store. What is said of a closed visit is added
// later, for the entry's reason. Where the entry is refused the error is an *notation.Refusal or wraps exam.ErrRefused, and
// nothing was written; the entry comes back as it is stored.
func (d Desk) Write(e exam.Entry) (exam.Entry, error) {
	if e.Kind != exam.EntryFinding && e.Kind != exam.EntryNotDone && e.Kind != exam.EntryContext && e.Kind != exam.EntryAdded {
		var err error
		if e, err = d.placed(e); err != nil {
			return e, notStored(err)
		}
	}
	stored, err := d.Store.Append(e, d.check(e)...)
	if err != nil {
		return e, notStored(err)
	}
	return stored, nil
}

// placed gives an entry the kind that the visit takes now: that of the line which it corrects, or an addition to a closed visit.
func (d Desk) placed(e exam.Entry) (exam.Entry, error) {
	v, err := d.Store.Visit(e.Visit)
	if err != nil {
		return e, err
	}
	after := v.Closed() // of a decision: made after the visit was closed
	switch {
	case e.Corrects > 0:
		entries, err := d.Store.Entries(e.Visit)
		if err != nil {
			return e, err
		}
		if e.Corrects <= len(entries) {
			e.Kind = entries[e.Corrects-1].Kind
			was := entries[e.Corrects-1].Decision
			after = was != nil && was.AfterClosing
		}
	case v.Closed() && e.Kind != exam.EntryClosed:
		e.Kind = exam.EntryAdded
		if e.Reason == "" && e.Reading != nil {
			e.Reason = string(exam.AmendRead)
		}
		if e.Reason == "" && v.OrderedAfterClosing(e) {
			e.Reason = string(exam.AmendDecided)
		}
	}
	if e.Decision != nil && e.Decision.AfterClosing != after {
		marked := *e.Decision
		marked.AfterClosing = after
		e.Decision = &marked
	}
	if v.Closed() && e.Amend == nil && e.Reason != "" {
		e.Amend = &exam.Amendment{Why: exam.AmendReason(e.Reason)}
	}
	return e, nil
}

// check is what the store asks before it writes an entry. Answers and notes ask nothing, and cost no reading.
func (d Desk) check(e exam.Entry) []exam.Check {
	if e.Kind != exam.EntryClosed && e.Decision == nil && e.Injection == nil && e.Draw == nil && e.Watch == nil && e.Formality == nil && e.Reading == nil {
		return nil
	}
	return []exam.Check{func(s exam.ReadTx) error {
		v, err := s.Visit()
		if err != nil {
			return err
		}
		past, err := s.Past()
		if err != nil {
			return err
		}
		if err := authorization.CheckEntry(v, d.Judge.Ended(v, v.Before(past)).Remarks, e); err != nil {
			return err
		}
		return authorization.CheckOver(v, e, d.Waits)
	}}
}

// notStored says of an error of the store what became of the entry; what was refused says that itself.
func notStored(err error) error {
	var refused *notation.Refusal
	if errors.As(err, &refused) || errors.Is(err, exam.ErrRefused) {
		return err
	}
	return fmt.Errorf("NOT saved; everything before it is saved: %w", err)
}

// WriteAll writes entries one after the other, each durable before the next, up to the first error. It returns what was stored.
func (d Desk) WriteAll(entries ...exam.Entry) ([]exam.Entry, error) {
	stored := make([]exam.Entry, 0, len(entries))
	for _, e := range entries {
		back, err := d.Write(e)
		if err != nil {
			return stored, err
		}
		stored = append(stored, back)
	}
	return stored, nil
}

// OpenedVisit is a visit that was begun. Partly is an error that says what of its beginning is not stored although it is open.
type OpenedVisit struct {
	Visit  exam.Visit
	Partly error
}

// Begin opens a visit, and writes down what the horse had been doing and was given before where context is not empty.
func (d Desk) Begin(opening exam.Opening, context exam.Context, by string, at time.Time) (OpenedVisit, error) {
	v, err := d.Store.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: by, Opening: &opening})
	if err != nil {
		return OpenedVisit{}, fmt.Errorf("the visit is NOT opened; nothing was saved: %w", err)
	}
	o := OpenedVisit{Visit: v}
	if context.Empty() {
		return o, nil
	}
	if _, err := d.Write(exam.Entry{Visit: v.ID, Kind: exam.EntryContext, At: at, By: by, Context: &context}); err != nil {
		o.Partly = fmt.Errorf("the visit is open, but what the horse did and was given is NOT saved: %w", err)
	}
	return o, nil
}

// Ending is how a visit is closed: why the steps that are left were not done, with words of the person's own, why there is
// no hand-off where one is due, and entries that are written before the others.
type Ending struct {
	Left          []exam.Key
	Reason, Words string
	Without       exam.NoHandOff
	First         []exam.Entry
}

// Close writes every place that is left as not done, then closes the visit: no silent gap stays. It is asked first whether
// the visit may be closed, so that a refusal writes nothing; by signs, and now is asked for each line's time. It returns what
// was stored, also beside an error.
func (d Desk) Close(id exam.VisitID, end Ending, by string, now func() time.Time) ([]exam.Entry, error) {
	closing := exam.Entry{Visit: id, Kind: exam.EntryClosed, At: now(), By: by, WithoutHandOff: end.Without}
	j, err := d.Read(id)
	if err != nil {
		return nil, err
	}
	if err := authorization.CheckEntry(j.Visit, j.Verdict.Remarks, closing); err != nil {
		return nil, err
	}
	lines := append([]exam.Entry(nil), end.First...)
	for _, k := range end.Left {
		lines = append(lines, exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: end.Reason, Note: end.Words})
	}
	stored := make([]exam.Entry, 0, len(lines)+1)
	for _, e := range append(lines, closing) {
		e.Visit, e.By, e.At = id, by, now()
		back, err := d.Write(e)
		if err != nil {
			return stored, fmt.Errorf("the visit is not closed; every answer is saved: %w", err)
		}
		stored = append(stored, back)
	}
	return stored, nil
}
