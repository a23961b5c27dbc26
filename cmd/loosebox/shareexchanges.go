package main

import (
	"slices"
	"strings"
	"time"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/tui/nav"
)

// byPlace names the place of an exchange.
func byPlace(place string) string {
	place = notation.CleanLine(place, 0)
	if strings.HasPrefix(place, "hub ") {
		return place
	}
	return "folder " + place
}

// placeKind says of a place of exchanges what it is.
func placeKind(place string) string {
	if strings.HasPrefix(place, "hub ") {
		return "hub"
	}
	return "folder"
}

// exchanges are the last exchanges at the places through which a record is shared now: the
// folder of the settings and the hub of the practice. Where neither is named, it is the last one of all.
func exchanges(r *storage.Record) ([]storage.Exchanged, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	at, hasHub, err := hubOf(r)
	if err != nil {
		return nil, err
	}
	var places []string
	if set.ShareFolder != "" {
		places = append(places, set.ShareFolder)
	}
	if hasHub {
		places = append(places, hubPlace(at))
	}
	return r.Exchanges(places...)
}

// waits is what waits for each place.
func waits(list []storage.Exchanged) []nav.Waits {
	out := make([]nav.Waits, len(list))
	for i, x := range list {
		out[i] = nav.Waits{Place: placeKind(x.Place), Lines: x.Waiting}
	}
	return out
}

// sharedNow is how sharing stands, as the screens are told.
func sharedNow(r *storage.Record) (nav.SharedMsg, error) {
	list, err := exchanges(r)
	if err != nil {
		return nav.SharedMsg{}, err
	}
	have, err := r.Roster()
	return nav.SharedMsg{At: together(list).At, Waiting: waits(list), Out: !have.None() && have.Membership(r.Key()) == roster.Out}, err
}

// together is what is true of all of some exchanges: the newest time and its place, the most that
// waits, and everything that was found at any of them.
func together(list []storage.Exchanged) storage.Exchanged {
	var all storage.Exchanged
	for _, x := range list {
		if x.At.After(all.At) {
			all.At, all.Place = x.At, x.Place
		}
		all.Waiting, all.Sealed = max(all.Waiting, x.Waiting), max(all.Sealed, x.Sealed)
		for key, n := range x.Unknown {
			if all.Unknown == nil {
				all.Unknown = map[string]int{}
			}
			all.Unknown[key] = max(all.Unknown[key], n)
		}
		for _, a := range x.Aside {
			if !slices.Contains(all.Aside, a) {
				all.Aside = append(all.Aside, a)
			}
		}
	}
	return all
}

// exchangedLine says when an exchange was, and what waits since.
func exchangedLine(x storage.Exchanged, now time.Time) string {
	when, left := "not reached yet", "all sent"
	if !x.At.IsZero() {
		when = notation.ShownAt(x.At, now)
	}
	if x.Waiting > 0 {
		left = notation.Counted(x.Waiting, "line") + " to send"
	}
	return when + "; " + left
}
