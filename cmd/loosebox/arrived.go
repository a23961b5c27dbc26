package main

import (
	"errors"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// arrivedJSON is a visit that came in from another laptop.
type arrivedJSON struct {
	Visit    exam.VisitID `json:"visit"`
	Horse    exam.HorseID `json:"horse"`
	Name     string       `json:"name"`
	By       []string     `json:"by"`      // who wrote on other laptops
	Laptops  []string     `json:"laptops"` // these laptops
	OpenedAt time.Time    `json:"opened_at"`
	Closed   bool         `json:"closed"`
	At       *time.Time   `json:"arrived_at"` // null where its exchange is not noted yet
}

func (e *env) shareArrivedCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "arrived", Short: "the visits that came in from other laptops since yesterday", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return e.existing(func(r *storage.Record) error { return e.arrived(r, asJSON) })
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) arrived(r *storage.Record, asJSON bool) error {
	came, err := r.Arrived(exam.SinceYesterday(e.now()))
	if err != nil {
		return err
	}
	list := []arrivedJSON{}
	for _, a := range came {
		v, err := r.Visit(a.Visit)
		if errors.Is(err, exam.ErrNotFound) {
			continue // its beginning has not come yet
		}
		if err != nil {
			return err
		}
		by, on := v.FromOthers()
		j := arrivedJSON{
			Visit: v.ID, Horse: v.Horse.ID, Name: v.Horse.Name, By: append([]string{}, by...), Laptops: append([]string{}, on...),
			OpenedAt: v.OpenedAt, Closed: v.Closed(),
		}
		if at := a.At; !at.IsZero() {
			j.At = &at
		}
		list = append(list, j)
	}
	if asJSON {
		return e.printJSON(struct {
			Schema string        `json:"schema"`
			Visits []arrivedJSON `json:"visits"`
		}{"loosebox/share-arrived/1", list})
	}
	if len(list) == 0 {
		return e.printf("No visit came in from another laptop since yesterday.\n")
	}
	rows := [][]string{{"horse", "visit", "written by", "on", "number"}}
	for _, j := range list {
		rows = append(rows, []string{j.Name, notation.ShownAt(j.OpenedAt, e.now()), strings.Join(j.By, ", "), strings.Join(j.Laptops, ", "), shortNumber(j.Visit)})
	}
	return columns(e.out, rows)
}
