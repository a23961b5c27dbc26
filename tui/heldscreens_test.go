package tui_test

import (
	"slices"
	"strings"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// heldRow is a screen as a key is held on it.
type heldRow struct {
	screen nav.Name
	shows  string         // what stands on it, so that the row is about what it says
	with   []func(*trial) // what the record holds besides a dull mare with an open exam
	later  time.Duration  // than the clock of the tests
	press  []string       // what was pressed before; "type " is before a text
	saves  saves
}

// saves is what one press of a key is meant to store, by the key. Every other key stores nothing.
type saves map[string]string

// What was done before.
var (
	ordered  = []string{"type LT-4471", "enter", "type 02/27", "enter", "type toxoid", "enter", "enter", "type Maker H", "enter", "enter", "type 500kg", "enter", "type 1", "ctrl+s"}
	inOrder  = strings.Fields("c p d o r t e v k f b")
	inVein   = []string{"type a count", "enter", "5", "space", "3", "space", "enter", "enter", "enter", "type 500kg", "ctrl+s"}
	tubesOK  = strings.Fields("c u t v b")
	goAhead  = []string{"type Give it", "enter", "1", "enter", "type Vaccine A", "enter", "2", "enter", "type 1 dose", "enter"}
	fromBook = []string{"type Vaccine T", "enter", "space", "enter", "type 2025-03-01", "enter", "type passport"}
)

// after is one list of keys behind another.
func after(before []string, keys string) []string { return slices.Concat(before, strings.Fields(keys)) }

// heldRows are all screens, each in the states in which a key could store something that cannot be undone. What a line
// of it saves is what one press is meant to save, with the sentence on the screen that says so.
func heldRows() []heldRow {
	decided, needleIn, given := []func(*trial){isDecided}, []func(*trial){isDecided, isNeedleIn}, []func(*trial){isDecided, isNeedleIn, isGiven}
	checked, drawChecked := after(ordered, strings.Join(inOrder, " ")), after(inVein, strings.Join(tubesOK, " "))
	watching := append(given[:3:3], isWatched)
	handedOff, closed, twice := []func(*trial){isHandedOff}, []func(*trial){isClosed}, []func(*trial){isTwice}
	joined := append(twice[:1:1], isJoined)
	return slices.Concat([]heldRow{
		// before a needle: the list is saved by the enter of its last line, the needle by i, and no key answers two questions
		{screen: nav.Injection, shows: "LOCKED"},
		{screen: nav.Injection, with: decided, shows: "> lot:"},
		{screen: nav.Injection, with: decided, press: ordered[:len(ordered)-1], shows: "> volume in mL: 1"},
		{screen: nav.Injection, with: decided, press: ordered, shows: "> Right horse"},
		{screen: nav.Injection, with: decided, press: after(ordered, "c p d"), shows: "> A second person checked"},
		{screen: nav.Injection, with: decided, press: after(ordered, "c p d n"), shows: "name: _"},
		{screen: nav.Injection, with: decided, press: after(ordered, "x"), shows: "in words: _"},
		{screen: nav.Injection, with: decided, press: checked[:len(checked)-1], shows: "> Handler on your side"},
		{screen: nav.Injection, with: decided, press: checked, shows: "every point is answered", saves: saves{"enter": "injection ready"}},
		{screen: nav.Injection, with: decided, press: after(checked, "enter"), shows: "> 1 neck triangle, left"},
		{screen: nav.Injection, with: decided, press: after(checked, "enter 7"), shows: "> ▴ 7 gluteal"},
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter"), shows: "i: the needle is in", saves: saves{"i": "injection needle in"}},
		{screen: nav.Injection, with: decided, press: after(checked, "enter x"), shows: "the owner refused", saves: saves{
			"m": "injection stopped", "v": "injection stopped", "b": "injection stopped", "e": "injection stopped", "r": "injection stopped",
		}},
		// a needle is in: each answer has its letter
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter i"), shows: "Draw the syringe back", saves: saves{
			"c": "injection clear", "b": "injection blood", "m": "injection not in place",
		}},
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter i c"), shows: "[g] given", saves: saves{"g": "injection given"}},
		{screen: nav.Injection, with: decided, press: append(after(checked, "enter enter i c a"), "type 0.5"), shows: "0.5_", saves: saves{"ctrl+s": "injection given"}},
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter i c o"), shows: "save what went in"},
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter i c x"), shows: "the needle came out or moved"},
		{screen: nav.Injection, with: decided, press: after(checked, "enter enter i c x m"), shows: "[n] nothing", saves: saves{"n": "injection stopped", "k": "injection stopped"}},
		{screen: nav.Injection, with: decided, press: append(after(checked, "enter enter i c x w"), "type it kicked"), shows: "it kicked_"},
		{screen: nav.Injection, with: needleIn, shows: "what happened?", saves: saves{
			"k": "injection given", "o": "injection not in place", "n": "injection stopped", "u": "injection stopped",
		}},
		{screen: nav.Injection, with: given, shows: "LOCKED"},
	}, []heldRow{
		{screen: nav.Draw, shows: "LOCKED"},
		{screen: nav.Draw, with: decided, shows: "> for: _"},
		{screen: nav.Draw, with: decided, press: inVein, shows: "> Right horse"},
		{screen: nav.Draw, with: decided, press: drawChecked, shows: "every point is answered", saves: saves{"enter": "draw order"}},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter"), shows: "> 1 jugular, upper third, left"},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter enter"), shows: "i: the needle is in", saves: saves{"i": "draw needle in"}},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter enter i"), shows: "[a] serum is filled", saves: saves{"a": "draw tube filled", "n": "draw no blood"}},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter enter i a"), shows: "[b] EDTA is filled", saves: saves{"b": "draw tube filled"}},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter enter i a b"), shows: "[d] 13 mL in all", saves: saves{"d": "draw drawn"}},
		{screen: nav.Draw, with: decided, press: after(drawChecked, "enter enter i x"), shows: "a swelling at the vein"},

		{screen: nav.Watch, with: given, shows: "> minutes: _"},
		{screen: nav.Watch, with: given, press: []string{"type 20", "enter"}, shows: "> [start the observation]", saves: saves{"enter": "watch begun", "ctrl+s": "watch begun"}},
		{screen: nav.Watch, with: given, press: []string{"enter", "x"}, shows: "owner refused", saves: saves{"o": "watch declined", "v": "watch declined", "r": "watch declined"}},
		{screen: nav.Watch, with: watching, shows: "of 20 minutes"},
		{screen: nav.Watch, with: watching, press: []string{"x"}, shows: "The observation stops early", saves: saves{"o": "watch left early", "v": "watch left early", "m": "watch left early"}},
		{screen: nav.Watch, with: watching, later: time.Hour, shows: "n: no reaction seen", saves: saves{"n": "watch quiet"}},

		{screen: nav.Dangers, shows: "> 1 Into the artery"},
		{screen: nav.Dangers, with: needleIn, press: []string{"1"}, shows: "What is seen?"},
		{screen: nav.Dangers, with: needleIn, press: []string{"1", "b"}, shows: "✓ [b]", saves: saves{"enter": "note"}},
		{screen: nav.Dangers, with: watching, press: []string{"2", "b"}, shows: "✓ [b]", saves: saves{"enter": "watch reaction"}},

		{screen: nav.Record, shows: "1 consent, given or refused"},
		{screen: nav.Record, press: []string{"enter"}, shows: "> by: P. Duarte"},
		{screen: nav.Record, press: []string{"enter", "enter", "type surgery"}, shows: "surgery_", saves: saves{"ctrl+s": "note"}},
	}, []heldRow{
		// decided, handed off, closed, signed, corrected
		{screen: nav.HandOff, shows: "WHY I CALL"},
		{screen: nav.HandOff, press: []string{"enter"}, shows: "> to whom: _"},
		{screen: nav.HandOff, press: []string{"enter", "type Dr Vale"}, shows: "Dr Vale_", saves: saves{"ctrl+s": "handed off"}},
		{screen: nav.Decision, with: handedOff, shows: "> in these words: _"},
		{screen: nav.Decision, with: handedOff, press: goAhead, shows: "decision: go ahead", saves: saves{"ctrl+s": "decision"}},
		{screen: nav.After, with: decided, shows: "> to do injection"},
		{screen: nav.After, with: given, shows: "> to do observation"},
		{screen: nav.Dose, shows: "> product: _"},
		{screen: nav.Dose, press: fromBook, shows: "passport_", saves: saves{"ctrl+s": "injection past"}},
		{screen: nav.Review, shows: "f finish"},
		{screen: nav.Review, press: []string{"f"}, shows: "> 1 hand off now"},
		{screen: nav.Review, with: handedOff, press: []string{"f"}, shows: "Choose one reason"},
		{screen: nav.Review, with: handedOff, press: []string{"f", "3"}, shows: "> 3 no time", saves: saves{"enter": "59 lines, the last: closed"}},
		{screen: nav.Review, with: given, press: []string{"f"}, shows: "f closes anyway"},
		{screen: nav.Review, with: closed, shows: "k void visit"},
		{screen: nav.Review, with: closed, press: []string{"enter", "ctrl+u", "type 39", "enter"}, shows: "Why is this corrected?"},
		{screen: nav.Review, with: closed, press: []string{"enter", "ctrl+u", "type 39", "enter", "type a typo"}, shows: "a typo_", saves: saves{"enter": "finding temp.rectal"}},
		{screen: nav.SignOff, with: closed, shows: "> read by: _"},
		{screen: nav.SignOff, with: closed, press: []string{"type Dr Vale"}, shows: "Dr Vale_", saves: saves{"ctrl+s": "added later"}},
		{screen: nav.Strike, with: closed, shows: "> why: _"},
		{screen: nav.Strike, with: closed, press: []string{"type wrong horse"}, shows: "wrong horse_", saves: saves{"ctrl+s": "a visit voided"}},
		{screen: nav.Late, with: closed, shows: "> what: _"},
		{screen: nav.Late, with: closed, press: []string{"type a line", "ctrl+s", "type told now"}, shows: "told now_", saves: saves{"ctrl+s": "added later"}},
		{screen: nav.Join, with: twice, shows: "3 [not decided]"},
		{screen: nav.Join, with: twice, press: []string{"1", "enter", "type same"}, shows: "same_", saves: saves{"ctrl+s": "horses joined or parted"}},
		{screen: nav.Join, with: joined, shows: "3 [none]"},
		{screen: nav.Settle, with: []func(*trial){isTwice, isOfAll}, shows: "They have the same chip"},
		{screen: nav.Settle, with: append(joined[:2:2], isOfHorse), shows: "> name: 1 Brambel"},
		{screen: nav.Settle, with: []func(*trial){isSetTwice}, shows: "[not decided]"},
		{screen: nav.Settle, shows: "> what came of it: _"},
		{screen: nav.Settle, press: []string{"type vet told"}, shows: "vet told_"},
		{screen: nav.NewForm, shows: "> name: Bramble_"},
		{screen: nav.NewForm, press: []string{"type s"}, shows: "> name: Brambles_", saves: saves{"ctrl+s": "the horse changed"}},
		{screen: nav.Start, shows: "> your name: Ann Bell_"},
		{screen: nav.Start, with: []func(*trial){isClosed, isOfHorse}, press: []string{"ctrl+s"}, shows: "[begin the exam]", saves: saves{
			"ctrl+s": "an exam begun, a setting of this laptop", "u": "an exam begun, context, a setting of this laptop",
		}},
		{screen: nav.Again, with: closed, shows: "> [begin the five-minute check]", saves: saves{"enter": "an exam begun, note", "ctrl+s": "an exam begun, note"}},
		{screen: nav.Episode, with: closed, shows: "No check was repeated"},
	}, stepRows(), []heldRow{
		// what stores nothing of a horse
		{screen: nav.Home, shows: "go on with Bramble's exam"},
		{screen: nav.Horse, shows: "n new past dose"},
		{screen: nav.Round, shows: "f seen"},
		{screen: nav.Round, press: []string{"x"}, shows: "why not: _", saves: saves{"enter": "1 of the round: skipped"}},
		{screen: nav.Round, press: []string{"m"}, shows: "Reassign: Bramble", saves: saves{"ctrl+s": "1 of the round: reassigned"}},
		{screen: nav.Round, press: []string{"a"}, shows: "Reassign: Bramble", saves: saves{"ctrl+s": "1 of the round: reassigned"}},
		{screen: nav.Round, press: []string{"o"}, shows: "When it comes"},
		{screen: nav.Due, shows: "> due tetanus"},
		{screen: nav.Compare, shows: "> temperature C"},
		{screen: nav.Trend, with: at("temp.rectal", exam.NoSite), shows: "temperature"},
		{screen: nav.Sums, shows: "> 1 weigh by tape"},
		{screen: nav.Tally, shows: "heart or breath"},
		{screen: nav.Help, shows: "what this program is"},
		{screen: nav.Tour, shows: "enter begin"},
		{screen: nav.Tour, press: []string{"enter"}, shows: "1 bright and alert"},
		{screen: nav.Practice, shows: "Tap space with it"},
		{screen: nav.Order, shows: "> at the door"},
		{screen: nav.Order, press: []string{"enter", "down", "enter"}, shows: "not saved", saves: saves{"ctrl+s": "a routine, a setting of this laptop"}},
		{screen: nav.Settings, shows: "> your name: Ann Bell"},
		{screen: nav.Arrived, with: []func(*trial){isArrived}, shows: "> "},
		{screen: nav.Share, with: []func(*trial){isShared}, shows: "> 1 let a laptop in"},
		{screen: nav.Share, with: []func(*trial){isShared}, press: []string{"1", "enter", "type oats"}, shows: "****", saves: saves{"ctrl+s": "sharing: asked"}},
		{screen: nav.Share, with: []func(*trial){isShared}, press: []string{"1", "enter", "type oats", "ctrl+s"}, shows: "the same words?", saves: saves{"y": "sharing: let in"}},
		{screen: nav.Sheet, with: []func(*trial){isSheet}, shows: "> Horse"},
		{screen: nav.Sheet, with: []func(*trial){isSheet}, press: []string{"a", "home", "down", "down", "down", "enter", "type Ann Bell", "enter", "a"}, shows: "6 of 6 confirmed", saves: saves{"f": "an import"}},
		{screen: nav.Rehearse, shows: "ctrl+s begin", saves: saves{"ctrl+s": "rehearsal: a new horse, rehearsal: an exam begun, rehearsal: note"}},
		{screen: nav.Rehearse, press: []string{"ctrl+s"}, shows: "ctrl+s go in"},
		{screen: nav.Marks, with: []func(*trial){isRehearsed}, shows: "ctrl+s save accuracy", saves: saves{"ctrl+s": "a setting of this laptop"}},
		{screen: nav.Progress, with: []func(*trial){isRehearsed}, shows: "1 rehearsal, 1 finished"},
		{screen: nav.Class, shows: "Nobody took a set exam"},
	})
}

// at is the place in the exam that the address names.
func at(step exam.StepID, site exam.Site) []func(*trial) {
	return []func(*trial){func(b *trial) { b.to.At = exam.Key{Step: step, Site: site} }}
}

// stepRows are steps of each kind, as the exam asks them, and its panels.
func stepRows() []heldRow {
	usual := func(step string) saves { return saves{"u": "finding " + step} }
	sides := func(step string) saves {
		return saves{"u": "finding " + step, "a": "finding " + step + ", finding " + step}
	}
	return []heldRow{
		{screen: nav.Exam, shows: "Approach and handler"},
		{screen: nav.Exam, press: []string{"1", "enter"}, shows: "Demeanor", saves: saves{"u": "finding demeanour", "z": "finding demeanour, finding posture, finding breath.effort, finding pain.signs, finding gait.look, finding urine"}},
		{screen: nav.Exam, press: []string{"x"}, shows: "Not done: why?", saves: saves{"enter": "not done approach"}},
		{screen: nav.Exam, press: []string{"w"}, shows: "Comment on Approach"},
		{screen: nav.Exam, press: []string{"w", "type shy"}, shows: "shy_", saves: saves{"enter": "note approach"}},
		{screen: nav.Exam, with: at("temp.rectal", exam.NoSite), shows: "40.2", saves: saves{"enter": "finding temp.rectal"}},
		{screen: nav.Exam, with: at("temp.rectal", exam.NoSite), press: []string{"x"}, shows: "Not done: why?", saves: saves{"enter": "not done temp.rectal"}},
		{screen: nav.Exam, with: at("heart.rate", exam.NoSite), shows: "Heart rate"},
		{screen: nav.Exam, with: at("heart.rate", exam.NoSite), press: []string{"t"}, shows: "Heart rate"},
		{screen: nav.Exam, with: at("heart.murmur", exam.Left), shows: "murmur", saves: usual("heart.murmur")},
		{screen: nav.Exam, with: at("gum.refill", exam.NoSite), shows: "refill"},
		{screen: nav.Exam, with: at("lung.sounds", exam.LeftUpper), shows: "Lung sounds", saves: sides("lung.sounds")},
		{screen: nav.Exam, with: at("gut.sounds", exam.LeftUpper), shows: "Gut sounds", saves: sides("gut.sounds")},
		{screen: nav.Exam, with: at("pain.grimace", exam.NoSite), shows: "Grimace"},
		{screen: nav.Exam, with: at("weight.body", exam.NoSite), shows: "Body weight"},
		{screen: nav.Exam, with: at("condition.score", exam.NoSite), shows: "Condition"},
	}
}

func isDecided(b *trial) {
	screentest.HandOff(b.t, b.store, b.visit)
	screentest.Rule(b.t, b.store, b.visit, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
}

func isNeedleIn(b *trial) { screentest.NeedleIn(b.t, b.store, b.visit) }

func isGiven(b *trial) {
	for _, l := range []exam.InjectionLine{{Number: 1, Phase: exam.InjectionClear}, {Number: 1, Phase: exam.InjectionGiven, VolumeML: 1}} {
		screentest.Add(b.t, b.store, b.visit, exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	}
}

func isWatched(b *trial) {
	screentest.Add(b.t, b.store, b.visit, exam.Entry{Kind: exam.EntryWatch, At: screentest.Now(), Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
}

func isHandedOff(b *trial) { screentest.HandOff(b.t, b.store, b.visit) }

func isClosed(b *trial) { screentest.Add(b.t, b.store, b.visit, exam.Entry{Kind: exam.EntryClosed}) }

// isTwice enters the mare a second time, as on another laptop.
func isTwice(b *trial) {
	o, err := b.store.SaveHorse(exam.Horse{Name: "Brambel", Kind: exam.AnimalHorse, Revision: 1, Chip: chip, Place: "box 9"}, "Eva Holm", screentest.Now())
	require.NoError(b.t, err)
	b.to.Other = o.ID
}

func isJoined(b *trial) {
	require.NoError(b.t, b.store.Join(exam.Joining{Horses: []exam.HorseID{b.horse.ID, b.to.Other}, By: "Ann Bell", At: screentest.Now()}))
	b.to.Other = ""
}

// isOfHorse and isOfAll leave the exam, and the horse, out of the address.
func isOfHorse(b *trial) { b.to.Visit, b.to.Other = "", "" }

func isOfAll(b *trial) { b.to = nav.Address{Screen: b.to.Screen} }

func isSetTwice(b *trial) {
	for _, v := range []string{"5", "9"} { // a line that names nothing did not know of the other
		require.NoError(b.t, b.store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte(v), Replaces: []exam.Hash{}, By: "Eva " + v, At: screentest.Now()}))
	}
	isOfAll(b)
	b.to.Setting = exam.SettingSiteML
}

func isArrived(b *trial) {
	b.deps.Arrived = func(time.Time) ([]exam.Arrival, error) {
		return []exam.Arrival{{Visit: b.visit, At: screentest.Now()}}, nil
	}
}

func isRehearsed(b *trial) {
	b.to.Visit = screentest.Rehearse(b.t, b.deps, "tarn", 2, screentest.Now().Add(-time.Hour), rehearse.Trainee{By: "Ann Bell", To: "Dr Vale"})
}

func isSheet(b *trial) {
	p, err := intake.Look(strings.NewReader("Horse,Date,Temp\nBramble,2019-05-04,38.1\n"), "yard.csv", intake.How{}, b.deps.Steps, b.now)
	require.NoError(b.t, err)
	b.to.Sheet, b.used = &nav.SheetPlan{Proposal: p}, true // what is answered changes it, so each try needs its own
}

func isShared(b *trial) { b.deps.Sharing = shared{b} }

// shared is a practice of two laptops, in which a third asks to be let in.
type shared struct{ b *trial }

func (s shared) State() (nav.ShareState, error) {
	let := func() (nav.ShareStep, error) { return nav.ShareStep{}, s.b.say(nil, "sharing: let in") }
	return nav.ShareState{Acts: []nav.ShareAct{{
		Name: "let a laptop in", Button: "read the request", Fields: []nav.ShareField{{Label: "passphrase", Secret: true}},
		Do: func([]string) (nav.ShareStep, error) {
			return nav.ShareStep{Words: "road title now reward corn trash", Ask: "Does the other laptop show the same words?", Then: let}, s.b.say(nil, "sharing: asked")
		},
	}}}, nil
}
