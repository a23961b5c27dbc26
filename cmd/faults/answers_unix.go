//go:build unix && !solaris && !aix

package main

import (
	"math/rand/v2"
	"time"

	"loosebox/cmd/termtest"
)

// tryAnswers has the terminal send answers that nobody asked for: whole, late, in pieces and cut off. Nothing may be stored,
// and the program must go on.
func tryAnswers(dir string, r rounds) (o outcome, err error) {
	o.lost = "nothing"
	p, err := newPlace(dir)
	if err != nil {
		return o, err
	}
	before, _, err := contents(p.data)
	if err != nil {
		return o, err
	}
	t, err := p.seat()
	if err != nil {
		return o, err
	}
	defer func() { _ = t.Kill() }()
	if err := t.WaitFor("today's round", patience); err != nil {
		return o, err
	}
	rnd := chance(r, 35)
	for range 20 * r.others {
		if err := sendAnswer(t, rnd); err != nil {
			return o, err
		}
		o.times++
	}
	for range 6 { // back home from the screen that an esc or a cut answer led to
		if t.Shows("today's round") {
			break
		}
		if err := t.Send("esc"); err != nil {
			return o, err
		}
		_ = t.WaitFor("today's round", time.Second) // else one more step
	}
	if err := t.WaitFor("today's round", patience); err != nil {
		return o, broken("the screens do not go on: %v", err)
	}
	if err := t.Send("ctrl+c"); err != nil {
		return o, err
	}
	if code, err := t.Wait(patience); err != nil || code != 0 {
		return o, broken("it ended with %d (%v)", code, err)
	}
	after, _, err := contents(p.data)
	if err == nil && after != before {
		err = broken("an answer of the terminal was stored")
	}
	o.seen = "nothing stored, and the screens go on"
	return o, err
}

// sendAnswer sends one answer: whole or cut at one place, now or after a pause, sometimes
// without its end.
func sendAnswer(t *termtest.Terminal, rnd *rand.Rand) error {
	list := []string{
		"\x1b]11;rgb:0000/0000/0000\x1b\\", "\x1b]10;rgb:ff/ff/ff\x07", "\x1b]4;1;rgb:cdcd/0000/0000\x1b\\", "\x1b[24;80R", "\x1b[?62;22c",
		"\x1b[>41;354;0c", "\x1b[0n", "\x1b[?2026;2$y", "\x1b[?1u", "\x1bP>|xterm(354)\x1b\\", "\x1bP1+r544e=78\x1b\\",
	}
	text := list[rnd.IntN(len(list))]
	cut := rnd.IntN(len(text))
	pieces, pause := []string{text[:cut], text[cut:]}, 0
	switch rnd.IntN(4) {
	case 0:
		pieces = []string{text}
	case 1: // the rest is late; a pause after the first byte would make it an esc
		pause = rnd.IntN(120)
		cut = max(cut, 2)
		pieces = []string{text[:cut], text[cut:]}
	case 2: // the rest never comes
		cut = max(cut, 2)
		pieces = []string{text[:cut]}
	}
	for i, piece := range pieces {
		if i > 0 {
			time.Sleep(time.Duration(pause) * time.Millisecond)
		}
		if _, err := t.Write(piece); err != nil {
			return err
		}
	}
	if err := t.Taken(); err != nil {
		return err
	}
	time.Sleep(time.Duration(rnd.IntN(80)) * time.Millisecond)
	return nil
}
