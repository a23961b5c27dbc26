package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/share/hub"
	"loosebox/tui/nav"
)

// Coming into a practice by its hub alone: the laptop asks there, somebody lets it in on the
// first laptop, and the laptop hears of it there. Files on a stick do the same.

// askHub hands this laptop's request over to a hub, and returns the words to read aloud.
func askHub(ctx context.Context, r *storage.Record, address, laptop string) (words string, err error) {
	text, words, err := r.Request(laptop)
	if err != nil {
		return "", err
	}
	_, err = hub.Ask(ctx, address, r, text)
	return words, err
}

// errNotYet says that nobody let this laptop in.
var errNotYet = errors.New("nobody let this laptop in yet: nothing was changed. On the first laptop choose: let in a laptop that asks at the hub")

// answerFrom is the answer that lets this laptop in: a file, or what the hub at an address says.
func answerFrom(ctx context.Context, r *storage.Record, from string) (roster.Roster, error) {
	if !isHub(from) {
		return readAnswer(r, from)
	}
	data, err := hub.Ask(ctx, from, r, nil)
	if err == nil && data == nil {
		err = errNotYet
	}
	if err != nil {
		return roster.Roster{}, err
	}
	return checkAnswer(r, from, data)
}

// isHub says that a text is the address of a hub: it looks like one, and no file has the name.
func isHub(text string) bool {
	_, err := os.Lstat(text)
	return hub.IsAddress(text) && err != nil
}

// askedAt is the request of a laptop of a name among those that wait at the hub; without a
// name, the only one that waits.
func askedAt(list []roster.Request, name string) (roster.Request, error) {
	switch {
	case name == "" && len(list) == 1:
		return list[0], nil
	case name == "" && len(list) > 1:
		return roster.Request{}, usage("%d laptops ask at the hub: say which of %s", len(list), notation.CleanLine(strings.Join(askingNames(list), ", "), 200))
	}
	var names []string
	for _, q := range list {
		if strings.EqualFold(q.Name, notation.CleanLine(name, 0)) {
			names = append(names, q.Name)
		}
	}
	switch i := slices.IndexFunc(list, func(q roster.Request) bool { return strings.EqualFold(q.Name, notation.CleanLine(name, 0)) }); {
	case len(names) == 1:
		return list[i], nil
	case len(names) > 1:
		return roster.Request{}, usage("%d laptops called %q ask at the hub: ask again on one of them with another name", len(names), names[0])
	case len(list) == 0:
		return roster.Request{}, exam.NoSuch("no laptop asks at the hub now. On the other laptop choose: ask to come into a practice")
	}
	return roster.Request{}, exam.NoSuch("no laptop called %q asks at the hub; there are: %s", notation.CleanLine(name, 40), notation.CleanLine(strings.Join(askingNames(list), ", "), 200))
}

// askingNames are the names of the laptops that ask at a hub.
func askingNames(list []roster.Request) []string {
	var names []string
	for _, q := range list {
		names = append(names, q.Name)
	}
	return names
}

// asked lists the requests that wait at the hub.
func (s *sharer) asked(ctx context.Context, at roster.Hub) ([]roster.Request, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.reach(at); err != nil {
		return nil, err
	}
	s.hub.Gently = false // somebody waits for it
	return s.hub.Asked(ctx, s.record)
}

// admitAtHubAct lets a laptop in that asks at the hub.
func (p sharePage) admitAtHubAct(at roster.Hub, see seeing) nav.ShareAct {
	return nav.ShareAct{
		Name: "let in a laptop that asks at the hub", Button: "read the request",
		Does: "The other laptop asks at " + at.Address + ". You need the practice's key and its passphrase.",
		Fields: []nav.ShareField{
			{Label: "laptop", Hint: "what the other laptop is called, as somebody typed it there"},
			{Label: "key file", Text: p.keyFile(see), Hint: "the file of the practice's key" + see.hint()},
			{Label: "passphrase", Secret: true, Hint: "of the practice's key"},
		},
		Propose: func() []string {
			list, err := p.asked(p.ctx, at)
			if err != nil {
				return nil // reading the request says why
			}
			return []string{theOne(askingNames(list))}
		},
		Do: func(v []string) (nav.ShareStep, error) {
			list, err := p.asked(p.ctx, at)
			if err != nil {
				return nav.ShareStep{}, err
			}
			q, err := askedAt(list, v[0])
			if err != nil {
				return nav.ShareStep{}, err
			}
			key, _, err := practiceKey(p.record, v[1], v[2])
			if err != nil {
				return nav.ShareStep{}, err
			}
			return nav.ShareStep{
				Words: q.Words(), Say: []string{fmt.Sprintf("The laptop %q asks to come in. Let somebody read its words aloud:", q.Name)},
				Ask: sameThere,
				Then: func() (nav.ShareStep, error) {
					if err := p.env.admit(p.ctx, p.record, q, key, ""); err != nil {
						return nav.ShareStep{}, err
					}
					done, err := p.meet(p.ctx, at, false) // the hub answers the laptop from now on
					if err = errors.Join(err, done.Unwritten); err != nil {
						return nav.ShareStep{}, fmt.Errorf("%s is in, and the hub does not know it yet: exchange with the hub. %w", q.Name, err)
					}
					p.tellShared(done.Came)
					return nav.ShareStep{Words: key.Words(), Say: []string{
						q.Name + " is in. Choose there: come in with the answer.", "It will show the practice's words:",
					}}, nil
				},
			}, nil
		},
	}
}

// sameThere is asked before a laptop is let in.
const sameThere = "Does the other laptop show the same words?"
