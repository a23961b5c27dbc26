package main

import (
	"errors"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/storage"
	"loosebox/tui/nav"
)

// home opens the home screen, or without a terminal says what is open and what
// was last.
func (e *env) home() error {
	if err := e.tables(); err != nil {
		return err
	}
	if e.lineByLine() {
		e.tell()
		err := e.existing(func(r *storage.Record) error { return e.homeText(r) })
		var none *storage.NoRecordError
		if errors.As(err, &none) {
			return e.printf("There is no record yet in %s. %s", none.Folder, firstSteps)
		}
		return err
	}
	return e.record(func(r *storage.Record) error {
		d, err := e.deps(r)
		if err != nil {
			return err
		}
		return e.screens(d, nav.Address{Screen: nav.Home})
	})
}

// firstSteps says how to begin where nothing is in the record.
const firstSteps = "In a terminal, loosebox opens the home screen (n: new horse); loosebox demo shows an invented yard.\n"

// lastVisits is how many visits the home text lists.
const lastVisits = 10

func (e *env) homeText(store exam.Store) error {
	if err := e.tellClock(store); err != nil {
		return err
	}
	if err := e.roundText(store); err != nil {
		return err
	}
	open, err := e.desk(store).Waiting()
	if err != nil {
		return err
	}
	for _, v := range open {
		if text := v.OpenElsewhere(e.now()); text != "" {
			if err := e.printf("%s: %s\n", v.Horse.Name, text); err != nil {
				return err
			}
		}
		if i := v.ToWatch(); len(i) > 0 && !v.Elsewhere {
			if err := e.printf("%s: the observation after %s is neither started nor declined: loosebox observe %s\n", v.Horse.Name, i[0].Product(), shortNumber(v.ID)); err != nil {
				return err
			}
		}
		if v.Closed() {
			continue
		}
		if err := e.printf("not finished: %s, %s, begun %s; loosebox exam %q continues it\n", v.Horse.Name, v.Routine,
			notation.ShownAt(v.OpenedAt, e.now()), v.Horse.Name); err != nil {
			return err
		}
	}
	recent, err := store.Recent(lastVisits)
	if err != nil {
		return err
	}
	rows := [][]string{}
	for _, v := range recent {
		rows = append(rows, []string{notation.ShownAt(v.OpenedAt, e.now()), v.Horse.Name, v.Routine, v.By, shortNumber(v.ID)})
	}
	if len(rows) == 0 {
		return e.printf("The record is empty. %s", firstSteps)
	}
	if err := e.printf("last visits:\n"); err != nil {
		return err
	}
	if err := columns(e.out, rows); err != nil {
		return err
	}
	return e.printf("loosebox exam HORSE --plain examines line by line; loosebox show NUMBER prints a visit; so does HORSE@last.\n")
}

// roundText prints today's round where there is one.
func (e *env) roundText(store exam.Store) error {
	schedule, err := e.schedule()
	if err != nil {
		return err
	}
	e.tell()
	ctx, end := e.progress(e.ctx, "reading the round:")
	plan, err := round.Read(ctx, store, round.Today(e.now()), e.now(), schedule, e.judge)
	end()
	if err != nil || len(plan.Calls) == 0 {
		return err
	}
	return e.printRound(plan, false)
}
