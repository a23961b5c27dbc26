package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"

	"loosebox/exam/roster"
	"loosebox/tui/nav"
)

func (p sharePage) startAct(practice string, see seeing) nav.ShareAct {
	laptop, _ := laptopName("")
	return nav.ShareAct{
		Name: "begin a practice", Button: "begin",
		Does: "On the first laptop. From then on only laptops that you let in are believed.",
		Fields: []nav.ShareField{
			{Label: "practice", Text: practice, Hint: "its name"},
			{Label: "this laptop", Text: laptop, Hint: "what it is called, as clinic or truck"},
			{Label: "key file", Hint: "a new file for the practice's key, such as " + filepath.Join(p.home, keyName) + ". Not on the stick that carries the records: who finds that has both"},
			{Label: "passphrase", Secret: true, Hint: "8 characters or more; without it nobody is let in or taken out"},
			{Label: "once more", Secret: true, Hint: "the same passphrase"},
		},
		Do: func(v []string) (nav.ShareStep, error) {
			if v[3] != v[4] {
				return nav.ShareStep{}, errors.New("the two passphrases are not the same; nothing was changed")
			}
			name, err := roster.Name(v[0])
			if err != nil {
				return nav.ShareStep{}, err
			}
			laptop, err := laptopName(v[1])
			if err == nil {
				err = alone(p.record)
			}
			if err != nil {
				return nav.ShareStep{}, err
			}
			practice, err := p.env.beginPractice(p.ctx, p.record, name, laptop, v[2], v[3])
			if err != nil {
				return nav.ShareStep{}, err
			}
			return nav.ShareStep{Words: practice.Words(), Say: []string{
				fmt.Sprintf("The practice %q begins with this laptop.", name),
				"Keep " + v[2] + " and its passphrase away from the laptops.",
				"Next: exchange once with a stick, or name the practice's hub. On the other laptop: ask to come in.",
				"These are the practice's words:",
			}}, nil
		},
	}
}

func (p sharePage) askAct(see seeing) nav.ShareAct {
	laptop, _ := laptopName("")
	return nav.ShareAct{
		Name: "ask to come into a practice", Button: "ask",
		Does: "On another laptop. A stick carries the request to the first laptop, or the practice's hub takes it.",
		Fields: []nav.ShareField{
			{Label: "this laptop", Text: laptop, Hint: "what it is called, as clinic or truck"},
			{Label: "stick or hub", Text: see.proposed(""), Hint: "the stick's folder: the request is a small new file there. Or the hub's address, such as hub.example.org:4222" + see.hint()},
		},
		Do: func(v []string) (nav.ShareStep, error) {
			laptop, err := laptopName(v[0])
			if err == nil {
				err = alone(p.record)
			}
			if err != nil {
				return nav.ShareStep{}, err
			}
			if isHub(v[1]) {
				words, err := askHub(p.ctx, p.record, v[1], laptop)
				if err != nil {
					return nav.ShareStep{}, err
				}
				p.askAt.Store(&v[1])
				return nav.ShareStep{Words: words, Say: []string{
					"The hub has the request. Choose on the first laptop: let in a laptop that asks at the hub.",
					"Then choose here: come in with the answer. Read these words aloud there:",
				}}, nil
			}
			file := newFile(v[1], laptop, requestEnd)
			words, err := writeRequest(p.record, laptop, file)
			if err != nil {
				return nav.ShareStep{}, err
			}
			return nav.ShareStep{Words: words, Say: []string{
				file + " is written. Bring the stick to the first laptop and choose there: let a laptop in.",
				"Read these words aloud there:",
			}}, nil
		},
	}
}

func (p sharePage) admitAct(have roster.Roster, see, files seeing) nav.ShareAct {
	requests := files.waiting(have)
	return nav.ShareAct{
		Name: "let a laptop in", Button: "read the request",
		Does: "The other laptop wrote a request onto the stick. You need the practice's key and its passphrase.",
		Fields: []nav.ShareField{
			{Label: "request", Text: theOne(requests), Hint: "the file that the other laptop wrote" + cmp.Or(seenHere(requests), see.hint())},
			{Label: "key file", Text: p.keyFile(see), Hint: "the file of the practice's key"},
			{Label: "passphrase", Secret: true, Hint: "of the practice's key"},
		},
		Do: func(v []string) (nav.ShareStep, error) {
			q, err := readRequest(v[0])
			if err != nil {
				return nav.ShareStep{}, err
			}
			key, _, err := practiceKey(p.record, v[1], v[2]) // a wrong passphrase is told before words are read aloud
			if err != nil {
				return nav.ShareStep{}, err
			}
			return nav.ShareStep{
				Words: q.Words(), Say: []string{fmt.Sprintf("The laptop %q asks to come in. Let somebody read its words aloud:", q.Name)},
				Ask: sameThere,
				Then: func() (nav.ShareStep, error) {
					answer := answerTo(v[0])
					if err := p.env.admit(p.ctx, p.record, q, key, answer); err != nil {
						return nav.ShareStep{}, err
					}
					p.kick()
					return nav.ShareStep{Words: key.Words(), Say: []string{
						q.Name + " is in. Bring " + answer + " to it, and choose there: come in with the answer.",
						"It will show the practice's words:",
					}}, nil
				},
			}, nil
		},
	}
}

func (p sharePage) joinAct(see, files seeing) nav.ShareAct {
	answers := files.answered(p.record)
	proposed := theOne(answers)
	if at := p.askAt.Load(); at != nil {
		proposed = *at
	}
	return nav.ShareAct{
		Name: "come in with the answer", Button: "read the answer",
		Does:   "The first laptop let this one in. The answer is on the stick, or at the hub where this laptop asked.",
		Fields: []nav.ShareField{{Label: "answer", Text: proposed, Hint: "the file that the first laptop wrote, or the hub's address" + cmp.Or(seenHere(answers), see.hint())}},
		Do: func(v []string) (nav.ShareStep, error) {
			err := alone(p.record)
			if err != nil {
				return nav.ShareStep{}, err
			}
			answer, err := answerFrom(p.ctx, p.record, v[0])
			if err != nil {
				return nav.ShareStep{}, err
			}
			return nav.ShareStep{
				Words: answer.Practice.Words(), Say: []string{fmt.Sprintf("The practice %q lets this laptop in. Its words:", answer.Practice.Name)},
				Ask: "Does the first laptop show the same words?",
				Then: func() (nav.ShareStep, error) {
					if _, err := p.record.TakeStatements(p.ctx, answer.Said); err != nil {
						return nav.ShareStep{}, err
					}
					next := "Next: exchange with a folder now, the one on the stick."
					if _, hasHub := answer.Hub(); hasHub {
						next = "It exchanges with the hub by itself from now on. A stick works beside it."
					}
					p.kick()
					return nav.ShareStep{Say: []string{"This laptop is in the practice.", next}}, nil
				},
			}, nil
		},
	}
}

func (p sharePage) outAct(have roster.Roster, see seeing) nav.ShareAct {
	return nav.ShareAct{
		Name: "take a laptop out", Button: "take it out",
		Does: "When it was lost or sold. What it wrote so far stays; what it writes from now on does not count. It still reads what it holds. It stays out: it can come back only with a new key.",
		Fields: []nav.ShareField{
			{Label: "laptop", Hint: "its name, as above"},
			{Label: "key file", Text: p.keyFile(see), Hint: "the file of the practice's key" + see.hint()},
			{Label: "passphrase", Secret: true, Hint: "of the practice's key"},
		},
		Do: func(v []string) (nav.ShareStep, error) {
			out, err := laptopCalled(have, v[0])
			if err != nil {
				return nav.ShareStep{}, err
			}
			if err := p.env.takeOut(p.ctx, p.record, out, v[1], v[2]); err != nil {
				return nav.ShareStep{}, err
			}
			p.tellShared(1) // lists may be shorter now
			p.kick()        // the others learn it at once, where they can be reached
			return nav.ShareStep{Say: []string{out.Name + " is out from now on.", "The other laptops learn it at their next exchange.", stillReads(have)}}, nil
		},
	}
}
