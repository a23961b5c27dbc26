package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

func (e *env) strikeCommand() *cobra.Command {
	var why, by, again string
	var asJSON bool
	c := &cobra.Command{
		Use: "void VISIT", Short: "void a visit that was entered on the wrong horse", Args: cobra.ExactArgs(1),
		Long: `void marks a whole visit as not counting, with its reason. It stays readable and
is marked everywhere. It counts in no range, trend, last value, blood total or due
date. Voiding cannot be undone.

--for HORSE enters its lines again for the right horse at the same time. Every
line keeps its time and name, and the new visit names the voided one. A voided
visit can also be entered again later.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofVisit(args[0], func(r *storage.Record, id exam.VisitID) error {
				return e.strike(e.kept(r), id, why, by, again, asJSON)
			})
		},
	}
	c.Flags().StringVar(&why, "reason", "", "why it is voided")
	byFlag(c, &by, "who voids it")
	c.Flags().StringVar(&again, "for", "", "the horse that the visit is of: its lines are entered again for it")
	jsonFlag(c, &asJSON)
	return c
}

// struckJSON is what strike did.
type struckJSON struct {
	Schema  string           `json:"schema"`
	Visit   exam.VisitID     `json:"visit"`
	At      time.Time        `json:"at"`
	By      string           `json:"by"`
	Why     exam.AmendReason `json:"why"`
	Entered exam.VisitID     `json:"entered,omitempty"` // the visit that counts in its place
	Horse   exam.HorseID     `json:"horse,omitempty"`   // and its horse
}

func (e *env) strike(store exam.Store, id exam.VisitID, why, by, again string, asJSON bool) error {
	if notation.CleanLine(why, 0) == "" {
		return usage("type why the visit is voided: --reason")
	}
	v, err := store.Visit(id)
	if err != nil {
		return fmt.Errorf("visit %s: %w", notation.CleanLine(string(id), 40), err)
	}
	var horse exam.Horse
	if again != "" {
		if horse, err = findHorse(store, again); err != nil {
			return err
		}
		if horse.ID == v.Horse.ID && v.Stands() {
			return usage("the visit is on %s already", horse.Name)
		}
	}
	if by, err = e.person(store, by); err != nil {
		return err
	}
	struck, entered, err := store.Strike(exam.Entry{
		Visit: id, Kind: exam.EntryStruck, At: e.now(), By: by, Amend: &exam.Amendment{Why: exam.AmendReason(why)},
	}, horse.ID)
	if err != nil {
		return err
	}
	if asJSON {
		return e.printJSON(struckJSON{"loosebox/void/1", id, struck.Struck.At, struck.Struck.By, struck.Struck.Why, entered.ID, horse.ID})
	}
	if err := e.printf("voided: the visit of %s, %s, %s; it stays readable and does not count\n", struck.Horse.Name,
		notation.ShownAt(struck.OpenedAt, e.now()), struck.Struck.Why); err != nil || entered.ID == "" {
		return err
	}
	return e.printf("entered again for %s as visit %s\n", horse.Name, entered.ID)
}
