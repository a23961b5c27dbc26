package main

import (
	"context"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/tui/nav"
)

func (e *env) shareSealCommand() *cobra.Command {
	var key string
	c := &cobra.Command{
		Use: "seal [on|off]", Short: "let only the practice's laptops read what is exchanged", Args: cobra.MatchAll(cobra.MaximumNArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"on", "off"},
		Long: `seal on encrypts what goes onto sticks and to the hub: only laptops of the practice can open
it. Each laptop does so once it has learned it, at its next exchange. What is there already
stays readable: begin a new stick and a new hub.

Everybody still sees the names of practice and laptops, their keys, sizes and times.

A laptop that goes out keeps what it has, and can open what was sealed up to then. It opens
nothing newer. A laptop that comes in can open older lines once another one has exchanged.

The record on a laptop is not sealed. Keep a backup: without any laptop nobody opens the hub.

Without on or off it says how it is.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareSeal(c.Context(), args, key) },
	}
	c.Flags().StringVar(&key, "key", "", "the file of the practice's key")
	return c
}

func (e *env) shareSeal(ctx context.Context, args []string, keyFile string) error {
	if len(args) == 1 && keyFile == "" {
		return usage("name the file of the practice's key with --key")
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		if len(args) == 1 {
			phrase, err := e.passphrase("passphrase of the practice: ", false)
			if err != nil {
				return err
			}
			if err := e.seal(ctx, r, args[0] == "on", keyFile, phrase); err != nil {
				return err
			}
			if have, err = r.Roster(); err != nil {
				return err
			}
		}
		if have.Sealed() {
			return e.printf("%s\n%s\n", sealedOn, sealedNext)
		}
		return e.printf("%s\n", sealedOff)
	})
}

// What is said of sealing.
const (
	sealedOn   = "What is exchanged is sealed to the practice's laptops."
	sealedNext = "Each laptop does so from its next exchange on. Begin a new stick and a new hub: what is on the old ones stays readable."
	sealedOff  = "What is exchanged is not sealed: whoever has the stick or the hub can read it."
)

// seal says, with the practice's key, whether what is exchanged is sealed.
func (e *env) seal(ctx context.Context, r *storage.Record, on bool, keyFile, phrase string) error {
	return e.declare(ctx, r, roster.Statement{Sealed: &on}, keyFile, phrase)
}

// sealedText says that lines are there which this laptop cannot open.
func sealedText(lines int) string {
	return notation.Counted(lines, "line") + " there cannot be opened here yet. Exchange on a laptop that has them, then here again."
}

// stillReads says what a laptop that went out can still read.
func stillReads(have roster.Roster) string {
	if have.Sealed() {
		return "It can still read what it holds, and what was sealed up to now. It cannot open what the others seal from then on."
	}
	return "It can still read what it holds, and any stick or hub that it reaches. Nothing is sealed: loosebox share seal."
}

// sealAct seals what is exchanged, or ends that.
func (p sharePage) sealAct(have roster.Roster, see seeing) nav.ShareAct {
	act := nav.ShareAct{
		Name: "seal what is exchanged", Button: "seal it",
		Does: "Only the practice's laptops can read sticks and hub then. What is there already stays readable: begin a new stick and hub.",
		Fields: []nav.ShareField{
			{Label: "key file", Text: p.keyFile(see), Hint: "the file of the practice's key" + see.hint()},
			{Label: "passphrase", Secret: true, Hint: "of the practice's key"},
		},
	}
	on, say := !have.Sealed(), []string{sealedOn, sealedNext}
	if !on {
		act.Name, act.Button, say = "seal no longer", "end it", []string{sealedOff}
		act.Does = "What is written from then on can be read by whoever has the stick or the hub."
	}
	act.Do = func(v []string) (nav.ShareStep, error) {
		if err := p.env.seal(p.ctx, p.record, on, v[0], v[1]); err != nil {
			return nav.ShareStep{}, err
		}
		p.kick()
		return nav.ShareStep{Say: say}, nil
	}
	return act
}
