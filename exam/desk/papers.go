package desk

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Note writes an earlier dose of a horse down. It goes into the visit that is
// open on this laptop; where there is none, into the one that holds the horse's papers, which is
// made and closed at the first dose, so that nobody takes it for an exam. It
// waits for the store: only commands call it. It returns the visit and the entry.
func (d Desk) Note(h exam.HorseID, l exam.InjectionLine, by string, at time.Time) (exam.VisitID, exam.Entry, error) {
	horse, err := d.Store.Horse(h)
	if err != nil {
		return "", exam.Entry{}, fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)
	}
	past, err := d.Store.Past(h, 0)
	if err != nil {
		return "", exam.Entry{}, fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)
	}
	e := exam.Entry{Kind: exam.EntryInjection, At: at, By: by, Injection: &l}
	v, found := holder(past)
	if !found {
		v, err = d.Store.Begin(exam.Entry{
			Kind: exam.EntryOpened, At: at, By: by, Opening: &exam.Opening{Horse: horse, Routine: exam.RoutinePapers},
		})
		if err != nil {
			return "", e, fmt.Errorf("NOT saved: %w", err)
		}
	}
	if v.Closed() {
		e.Reason = string(exam.AmendPastDose)
	}
	e.Visit, l.Number = v.ID, len(v.Injections)+1
	stored, err := d.Write(e)
	if err != nil {
		return v.ID, e, err
	}
	if !v.Closed() && v.Routine == exam.RoutinePapers {
		if _, err := d.Write(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: at, By: by}); err != nil {
			return v.ID, stored, fmt.Errorf("the dose is saved; its visit is not closed yet: %w", err)
		}
	}
	return v.ID, stored, nil
}

// holder is the visit that takes an earlier dose, out of a horse's visits.
func holder(past []exam.Visit) (exam.Visit, bool) {
	if v, open := exam.GoesOn(past); open {
		return v, true
	}
	for _, v := range past {
		if v.OnlyPapers() {
			return v, true
		}
	}
	return exam.Visit{}, false
}

// PutRight corrects an earlier dose that was noted: the line as it should be, in
// the place of the injection with that number. It waits for the store.
func (d Desk) PutRight(id exam.VisitID, number int, l exam.InjectionLine, by, why string, at time.Time) (exam.Entry, error) {
	v, err := d.Store.Visit(id)
	if err != nil {
		return exam.Entry{}, fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)
	}
	i, ok := v.Injection(number)
	if !ok || !i.Earlier() {
		return exam.Entry{}, &notation.Refusal{Why: fmt.Sprintf("injection %d of this visit is not a past dose", number)}
	}
	l.Number = number
	return d.Write(exam.Entry{Visit: id, Kind: exam.EntryInjection, At: at, By: by, Reason: why, Corrects: i.Seq, Injection: &l})
}
