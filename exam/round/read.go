package round

import (
	"context"
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/progress"
)

// Read makes the round of a day out of a store. It looks at the outline of every
// horse, because a dose of years ago decides what is due, and holds one at a time.
func Read(ctx context.Context, store exam.Store, day string, now time.Time, schedule *due.Table, j *judge.Judge) (Round, error) {
	horses, err := store.Horses()
	if err != nil {
		return Round{}, fmt.Errorf("the list of horses cannot be read; nothing was changed: %w", err)
	}
	ids := make([]exam.HorseID, len(horses))
	for i, f := range horses {
		ids[i] = f.Horse.ID
	}
	return again(ctx, store, Round{Day: day}, now, schedule, j, ids...)
}

// Again is a round after something changed of some horses: only they are read.
func Again(store exam.Store, r Round, now time.Time, schedule *due.Table, j *judge.Judge, changed ...exam.HorseID) (Round, error) {
	return again(context.Background(), store, r, now, schedule, j, changed...)
}

func again(ctx context.Context, store exam.Store, r Round, now time.Time, schedule *due.Table, j *judge.Judge, changed ...exam.HorseID) (Round, error) {
	lines, err := store.RoundLines(From(r.Day), r.Day)
	if err != nil {
		return Round{}, fmt.Errorf("the round of %s cannot be read; nothing was changed: %w", r.Day, err)
	}
	m := newMaker(r.Day, Moment(r.Day, now), lines, schedule, j)
	out := Round{Day: r.Day, At: m.at, Calls: []Call{}}
	anew := make(map[exam.HorseID]bool, len(changed))
	for _, id := range changed {
		anew[id] = true
	}
	for _, c := range r.Calls {
		if !anew[c.Horse.ID] {
			out.Calls = append(out.Calls, c)
		}
	}
	calls, err := progress.Each(ctx, "horses", changed, func(id exam.HorseID) (*Call, error) { return m.read(store, id) })
	if err != nil {
		return Round{}, err
	}
	for _, c := range calls {
		if c != nil {
			out.Calls = append(out.Calls, *c)
		}
	}
	slices.SortFunc(out.Calls, before)
	return out, nil
}

// read is a horse's line of the round; nil where nothing puts it there.
func (m *maker) read(store exam.Store, id exam.HorseID) (*Call, error) {
	h, err := store.Horse(id)
	if err != nil {
		return nil, fmt.Errorf("a horse of the round cannot be read; nothing was changed: %w", err)
	}
	// Most horses have no reason to be there, which is seen without their findings.
	var c Call
	for _, since := range []time.Time{due.Since(m.at), m.at.AddDate(0, 0, -SignDays)} {
		visits, err := store.Outline(id, since)
		if err != nil {
			return nil, fmt.Errorf("the visits of %s cannot be read; nothing was changed: %w", notation.CleanLine(h.Name, 40), err)
		}
		var ok bool
		if c, ok = m.call(Yard{h, visits}); !ok {
			return nil, nil
		}
	}
	return &c, nil
}

// Today is the day of a moment, as rounds are named.
func Today(now time.Time) string { return dayOf(now) }
