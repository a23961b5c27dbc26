package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/outside"
	"loosebox/storage/share/hub"
	"loosebox/tui/nav"
)

// hubFlags are those of share hub.
type hubFlags struct {
	certificate, key, out string
	none                  bool
}

func (e *env) shareHubCommand() *cobra.Command {
	var f hubFlags
	c := &cobra.Command{
		Use: "hub [ADDRESS]", Short: "name the server where the practice's laptops meet", Args: cobra.MaximumNArgs(1),
		Long: `hub says where the practice meets over a network. Every laptop learns it at its next
exchange, or with the answer that lets it in. Lines then go there by themselves while the
screens are open. Without a network they wait here.

A hub is run by loosebox-hub. It needs the practice's file: -o FILE writes it. It makes
hub.pem, its certificate: laptops believe that one and no other. Who runs the hub can read
what is on it. Nobody can change a line there unseen, and lost lines are sent again.

Without an address it shows the hub.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareHub(c.Context(), args, f) },
	}
	c.Flags().StringVar(&f.certificate, "certificate", "", "the hub's certificate, its file hub.pem")
	c.Flags().StringVar(&f.key, "key", "", "the file of the practice's key")
	c.Flags().StringVarP(&f.out, "output", "o", "", "a new file with the practice and its laptops, for the start of loosebox-hub")
	c.Flags().BoolVar(&f.none, "none", false, "the practice has no hub any more")
	return c
}

func (e *env) shareHub(ctx context.Context, args []string, f hubFlags) error {
	naming := len(args) == 1 || f.none
	switch {
	case len(args) == 1 && f.none:
		return usage("give an address or --none, not both")
	case naming && f.key == "":
		return usage("name the file of the practice's key with --key")
	case len(args) == 1 && f.certificate == "":
		return usage("name the hub's certificate with --certificate: loosebox-hub writes it as hub.pem")
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		if f.out != "" {
			if err := writeNew(f.out, have.Answer()); err != nil {
				return err
			}
			return e.printf("%s is written. Start the hub with it: loosebox-hub --data DIR --practice %s\n", f.out, f.out)
		}
		if !naming {
			return e.printHub(have)
		}
		at := roster.Hub{}
		if !f.none {
			text, err := outside.ReadFile(f.certificate, roster.MaxText)
			if err != nil {
				return err
			}
			at = roster.Hub{Address: args[0], Certificate: string(text)}
			if err := hub.Check(at); err != nil {
				return usage("%v", err)
			}
		}
		phrase, err := e.passphrase("passphrase of the practice: ", false)
		if err != nil {
			return err
		}
		if err := e.nameHub(ctx, r, at, f.key, phrase); err != nil {
			return err
		}
		if have, err = r.Roster(); err != nil {
			return err
		}
		return e.printHub(have)
	})
}

// nameHub says, with the practice's key, where the practice meets.
func (e *env) nameHub(ctx context.Context, r *storage.Record, at roster.Hub, keyFile, phrase string) error {
	return e.declare(ctx, r, roster.Statement{Hub: &at}, keyFile, phrase)
}

func (e *env) printHub(have roster.Roster) error {
	at, ok := have.Hub()
	if !ok {
		return e.printf("The practice %q has no hub.\n", have.Practice.Name)
	}
	return e.printf("The practice %q meets at %s. Exchange now: loosebox share now\n", have.Practice.Name, at.Address)
}

// hubOf is where the record's practice meets; false where it has no hub.
func hubOf(r *storage.Record) (roster.Hub, bool, error) {
	have, err := r.Roster()
	if err != nil {
		return roster.Hub{}, false, err
	}
	at, ok := have.Hub()
	return at, ok, nil
}

// hubPlace is how a hub is named as the place of an exchange.
func hubPlace(at roster.Hub) string { return fmt.Sprintf("hub %s", at.Address) }

// hubAct names the hub of the practice.
func (p sharePage) hubAct(now roster.Hub, see seeing) nav.ShareAct {
	return nav.ShareAct{
		Name: "name the practice's hub", Button: "name it",
		Does: "A hub is a server where the laptops meet over a network (loosebox help hub). It starts with the file that loosebox share hub -o FILE writes. The other laptops learn it at their next exchange.",
		Fields: []nav.ShareField{
			{Label: "address", Text: now.Address, Hint: "host:port, such as hub.example.org:4222"},
			{Label: "certificate", Text: see.proposed("hub.pem"), Hint: "the file hub.pem of the hub" + see.hint()},
			{Label: "key file", Text: p.keyFile(see), Hint: "the file of the practice's key"},
			{Label: "passphrase", Secret: true, Hint: "of the practice's key"},
		},
		Do: func(v []string) (nav.ShareStep, error) {
			text, err := outside.ReadFile(v[1], roster.MaxText)
			if err != nil {
				return nav.ShareStep{}, err
			}
			at := roster.Hub{Address: v[0], Certificate: string(text)}
			if err := hub.Check(at); err != nil {
				return nav.ShareStep{}, err
			}
			if err := p.env.nameHub(p.ctx, p.record, at, v[2], v[3]); err != nil {
				return nav.ShareStep{}, err
			}
			p.kick()
			return nav.ShareStep{Say: []string{"The practice meets at " + at.Address + ".", "The other laptops learn it at their next exchange."}}, nil
		},
	}
}
