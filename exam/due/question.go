package due

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
)

// woundDays is how long a wound in the record raises the question; our own.
const woundDays = 7

// Since is from when on the visits that For is given must be whole; older ones may be as an outline holds them.
func Since(now time.Time) time.Time { return now.AddDate(0, 0, -woundDays-1) }

// Booster is the question that a wound or surgery raises: whether tetanus is to
// be given. It is asked where the last dose is over six months old or none is
// known (AAEP adult chart: booster at a penetrating wound or surgery if the last
// dose is over six months old). The veterinarian answers it.
func Booster(visits []exam.Visit, now time.Time) (string, bool) {
	doses := Doses(visits, "tetanus")
	const source = "(AAEP adult horse vaccination chart)"
	if len(doses) == 0 {
		return "A wound or surgery, and no tetanus dose is recorded: ask the veterinarian whether one is due. " + source, true
	}
	last := doses[len(doses)-1]
	if !day(now).After(addMonths(last.On, 6)) {
		return "", false
	}
	return fmt.Sprintf("A wound or surgery, and the last tetanus dose (%s) is over six months old. Ask the veterinarian whether a booster is due. %s", last.Day(), source), true
}

// questions asks about tetanus where a visit of the last days shows a wound.
func questions(visits []exam.Visit, now time.Time) []string {
	for i := range visits {
		v := &visits[i]
		if now.Sub(v.OpenedAt) > woundDays*24*time.Hour || v.OpenedAt.After(now) || !Wounded(*v) {
			continue
		}
		if text, ask := Booster(visits, now); ask {
			return []string{text}
		}
	}
	return nil
}

// Wounded says that a visit has a wound among its findings, or a wound or
// surgery as its reason.
func Wounded(v exam.Visit) bool {
	for _, f := range v.Findings {
		for _, key := range []string{"wound", "jointwound", "deepwound"} {
			if f.Value.Has(key) {
				return true
			}
		}
	}
	reason := strings.ToLower(v.Reason)
	for _, word := range []string{"wound", "cut ", "puncture", "nail", "surgery", "operation", "castrat"} {
		if strings.Contains(reason+" ", word) {
			return true
		}
	}
	return false
}
