package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam/roster"
	"loosebox/storage"
)

// peopleFlags are those of the commands that let laptops in and out.
type peopleFlags struct {
	key, out, name, words string
	hub                   string // the address at which a laptop asks
	atHub                 bool   // the request is there
}

func (e *env) shareStartCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "start NAME --key FILE", Short: "begin a practice on this laptop", Args: cobra.ExactArgs(1),
		Long: `start makes a practice of this laptop's record. FILE holds the practice's key, encrypted
to a passphrase (asked for, or as for backup). Keep FILE and its passphrase away from
the laptops: with both, laptops are let in and taken out. Without a practice, every
laptop that uses the folder is believed.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareStart(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.key, "key", "", "the new file of the practice's key")
	c.Flags().StringVar(&f.name, "laptop", "", "what this laptop is called (default: its name on the network)")
	return c
}

func (e *env) shareStart(ctx context.Context, name string, f peopleFlags) error {
	if f.key == "" {
		return usage("name the new file of the practice's key with --key")
	}
	name, err := roster.Name(name)
	if err != nil {
		return usage("%v", err)
	}
	laptop, err := laptopName(f.name)
	if err != nil {
		return err
	}
	return e.record(func(r *storage.Record) error {
		if err := alone(r); err != nil {
			return err
		}
		phrase, err := e.passphrase("passphrase of the practice: ", true)
		if err != nil {
			return err
		}
		key, err := e.beginPractice(ctx, r, name, laptop, f.key, phrase)
		if err != nil {
			return err
		}
		return e.printf("The practice %q begins with this laptop, %s.\nIts words: %s\nKeep %s and its passphrase away from the laptops.\n",
			name, laptop, key.Words(), f.key)
	})
}

func (e *env) shareRequestCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "request -o FILE", Short: "on another laptop: ask to come into the practice", Args: cobra.NoArgs,
		Long: `request writes a small file that asks to come in. Bring it to the laptop where the
practice began. Read the six words aloud there: both laptops show the same ones.

With --hub ADDRESS the practice's hub takes the request, and no file is needed.`,
		RunE: func(c *cobra.Command, _ []string) error { return e.shareRequest(c.Context(), f) },
	}
	c.Flags().StringVar(&f.hub, "hub", "", "the address of the practice's hub, host:port, in place of -o")
	c.Flags().StringVar(&f.name, "name", "", "what this laptop is called (default: its name on the network)")
	c.Flags().StringVarP(&f.out, "output", "o", "", "the new file")
	return c
}

func (e *env) shareRequest(ctx context.Context, f peopleFlags) error {
	if (f.out == "") == (f.hub == "") {
		return usage("name the new file with -o, or the hub's address with --hub")
	}
	name, err := laptopName(f.name)
	if err != nil {
		return err
	}
	return e.record(func(r *storage.Record) error {
		if err := alone(r); err != nil {
			return err
		}
		if f.hub != "" {
			words, err := askHub(ctx, r, f.hub, name)
			if err != nil {
				return err
			}
			return e.printf("The hub has the request for %s to come in. On the first laptop: loosebox share admit %q --at-hub\nRead these words aloud: %s\n", name, name, words)
		}
		words, err := writeRequest(r, name, f.out)
		if err != nil {
			return err
		}
		return e.printf("%s asks for %s to come in.\nRead these words aloud: %s\n", f.out, name, words)
	})
}

func (e *env) shareAdmitCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "admit FILE --key FILE -o ANSWER", Short: "let a laptop into the practice that asked with a request", Args: cobra.MaximumNArgs(1),
		Long: `admit shows the six words of a request and asks whether the other laptop shows the
same. Let somebody read them aloud there: it is how you know whose request it is.
Where nobody can be asked, give the words that were read with --words.
ANSWER is the file for the other laptop; a stick may carry it.

With --at-hub a laptop is let in that asks at the practice's hub. FILE is its name then,
or nothing where only one asks. No answer is written: the laptop hears it at the hub.`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 && !f.atHub {
				return usage("name the file of the request; with --at-hub a name is enough, or none where one laptop asks")
			}
			return e.shareAdmit(c.Context(), strings.Join(args, ""), f)
		},
	}
	c.Flags().StringVar(&f.key, "key", "", "the file of the practice's key")
	c.Flags().StringVarP(&f.out, "output", "o", "", "the new file of the answer")
	c.Flags().StringVar(&f.words, "words", "", "the six words that were read aloud")
	c.Flags().BoolVar(&f.atHub, "at-hub", false, "the laptop asks at the hub: its name in place of a file, or none where one asks; no -o")
	return c
}

func (e *env) shareAdmit(ctx context.Context, file string, f peopleFlags) error {
	if f.key == "" || (f.out == "") != f.atHub {
		return usage("name the practice's key with --key and the new answer with -o; with --at-hub no answer is written")
	}
	var q roster.Request
	var err error
	if !f.atHub {
		if q, err = readRequest(file); err != nil {
			return err
		}
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		at, hasHub := have.Hub()
		if f.atHub {
			if !hasHub {
				return usage("the practice has no hub: loosebox share hub names one")
			}
			list, err := e.sharer.asked(ctx, at)
			if err != nil {
				return err
			}
			if q, err = askedAt(list, file); err != nil {
				return err
			}
		}
		if err := e.sameWords("the other laptop shows the same words", q.Words(), f.words); err != nil {
			return err
		}
		phrase, err := e.passphrase("passphrase of the practice: ", false)
		if err != nil {
			return err
		}
		key, _, err := practiceKey(r, f.key, phrase)
		if err != nil {
			return err
		}
		if err := e.admit(ctx, r, q, key, f.out); err != nil {
			return err
		}
		if f.atHub {
			done, err := e.sharer.meet(ctx, at, false)
			if err = errors.Join(err, done.Unwritten); err != nil {
				return fmt.Errorf("%s is in, and the hub does not know it yet: loosebox share now. %w", q.Name, err)
			}
			return e.printf("%s is in. On it: loosebox share join %s\nIt will show the practice's words: %s\n", q.Name, at.Address, key.Words())
		}
		return e.printf("%s is in. Bring %s to it: loosebox share join\nIt will show the practice's words: %s\n", q.Name, f.out, key.Words())
	})
}

// sameWords makes sure that somebody compared six words.
func (e *env) sameWords(question, words, given string) error {
	switch {
	case given != "" && roster.SameWords(given, words):
		return nil
	case given != "":
		return fmt.Errorf("the words are not the same: nothing was changed. It may be another laptop's file: do not go on")
	case !e.mayAsk():
		return usage("nobody can be asked here: give the words that were read aloud with --words")
	}
	e.say("The words: " + words)
	if !e.yes("Say whether %s:", question) {
		return errors.New("the words were not the same: nothing was changed")
	}
	return nil
}

func (e *env) shareJoinCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "join ANSWER", Short: "come into the practice that let this laptop in", Args: cobra.ExactArgs(1),
		Long: `join takes the answer that share admit wrote, or the address of the hub at which this
laptop asked. It shows the practice's six words and asks
whether the first laptop shows the same. From then on this laptop takes lines of the
practice's laptops alone, and they take its own.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareJoin(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.words, "words", "", "the six words of the practice, as the first laptop shows them")
	return c
}

func (e *env) shareJoin(ctx context.Context, file string, f peopleFlags) error {
	return e.record(func(r *storage.Record) error {
		answer, err := answerFrom(ctx, r, file)
		if err != nil {
			return err
		}
		if err := e.sameWords("the first laptop shows the same words", answer.Practice.Words(), f.words); err != nil {
			return err
		}
		if _, err := r.TakeStatements(ctx, answer.Said); err != nil {
			return err
		}
		how := "loosebox share now --folder DIR"
		if _, hasHub := answer.Hub(); hasHub {
			how = "loosebox share now"
		}
		return e.printf("This laptop is in the practice %q. Exchange now: %s\n", answer.Practice.Name, how)
	})
}
