package storage

import (
	"fmt"

	"loosebox/exam"
)

// checkEntry says why a visit does not take the entry; nil where it does.
func checkEntry(tx txn, visit id, h head, e exam.Entry) error {
	if err := checkKind(e); err != nil {
		return err
	}
	if h.seq >= maxEntries {
		return tooMuch("the visit")
	}
	if h.closed && (e.Kind == exam.EntryClosed || e.Kind != exam.EntryAdded && e.Corrects == 0) {
		return fmt.Errorf("%w; nothing was saved. Correct it, add later entries, or open a new visit", exam.ErrClosed)
	}
	if err := checkSigned(e.By, e.At); err != nil || e.Corrects == 0 {
		return err
	}
	if e.Corrects < 0 || e.Corrects > h.seq {
		return fmt.Errorf("there is no entry %d to correct; nothing was saved", e.Corrects)
	}
	list, _, err := readEntries(tx, visit, h)
	if err != nil {
		return err
	}
	old := list[e.Corrects-1]
	if old.Step != e.Step || old.Site != e.Site || isAnswer(old) != isAnswer(e) || !isAnswer(e) && saidKind(old) != saidKind(e) {
		return fmt.Errorf("entry %d is %q of %q %q, which %q of %q %q does not correct; nothing was saved",
			e.Corrects, old.Kind, old.Step, old.Site, e.Kind, e.Step, e.Site)
	}
	return nil
}

// checkAmendment asks a closed visit whether it takes the entry.
func checkAmendment(tx txn, visit id, h head, e exam.Entry) error {
	if !h.closed {
		return nil
	}
	v, err := readVisit(tx, visit)
	if err != nil {
		return err
	}
	return exam.CheckAmendment(v, e)
}

// isAnswer says that an entry answers a step.
func isAnswer(e exam.Entry) bool {
	return e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone ||
		e.Kind == exam.EntryAdded && e.Step != "" && (e.Value != nil || e.Reason != "")
}

// saidKind is the kind of what an entry says: a note that was added later is a note.
func saidKind(e exam.Entry) exam.EntryKind {
	if e.Kind != exam.EntryAdded {
		return e.Kind
	}
	switch {
	case e.HandOff != nil:
		return exam.EntryHandedOff
	case e.Decision != nil:
		return exam.EntryDecision
	case e.Injection != nil:
		return exam.EntryInjection
	case e.Draw != nil:
		return exam.EntryDraw
	case e.Watch != nil:
		return exam.EntryWatch
	case e.Reading != nil:
		return exam.EntryRead
	case e.Taken != nil:
		return exam.EntryTaken
	default:
		return exam.EntryNote
	}
}

// checkKind refuses an entry that could not be folded later.
func checkKind(e exam.Entry) error {
	switch e.Kind {
	case exam.EntryContext, exam.EntryNote, exam.EntryHandedOff, exam.EntryDecision, exam.EntryInjection,
		exam.EntryDraw, exam.EntryWatch, exam.EntryRead, exam.EntryTaken, exam.EntryClosed, exam.EntryAdded:
		return nil
	case exam.EntryFinding, exam.EntryNotDone:
		if e.Step == "" {
			return fmt.Errorf("an answer needs its step; nothing was saved")
		}
		return nil
	case exam.EntryOpened:
		return fmt.Errorf("a visit is opened once; nothing was saved")
	case exam.EntryStruck:
		return fmt.Errorf("a visit is voided as a whole, not by a line; nothing was saved")
	default:
		return fmt.Errorf("%q is no kind of entry; nothing was saved", e.Kind)
	}
}
