package desk

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

// NextCheck is what the next check of an episode is begun with.
type NextCheck struct {
	Next   notation.Moment // when the one after it is due; the zero Moment for none
	Reason string          // empty for that of the check before
}

// Again begins a five-minute check of a horse and sets the time of the next one. It waits
// for the store. A visit that is not finished is refused with an *notation.Refusal: two
// visits of one horse are not open at once on one laptop.
func (d Desk) Again(h exam.HorseID, c NextCheck, by string, at time.Time) (OpenedVisit, error) {
	horse, err := d.Store.Horse(h)
	if err != nil {
		return OpenedVisit{}, fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)
	}
	past, err := d.Store.Past(h, 0)
	if err != nil {
		return OpenedVisit{}, fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)
	}
	if v, open := exam.GoesOn(past); open {
		return OpenedVisit{}, &notation.Refusal{Why: fmt.Sprintf("the visit begun at %s is not finished: finish it first", notation.Clock(v.OpenedAt, at))}
	}
	if seen := exam.LookedAt(past); c.Reason == "" && len(seen) > 0 && at.Sub(seen[0].OpenedAt) <= episode.Apart {
		c.Reason = seen[0].Reason
	}
	o, err := d.Begin(exam.Opening{Horse: horse, Routine: steps.FiveMinutes, Reason: c.Reason}, exam.Context{}, by, at)
	if err != nil || c.Next.Day == "" {
		return o, err
	}
	line := exam.RecheckAt(c.Next, "five-minute check")
	if _, err := d.Write(exam.Entry{Visit: o.Visit.ID, Kind: exam.EntryNote, At: at, By: by, Recheck: &line}); err != nil {
		o.Partly = fmt.Errorf("the visit is open, but the time of the next check is NOT saved: %w", err)
	}
	return o, nil
}

// Episode reads the episode that holds a visit, or the newest one of a horse where visit
// is empty, in the units in which a person works, with its visits, newest first; there are
// none of them where there is no episode.
func (d Desk) Episode(h exam.HorseID, visit exam.VisitID, units notation.Units, now time.Time) (episode.Episode, []exam.Visit, error) {
	past, err := d.Store.Past(h, 0)
	if err != nil {
		return episode.Episode{}, nil, fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)
	}
	checks := episode.Of(past, visit)
	if len(checks) == 0 {
		return episode.Episode{}, nil, nil
	}
	earlier := checks[len(checks)-1].Before(past)
	return episode.Make(units, checks, exam.LookedAt(earlier), d.Judge, d.Steps, now), checks, nil
}
