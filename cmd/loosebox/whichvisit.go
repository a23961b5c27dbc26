package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
	"loosebox/storage"
)

// A visit's number begins with its time, so that visits of one hour look alike; its
// end tells them apart.
const (
	leastShort = 6 // characters of a short number that are taken
	shownShort = 8 // and that lists show
)

// shortNumber is a visit's number as lists show it.
func shortNumber(id exam.VisitID) string {
	if len(id) <= shownShort {
		return string(id)
	}
	return string(id[len(id)-shownShort:])
}

// shortNumbers are the numbers of visits, with a word between them.
func shortNumbers(visits []exam.VisitID, between string) string {
	var out []string
	for _, v := range visits {
		out = append(out, shortNumber(v))
	}
	return strings.Join(out, between)
}

// didYouMean ends a sentence with the word of a list that was probably meant.
func didYouMean(typed string, known []string) string {
	if i := ownfile.Nearest(typed, known); i >= 0 {
		return fmt.Sprintf("; did you mean %q?", notation.CleanLine(known[i], 40))
	}
	return ""
}

// thereAre ends the sentence that nothing has a name: what was probably meant, and all that there are.
func thereAre(typed string, known []string) string {
	return strings.TrimSuffix(didYouMean(typed, known), "?") + "; there are: " + strings.Join(known, ", ")
}

// ofVisit lets work use a visit of the record, as the command line names it.
func (e *env) ofVisit(text string, work func(*storage.Record, exam.VisitID) error) error {
	return e.existing(func(r *storage.Record) error {
		id, err := whichVisit(r, text, e.now())
		if err != nil {
			return err
		}
		return work(r, id)
	})
}

// ofJudgedVisit is ofVisit with the tables read by which a visit is judged.
func (e *env) ofJudgedVisit(text string, work func(*storage.Record, exam.VisitID) error) error {
	if err := e.tables(); err != nil {
		return err
	}
	return e.ofVisit(text, work)
}

// whichVisit is the visit that a text names: its number, the end of it (six
// characters or more), last, HORSE@last, or HORSE@2026-03-02.
func whichVisit(store exam.Store, text string, now time.Time) (exam.VisitID, error) {
	if name, when, ok := cutLast(text, "@"); ok {
		return visitOfDay(store, name, when, now)
	}
	if len(text) == len("00000000-0000-0000-0000-000000000000") {
		return exam.VisitID(text), nil
	}
	limit := 0
	if text == "last" {
		limit = 1
	}
	all, err := store.Recent(limit)
	switch {
	case err != nil:
		return "", err
	case limit == 1 && len(all) == 1:
		return all[0].ID, nil
	case limit == 1:
		return "", exam.NoSuch("no visit is in the record yet")
	}
	return visitEnding(store, all, text)
}

func cutLast(text, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return text, "", false
	}
	return text[:i], text[i+len(sep):], true
}

// visitEnding looks for the one visit whose number ends so, struck ones as well.
func visitEnding(store exam.Store, all []exam.Visit, text string) (exam.VisitID, error) {
	end := strings.ToLower(notation.CleanLine(text, 40))
	if len(end) < leastShort {
		return "", exam.NoSuch("no visit has the number %q. Give its last %d characters or more, last, or HORSE@2026-03-02. loosebox visits HORSE lists them", end, leastShort)
	}
	horses, err := store.Horses()
	if err != nil {
		return "", err
	}
	for _, h := range horses {
		struck, err := store.Struck(h.Horse.ID)
		if err != nil {
			return "", err
		}
		all = append(all, struck...)
	}
	found := map[exam.VisitID]exam.Visit{}
	for _, v := range all {
		if strings.HasSuffix(string(v.ID), end) {
			found[v.ID] = v
		}
	}
	switch len(found) {
	case 0:
		return "", exam.NoSuch("no visit has a number that ends in %q; loosebox visits HORSE lists them", end)
	case 1:
		for id := range found {
			return id, nil
		}
	}
	return "", usage("%d visits have a number that ends in %q: give more of it", len(found), end)
}

// visitOfDay is the visit of a horse on a day by the clock of now, or its newest. A voided one is meant where no other is of
// that day.
func visitOfDay(store exam.Store, name, when string, now time.Time) (exam.VisitID, error) {
	h, err := findHorse(store, name)
	if err != nil {
		return "", err
	}
	past, err := store.Past(h.ID, 0)
	if err != nil {
		return "", err
	}
	if when == "last" {
		if len(past) == 0 {
			return "", exam.NoSuch("%s has no visit yet", notation.CleanLine(h.Name, 40))
		}
		return past[0].ID, nil
	}
	iso, err := notation.Calendar{}.ISO(when)
	if err != nil {
		return "", usage("%v", err)
	}
	day, err := time.Parse(notation.DayForm, iso)
	if err != nil {
		return "", usage("the day of a visit is written as %s@2026-03-02, not %q", notation.CleanLine(name, 40), notation.CleanLine(when, 20))
	}
	ofDay := func(list []exam.Visit) []exam.Visit {
		return slices.DeleteFunc(exam.ByClock(now, list), func(v exam.Visit) bool { return v.OpenedAt.Format(notation.DayForm) != day.Format(notation.DayForm) })
	}
	those := ofDay(past)
	if len(those) == 0 {
		struck, err := store.Struck(h.ID)
		if err != nil {
			return "", err
		}
		those = ofDay(struck)
	}
	switch len(those) {
	case 0:
		return "", exam.NoSuch("%s has no visit on %s; loosebox visits %q lists them", notation.CleanLine(h.Name, 40), notation.Shown(notation.CleanLine(iso, 20)), notation.CleanLine(h.Name, 40))
	case 1:
		return those[0].ID, nil
	}
	times := make([]string, len(those))
	for i, v := range those {
		times[i] = fmt.Sprintf("%s is %s", v.OpenedAt.Format("15:04"), shortNumber(v.ID))
	}
	return "", usage("%s has %d visits on %s; name one by its number: %s", notation.CleanLine(h.Name, 40), len(those), notation.Shown(iso), strings.Join(times, ", "))
}
