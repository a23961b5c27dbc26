package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage/outside"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
	"loosebox/tui/nav"
)

// sharePage is what the page of several laptops shows and does.
type sharePage struct {
	*sharer
	sticks func() []string
	home   string // the person's own folder; empty where it is not known
}

// keyName is what the file of a practice's key is called where nobody calls it otherwise.
const keyName = "practice.key"

// keyFile is the file of the practice's key where it is in sight, in the person's own folder
// or on a stick; empty where it is in none, or may be any of several.
func (p sharePage) keyFile(see seeing) string {
	return theOne(append(seeing{p.home}, see...).named(keyName))
}

// folderName is the folder that the page proposes on a stick, and makes there.
const folderName = "loosebox"

// State is how sharing stands, and what can be done about it.
func (p sharePage) State() (nav.ShareState, error) {
	var s nav.ShareState
	set, err := p.record.Settings()
	if err != nil {
		return s, err
	}
	have, err := p.record.Roster()
	if err != nil {
		return s, err
	}
	last, waiting, err := p.record.LastExchange()
	if err != nil {
		return s, err
	}
	list, err := laptops(p.record, have)
	if err != nil {
		return s, err
	}
	fact := func(label, format string, args ...any) {
		s.Facts = append(s.Facts, nav.ShareFact{Label: label, Text: fmt.Sprintf(format, args...)})
	}
	switch {
	case set.ShareFolder == "":
		fact("folder", "none yet: exchange once, and it is kept")
	case share.New(set.ShareFolder).There():
		fact("folder", "%s", set.ShareFolder)
	default:
		fact("folder", "%s, not there now", set.ShareFolder)
	}
	at, hasHub := have.Hub()
	if hasHub {
		fact("hub", "%s", at.Address)
	}
	if !last.At.IsZero() {
		left := "all sent"
		if waiting > 0 {
			left = notation.Counted(waiting, "line") + " to send"
		}
		fact("last exchange", "%s; %s", last.At.Format("2 Jan 2006 15:04"), left)
	}
	if !have.None() {
		fact("practice", "%s", have.Practice.Name)
		fact("its words", "%s", have.Practice.Words())
		if have.Sealed() {
			fact("sealed", "what is exchanged can be read on the practice's laptops alone")
		}
	}
	for _, l := range list {
		fact("laptop", "%s", laptopLine(l))
	}
	if n := unknownLines(last.Unknown); n > 0 {
		fact("not let in", "%s in the folder are of laptops that nobody let in", notation.Counted(n, "line"))
	}
	if last.Sealed > 0 {
		fact("sealed", "%s", sealedText(last.Sealed))
	}
	n, err := p.env.toSettle(p.record)
	if err != nil {
		return s, err
	}
	if n > 0 {
		fact("to settle", "%d; ctrl+t on the home screen lists them", n)
	}
	if n := len(last.Aside); n > 0 {
		fact("kept aside", "%s in the folder did not fit; loosebox share status says why", notation.Counted(n, "part"))
	}
	if hasHub {
		s.Acts = append(s.Acts, p.meetAct(at))
	}
	see := seeing(p.sticks())
	s.Acts = append(s.Acts, p.exchangeAct(cmp.Or(set.ShareFolder, see.proposed(folderName)), see))
	if have.None() {
		s.Acts = append(s.Acts, p.startAct(set.Practice.Name, see), p.askAct(see), p.joinAct(see))
	} else {
		s.Acts = append(s.Acts, p.admitAct(have, see))
		if hasHub {
			s.Acts = append(s.Acts, p.admitAtHubAct(at, see))
		}
		s.Acts = append(s.Acts, p.outAct(have, see), p.hubAct(at, see), p.sealAct(have, see))
	}
	for i := range s.Acts {
		do := s.Acts[i].Do
		s.Acts[i].Do = func(v []string) (nav.ShareStep, error) { return told(do(v)) }
	}
	return s, nil
}

// told puts into words what the system said of a file.
func told(step nav.ShareStep, err error) (nav.ShareStep, error) {
	if then := step.Then; then != nil {
		step.Then = func() (nav.ShareStep, error) { return told(then()) }
	}
	if err != nil {
		err = errors.New(inWords(err))
	}
	return step, err
}

// laptopLine is a laptop in one line.
func laptopLine(l laptopJSON) string {
	text := cmp.Or(l.Name, "key "+l.Key[:9]) + ", " + notation.Counted(int(l.Lines), "line")
	switch {
	case l.Here && l.Standing == roster.Out.String():
		text += ", this one, out"
	case l.Here:
		text += ", this one"
	case l.Standing == roster.Out.String():
		text += ", out"
	case l.Standing == roster.Earlier.String(): // its name says it
	case l.Standing == roster.Unknown.String():
		text += ", not let in"
	}
	if l.Copied {
		text += ", copied or restored"
	}
	if l.Apart > 0 {
		text += fmt.Sprintf("; %s apart", notation.Counted(l.Apart, "line"))
	}
	return text
}

// exchangeAct exchanges once, and keeps the folder in the settings.
func (p sharePage) exchangeAct(folder string, see seeing) nav.ShareAct {
	return nav.ShareAct{
		Name: "exchange with a folder now", Button: "exchange",
		Does:   "Takes in what the folder holds and writes what it does not hold. The folder is kept in the settings and used whenever it is there.",
		Fields: []nav.ShareField{{Label: "folder", Text: folder, Hint: "the whole path of a folder on a stick or a network drive" + see.hint()}},
		Do: func(v []string) (nav.ShareStep, error) {
			dir := v[0]
			if !filepath.IsAbs(dir) {
				return nav.ShareStep{}, errors.New("write the whole path of the folder, from the root on")
			}
			if err := makeFolder(dir); err != nil {
				return nav.ShareStep{}, err
			}
			if info, err := os.Stat(dir); err == nil && info.IsDir() { // before the exchange: the settings are a line too
				if err := p.keepFolder(dir); err != nil {
					return nav.ShareStep{}, err
				}
			}
			done, err := p.exchange(p.ctx, dir, false)
			if err != nil {
				return nav.ShareStep{}, err
			}
			return p.exchanged(done, false), nil
		},
	}
}

// meetAct exchanges once with the hub.
func (p sharePage) meetAct(at roster.Hub) nav.ShareAct {
	return nav.ShareAct{
		Name: "exchange with the hub now", Button: "exchange",
		Does: "Takes in what the hub holds and sends what it does not hold. Whenever there is a network, this happens without you too.",
		Do: func([]string) (nav.ShareStep, error) {
			done, err := p.meet(p.ctx, at, false)
			if err != nil {
				return nav.ShareStep{}, err
			}
			return p.exchanged(done, true), nil
		},
	}
}

// exchanged says what an exchange did, and tells the screens.
func (p sharePage) exchanged(done share.Result, byHub bool) nav.ShareStep {
	say := strings.Split(strings.TrimSpace(sharedText(done, byHub)), "\n")
	if done.Unwritten != nil {
		say = append(say, inWords(done.Unwritten))
	}
	p.tellShared(done.Came)
	return nav.ShareStep{Say: say}
}

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

// keepFolder puts a folder into the settings.
func (p sharePage) keepFolder(dir string) error {
	set, err := p.record.Settings()
	if err != nil || set.ShareFolder == dir {
		return err
	}
	set.ShareFolder = dir
	if err := p.record.SaveSettings(set); err != nil {
		return err
	}
	p.send(nav.SettingsMsg{Settings: set})
	return nil
}

// makeFolder makes the proposed folder on a stick that is there; no other folder is made.
func makeFolder(dir string) error {
	if filepath.Base(dir) != folderName {
		return nil
	}
	err := os.Mkdir(dir, 0o777)
	if err == nil || errors.Is(err, fs.ErrExist) || errors.Is(err, fs.ErrNotExist) {
		return nil // the exchange says what is missing
	}
	return err
}

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

func (p sharePage) admitAct(have roster.Roster, see seeing) nav.ShareAct {
	requests := see.waiting(have)
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

func (p sharePage) joinAct(see seeing) nav.ShareAct {
	answers := see.answered(p.record)
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

// tellShared tells the screens how sharing stands.
func (p sharePage) tellShared(came int) {
	last, waiting, err := p.record.LastExchange()
	if err == nil {
		p.send(nav.SharedMsg{At: last.At, Waiting: waiting, Came: came})
	}
}

// sticks are the places where this system shows sticks, as far as they are there.
func sticks() []string {
	patterns := []string{"/media/*/*", "/run/media/*/*"}
	switch runtime.GOOS {
	case "darwin":
		patterns = []string{"/Volumes/*"}
	case "windows":
		patterns = []string{`D:\`, `E:\`, `F:\`, `G:\`}
	}
	var out []string
	for _, pattern := range patterns {
		list, _ := filepath.Glob(pattern) // the patterns are constants
		for _, name := range list {
			if info, err := os.Stat(name); err == nil && info.IsDir() {
				out = append(out, name)
			}
		}
	}
	return out
}
