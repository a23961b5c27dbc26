package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/backup"
	"loosebox/storage/share"
)

// What commands and the page of several laptops do with a practice. Nobody is asked here.

// laptopName is what a laptop is called; its name on the network where nothing was typed.
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

// alone makes sure that a record is in no practice and can come into one.
func alone(r *storage.Record) error {
	have, err := r.Roster()
	switch {
	case err != nil:
		return err
	case have.Membership(r.Key()) == roster.Out:
		return fmt.Errorf("this laptop was taken out of the practice %q and cannot come back with its key; nothing was changed. Ask who keeps the practice's key", have.Practice.Name)
	case !have.None():
		return fmt.Errorf("this laptop is in the practice %q already; nothing was changed", have.Practice.Name)
	case r.Key() == nil:
		return errors.New("this laptop has no key; nothing was changed")
	}
	return nil
}

// practiceOf is the roster of a record that is in a practice.
func practiceOf(r *storage.Record) (roster.Roster, error) {
	have, err := r.Roster()
	if err == nil && have.None() {
		err = exam.NoSuch("this laptop is in no practice: loosebox share start begins one, share request asks to come in")
	}
	return have, err
}

// beginPractice makes a practice with this laptop in it; its key goes into a new file.
func (e *env) beginPractice(ctx context.Context, r *storage.Record, name, laptop, file, phrase string) (roster.Practice, error) {
	to, err := backup.ToPassphrase(phrase, e.work)
	if err != nil {
		return roster.Practice{}, usage("%v", err)
	}
	key, err := share.NewPracticeKey(file, name, to)
	if err != nil {
		return roster.Practice{}, err
	}
	said, err := e.sign(key, roster.Roster{}, roster.Statement{Key: r.Key(), Name: laptop})
	if err != nil {
		return key.Practice, err
	}
	have := roster.Roster{}
	have.Add(said)
	more, err := e.vouch(r, key, have, nil)
	if err != nil {
		return key.Practice, err
	}
	_, err = r.TakeStatements(ctx, append(more, said))
	return key.Practice, err
}

// vouch says that lines count of which nobody knows whose laptop wrote them: those that
// this record holds, and those of a laptop that comes in. They count as far as they go now.
func (e *env) vouch(r *storage.Record, key share.PracticeKey, have roster.Roster, more []roster.Lines) ([]roster.Statement, error) {
	list, err := r.Others()
	if err != nil {
		return nil, err
	}
	var out []roster.Statement
	for _, l := range append(list, more...) {
		if said := have.Membership(l.Key); said == roster.In || said == roster.Out || covered(have, l) {
			continue
		}
		s, err := e.sign(key, have, roster.Statement{Key: l.Key, Name: earlierName, Until: l.Until})
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// covered says that all of these lines count already.
func covered(have roster.Roster, l roster.Lines) bool {
	for log, n := range l.Until {
		if upTo, _ := have.Until(l.Key, log); upTo < n {
			return false
		}
	}
	return true
}

// earlierName is what a laptop is called that nobody let in and whose lines count.
const earlierName = "earlier lines"

// sign signs a statement with the practice's key, behind what was said up to now.
func (e *env) sign(key share.PracticeKey, have roster.Roster, s roster.Statement) (roster.Statement, error) {
	s.Practice, s.At = key.Practice, have.After(e.now())
	return roster.Say(key.Private, s)
}

// practiceKey reads the key of the record's practice.
func practiceKey(r *storage.Record, file, phrase string) (share.PracticeKey, roster.Roster, error) {
	have, err := practiceOf(r)
	if err != nil {
		return share.PracticeKey{}, have, err
	}
	key, err := share.ReadPracticeKey(file, phrase)
	if err == nil && !key.Key.Equal(have.Practice.Key) {
		err = fmt.Errorf("%s is the key of another practice, %q", notation.CleanLine(file, 80), key.Name)
	}
	return key, have, err
}

// admit lets a laptop in with the practice's key and writes the answer for it; without a file
// the laptop hears of it at the hub.
func (e *env) admit(ctx context.Context, r *storage.Record, q roster.Request, key share.PracticeKey, answer string) error {
	have, err := practiceOf(r)
	if err != nil {
		return err
	}
	if have.Membership(q.Key) == roster.Out {
		return fmt.Errorf("%s was taken out and stays out. It needs a new key: move its machine.key away, then ask anew", q.Name)
	}
	said, err := e.sign(key, have, roster.Statement{Key: q.Key, Name: q.Name})
	if err != nil {
		return err
	}
	have.Add(said)
	list, err := e.vouch(r, key, have, q.Earlier)
	if err != nil {
		return err
	}
	list = append(list, said)
	for _, s := range list {
		have.Add(s)
	}
	if answer != "" {
		if err := writeNew(answer, have.Answer()); err != nil { // first: without it nobody comes in
			return err
		}
	}
	_, err = r.TakeStatements(ctx, list)
	return err
}

// takeOut ends a laptop of the practice as far as this record holds it.
func (e *env) takeOut(ctx context.Context, r *storage.Record, out roster.Laptop, keyFile, phrase string) error {
	if out.Key.Equal(r.Key()) {
		return usage("%s is this laptop: nothing was changed. Take it out on another laptop of the practice", out.Name)
	}
	until, err := r.Reach(out.Key)
	if err != nil {
		return err
	}
	return e.declare(ctx, r, roster.Statement{Key: out.Key, Name: out.Name, Out: true, Until: until}, keyFile, phrase)
}

// declare signs a statement with the practice's key, and takes it.
func (e *env) declare(ctx context.Context, r *storage.Record, s roster.Statement, keyFile, phrase string) error {
	key, have, err := practiceKey(r, keyFile, phrase)
	if err != nil {
		return err
	}
	said, err := e.sign(key, have, s)
	if err != nil {
		return err
	}
	_, err = r.TakeStatements(ctx, []roster.Statement{said})
	return err
}

// laptopCalled is the laptop of a name, or of the beginning of its key.
func laptopCalled(have roster.Roster, name string) (roster.Laptop, error) {
	want := strings.ToLower(notation.CleanLine(name, 0))
	var found []roster.Laptop
	for _, l := range have.Laptops() {
		if l.Membership == roster.In && (strings.ToLower(l.Name) == want || len(want) >= 4 && strings.HasPrefix(signedlog.Fingerprint(l.Key), want)) {
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
