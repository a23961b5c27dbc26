package round

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
)

// Read makes the round of a day out of a store: every horse with all its visits,
// because a dose of years ago decides what is due.
func Read(store exam.Store, day string, now time.Time, schedule *due.Table) (Round, error) {
	horses, err := store.Horses()
	if err != nil {
		return Round{}, fmt.Errorf("the list of horses cannot be read; nothing was changed: %w", err)
	}
	yard := make([]Yard, len(horses))
	for i, f := range horses {
		yard[i].Horse = f.Horse
		if f.Visits == 0 {
			continue
		}
		if yard[i].Visits, err = store.Past(f.Horse.ID, 0); err != nil {
			return Round{}, fmt.Errorf("the visits of %s cannot be read; nothing was changed: %w", exam.CleanLine(f.Horse.Name, 40), err)
		}
	}
	lines, err := store.RoundLines(From(day), day)
	if err != nil {
		return Round{}, fmt.Errorf("the round of %s cannot be read; nothing was changed: %w", day, err)
	}
	return Plan(day, Moment(day, now), yard, lines, schedule), nil
}

// Today is the day of a moment, as rounds are named.
func Today(now time.Time) string { return dayOf(now) }
