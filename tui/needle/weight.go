package needle

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/volume"
)

// asSaid is the method of a weight that was typed for this procedure.
const asSaid = "as said"

// Weight is the horse's last weight in the record, this visit's first; the zero
// value where it was never weighed.
func (s Stand) Weight(now time.Time) volume.Weight {
	return volume.Known(append([]exam.Visit{s.Visit}, s.Earlier...), now)
}

// weightFrom says where a weight comes from, for the record of a dose.
func weightFrom(w volume.Weight, now time.Time) string {
	switch {
	case w.Kg <= 0:
		return ""
	case w.Method == asSaid:
		return asSaid
	case w.Method == "":
		return "of " + dayOf(w, now)
	}
	return fmt.Sprintf("%s, %s", w.Method, dayOf(w, now))
}

func dayOf(w volume.Weight, now time.Time) string {
	return now.Add(-time.Duration(w.AgeDays * 24 * float64(time.Hour))).Format(exam.DayForm)
}
