package main

import (
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

func (e *env) takeOverCommand() *cobra.Command {
	var by, asked string
	c := &cobra.Command{
		Use: "take-over VISIT", Short: "this laptop puts the needles in from now on", Args: cobra.ExactArgs(1),
		Long: `Only one laptop gives injections in a visit: the one that opened it. So two people
who cannot reach each other never give one dose twice.

take-over lets this laptop go on with injections and blood draws. Ask on the other
laptop first: is anything given already, is a needle in? --asked says who was asked.
What was put in there and is not known here yet still counts, and is told when it comes.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.existing(func(r *storage.Record) error {
				id, err := whichVisit(r, args[0], e.now())
				if err != nil {
					return err
				}
				v, err := r.Visit(id)
				if err != nil {
					return err
				}
				if !v.Elsewhere {
					return usage("this laptop puts the needles in already")
				}
				if asked = notation.CleanLine(asked, 80); asked == "" {
					return usage("say who was asked with --asked NAME; \"nobody\" where nobody can be reached")
				}
				entry := exam.Entry{Visit: id, Kind: exam.EntryTaken, At: e.now(), Reason: string(exam.AmendTakenOver), Taken: &exam.TakenLine{From: asked}}
				if entry.By, err = e.person(r, by); err != nil {
					return err
				}
				back, err := e.desk(e.kept(r)).Write(entry)
				if err := asUsage(err); err != nil {
					return err
				}
				return e.printf("entry %d is written: this laptop puts the needles in now.\n", back.Seq)
			})
		},
	}
	byFlag(c, &by, "who takes over")
	c.Flags().StringVar(&asked, "asked", "", "who was asked whether a needle is in there")
	return c
}
