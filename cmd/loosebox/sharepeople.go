package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/storage/outside"
	"loosebox/storage/share"
	"loosebox/storage/unfinished"
)

// peopleFlags are those of the commands that let laptops in and out.
type peopleFlags struct {
	key, out, name, words string
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
		have, err := r.Roster()
		switch {
		case err != nil:
			return err
		case !have.None():
			return fmt.Errorf("this laptop is in the practice %q already; nothing was changed", have.Practice.Name)
		case r.Key() == nil:
			return errors.New("this laptop has no key; nothing was changed")
		}
		phrase, err := e.passphrase("passphrase of the practice: ", true)
		if err != nil {
			return err
		}
		to, err := backup.ToPassphrase(phrase, 0)
		if err != nil {
			return usage("%v", err)
		}
		key, err := share.NewPracticeKey(f.key, name, to)
		if err != nil {
			return err
		}
		if err := e.state(ctx, r, key, roster.Statement{Key: r.Key(), Name: laptop}); err != nil {
			return err
		}
		return e.printf("The practice %q begins with this laptop, %s.\nIts words: %s\nKeep %s and its passphrase away from the laptops.\n",
			name, laptop, key.Words(), f.key)
	})
}

// laptopName is what a laptop is called.
func laptopName(typed string) (string, error) {
	if typed == "" {
		typed, _ = os.Hostname() // a name that is not known is asked for
	}
	if typed == "" {
		return "", usage("say what this laptop is called")
	}
	name, err := roster.Name(typed)
	if err != nil {
		return "", usage("%v", err)
	}
	return name, nil
}

// state signs a statement with the practice's key and puts it into the roster.
func (e *env) state(ctx context.Context, r *storage.Record, key share.PracticeKey, s roster.Statement) error {
	s.Practice, s.At = key.Practice, e.now()
	said, err := roster.Say(key.Private, s)
	if err != nil {
		return err
	}
	_, err = r.TakeStatements(ctx, []roster.Statement{said})
	return err
}

func (e *env) shareRequestCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "request -o FILE", Short: "on another laptop: ask to come into the practice", Args: cobra.NoArgs,
		Long: `request writes a small file that asks to come in. Bring it to the laptop where the
practice began, and read the six words aloud there: both laptops show the same ones.`,
		RunE: func(*cobra.Command, []string) error { return e.shareRequest(f) },
	}
	c.Flags().StringVar(&f.name, "name", "", "what this laptop is called (default: its name on the network)")
	c.Flags().StringVarP(&f.out, "output", "o", "", "the new file")
	return c
}

func (e *env) shareRequest(f peopleFlags) error {
	if f.out == "" {
		return usage("name the new file with -o")
	}
	name, err := laptopName(f.name)
	if err != nil {
		return err
	}
	return e.record(func(r *storage.Record) error {
		have, err := r.Roster()
		if err != nil {
			return err
		}
		if !have.None() {
			return fmt.Errorf("this laptop is in the practice %q already; nothing was written", have.Practice.Name)
		}
		text, words, err := r.Request(name)
		if err != nil {
			return err
		}
		if err := writeNew(f.out, text); err != nil {
			return err
		}
		return e.printf("%s asks for %s to come in.\nRead these words aloud: %s\n", f.out, name, words)
	})
}

// writeNew writes a small file that is not there yet.
func writeNew(name string, data []byte) error {
	f, err := unfinished.Create(name, "share")
	if err != nil {
		return err
	}
	defer f.Discard()
	if _, err := f.Write(data); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return f.Finish(nil)
}

func (e *env) shareAdmitCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "admit FILE --key FILE -o ANSWER", Short: "let a laptop into the practice that asked with a request", Args: cobra.ExactArgs(1),
		Long: `admit shows the six words of a request and asks whether the other laptop shows the
same. Let somebody read them aloud there: it is how you know whose request it is.
Where nobody can be asked, give the words that were read with --words.
ANSWER is the file for the other laptop; a stick may carry it.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareAdmit(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.key, "key", "", "the file of the practice's key")
	c.Flags().StringVarP(&f.out, "output", "o", "", "the new file of the answer")
	c.Flags().StringVar(&f.words, "words", "", "the six words that were read aloud")
	return c
}

func (e *env) shareAdmit(ctx context.Context, file string, f peopleFlags) error {
	if f.key == "" || f.out == "" {
		return usage("name the practice's key with --key and the new answer with -o")
	}
	data, err := outside.ReadFile(file, roster.MaxText)
	if err != nil {
		return err
	}
	q, err := roster.ReadRequest(data)
	if err != nil {
		return fmt.Errorf("%s is no request of a laptop: %w", notation.CleanLine(file, 80), err)
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		if err := e.sameWords("the other laptop shows the same words", q.Words(), f.words); err != nil {
			return err
		}
		key, err := e.practiceKey(r, f.key)
		if err != nil {
			return err
		}
		if have.Standing(q.Key) == roster.Out {
			return fmt.Errorf("%s was taken out and stays out. Let it in as a new laptop: a new data folder has a new key", q.Name)
		}
		said, err := roster.Say(key.Private, roster.Statement{Practice: key.Practice, Key: q.Key, Name: q.Name, At: e.now()})
		if err != nil {
			return err
		}
		have.Add(said)
		if err := writeNew(f.out, have.Answer()); err != nil { // first: without it nobody comes in
			return err
		}
		if _, err := r.TakeStatements(ctx, []roster.Statement{said}); err != nil {
			return err
		}
		return e.printf("%s is in. Bring %s to it: loosebox share join\nIt will show the practice's words: %s\n", q.Name, f.out, have.Practice.Words())
	})
}

// practiceOf is the roster of a record that is in a practice.
func practiceOf(r *storage.Record) (roster.Roster, error) {
	have, err := r.Roster()
	if err == nil && have.None() {
		err = exam.NoSuch("this laptop is in no practice: loosebox share start begins one, share request asks to come in")
	}
	return have, err
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

// practiceKey reads the key of the record's practice.
func (e *env) practiceKey(r *storage.Record, file string) (share.PracticeKey, error) {
	have, err := practiceOf(r)
	if err != nil {
		return share.PracticeKey{}, err
	}
	phrase, err := e.passphrase("passphrase of the practice: ", false)
	if err != nil {
		return share.PracticeKey{}, err
	}
	key, err := share.ReadPracticeKey(file, phrase)
	if err == nil && !key.Key.Equal(have.Practice.Key) {
		err = fmt.Errorf("%s is the key of another practice, %q", notation.CleanLine(file, 80), key.Name)
	}
	return key, err
}

func (e *env) shareJoinCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "join ANSWER", Short: "come into the practice that let this laptop in", Args: cobra.ExactArgs(1),
		Long: `join takes the answer that share admit wrote. It shows the practice's six words and asks
whether the first laptop shows the same. From then on this laptop takes lines of the
practice's laptops alone, and they take its own.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareJoin(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.words, "words", "", "the six words of the practice, as the first laptop shows them")
	return c
}

func (e *env) shareJoin(ctx context.Context, file string, f peopleFlags) error {
	data, err := outside.ReadFile(file, roster.MaxText)
	if err != nil {
		return err
	}
	answer, err := roster.ReadAnswer(data)
	if err != nil {
		return fmt.Errorf("%s is no answer of a practice: %w", notation.CleanLine(file, 80), err)
	}
	return e.record(func(r *storage.Record) error {
		if answer.Standing(r.Key()) != roster.In {
			return fmt.Errorf("the answer lets other laptops in and not this one: nothing was changed. Ask anew with share request")
		}
		if err := e.sameWords("the first laptop shows the same words", answer.Practice.Words(), f.words); err != nil {
			return err
		}
		if _, err := r.TakeStatements(ctx, answer.Said); err != nil {
			return err
		}
		return e.printf("This laptop is in the practice %q. Exchange now: loosebox share now --folder DIR\n", answer.Practice.Name)
	})
}

func (e *env) shareOutCommand() *cobra.Command {
	var f peopleFlags
	c := &cobra.Command{
		Use: "out NAME --key FILE", Short: "end a laptop: what it writes from now on does not count", Args: cobra.ExactArgs(1),
		Long: `out takes a laptop out of the practice, as when it was lost or sold. Lines that this
record holds of it stay. Lines that it writes afterwards are kept, shown apart and do
not count. It can still read what it holds, and a stick: change what is secret.`,
		RunE: func(c *cobra.Command, args []string) error { return e.shareOut(c.Context(), args[0], f) },
	}
	c.Flags().StringVar(&f.key, "key", "", "the file of the practice's key")
	return c
}

func (e *env) shareOut(ctx context.Context, name string, f peopleFlags) error {
	if f.key == "" {
		return usage("name the file of the practice's key with --key")
	}
	return e.existing(func(r *storage.Record) error {
		have, err := practiceOf(r)
		if err != nil {
			return err
		}
		out, err := laptopCalled(have, name)
		if err != nil {
			return err
		}
		key, err := e.practiceKey(r, f.key)
		if err != nil {
			return err
		}
		until, err := r.Reach(out.Key)
		if err != nil {
			return err
		}
		if err := e.state(ctx, r, key, roster.Statement{Key: out.Key, Name: out.Name, Out: true, Until: until}); err != nil {
			return err
		}
		return e.printf("%s is out from now on. The other laptops learn it at their next exchange.\n", out.Name)
	})
}

// laptopCalled is the laptop of a name, or of the beginning of its key.
func laptopCalled(have roster.Roster, name string) (roster.Laptop, error) {
	want := strings.ToLower(notation.CleanLine(name, 0))
	var found []roster.Laptop
	for _, l := range have.Laptops() {
		if l.Standing == roster.In && (strings.ToLower(l.Name) == want || len(want) >= 4 && strings.HasPrefix(signedlog.Fingerprint(l.Key), want)) {
			found = append(found, l)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return roster.Laptop{}, exam.NoSuch("no laptop of the practice is called %q; loosebox share status lists them", notation.CleanLine(name, 40))
	default:
		return roster.Laptop{}, usage("%d laptops are called %q; name the one you mean by its key from loosebox share status", len(found), notation.CleanLine(name, 40))
	}
}
