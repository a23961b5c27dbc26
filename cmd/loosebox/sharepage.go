package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage/share"
	"loosebox/tui/nav"
)

// sharePage is what the page of several laptops shows and does.
type sharePage struct {
	*sharer
	sticks func() []string
	home   string // the person's own folder; empty where it is not known
}

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
	met, err := exchanges(p.record)
	if err != nil {
		return s, err
	}
	last := together(met)
	list, err := laptops(p.record, have)
	if err != nil {
		return s, err
	}
	fact := func(label, format string, args ...any) {
		s.Facts = append(s.Facts, nav.ShareFact{Label: label, Text: fmt.Sprintf(format, args...)})
	}
	var by [2]string // with a folder and a hub, each stands with its own exchange
	if len(met) == 2 && !last.At.IsZero() {
		by = [2]string{"; " + exchangedLine(met[0], p.env.now()), "; " + exchangedLine(met[1], p.env.now())}
	}
	switch {
	case set.ShareFolder == "":
		fact("folder", "none yet: exchange once, and it is kept")
	case share.New(set.ShareFolder).There():
		fact("folder", "%s%s", set.ShareFolder, by[0])
	default:
		fact("folder", "%s, not there now%s", set.ShareFolder, by[0])
	}
	at, hasHub := have.Hub()
	if hasHub {
		fact("hub", "%s%s", at.Address, by[1])
	}
	if len(met) == 1 && !last.At.IsZero() {
		fact("last exchange", "%s", exchangedLine(met[0], p.env.now()))
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
		fact("not let in", "%s there are of laptops that nobody let in", notation.Counted(n, "line"))
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
		fact("kept aside", "%s there did not fit; loosebox share status says why", notation.Counted(n, "part"))
	}
	if hasHub {
		s.Acts = append(s.Acts, p.meetAct(at))
	}
	see := seeing(p.sticks())
	files := see // where requests and answers lie: on a network drive they are in the folder itself
	if set.ShareFolder != "" && !slices.Contains(see, set.ShareFolder) {
		files = append(slices.Clone(see), set.ShareFolder)
	}
	s.Acts = append(s.Acts, p.exchangeAct(cmp.Or(set.ShareFolder, see.proposed(folderName)), see))
	if have.None() {
		s.Acts = append(s.Acts, p.startAct(set.Practice.Name, see), p.askAct(see), p.joinAct(see, files))
	} else {
		s.Acts = append(s.Acts, p.admitAct(have, see, files))
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

// tellShared tells the screens how sharing stands.
func (p sharePage) tellShared(came int) {
	msg, err := sharedNow(p.record)
	if err == nil {
		msg.Came = came
		p.send(msg)
	}
}
