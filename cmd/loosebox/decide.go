package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

// decideFlags are what a decision is made of.
type decideFlags struct {
	vet, how, ruling, words, until string
	covers                         []string
	readBack                       bool
	recheck, what                  string
	by, why                        string
	corrects                       int
	asJSON                         bool
}

func (e *env) decideCommand() *cobra.Command {
	var f decideFlags
	c := &cobra.Command{
		Use: "decide VISIT", Short: "save what the veterinarian decided; it unlocks what it names", Args: cobra.ExactArgs(1),
		Long: `decide saves a decision of the veterinarian: the exact words, the name and how it
was given. It says go ahead, wait or stop, what it covers and how long it is
valid. Nothing is injected or drawn without a decision that covers it. A new
finding for the veterinarian locks it again. Without --vet, --decision and --words
the questions come one after the other.

--covers names one thing that the decision covers; it can be given several times:
draw, draw:WHAT FOR, or injection:PRODUCT:ROUTE:DOSE. The route is IM, IV, SC, by
mouth or in the nose; a colon in a name is \:. One order is one dose in one site.
A further part can say how often: injection:PRODUCT:IM:2 mL:3 times, 12 h apart,
or injection:PRODUCT:IM:30 mL:3 sites. A go ahead names its procedure, and an
injection its dose. Wait and stop without --covers cover everything.
--until is 18:00, tonight, 2026-03-04, "2026-03-04 18:00", 6h or 3d. Without it a
decision is valid for 24 hours. --corrects ENTRY corrects an earlier decision.
Both stay readable, and nothing new is unlocked.`,
		Example: `  loosebox decide Wren@last --vet "Dr Vale" --how "by telephone" --decision "go ahead" --words "Draw blood for a count." --covers draw --read-back --by "Ann Bell"
  loosebox decide Wren@last --vet "Dr Vale" --how here --decision wait --words "Not before I have seen her." --by "Ann Bell"`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.decide(r, id, f) })
		},
	}
	c.Flags().StringVar(&f.vet, "vet", "", "the veterinarian's name")
	c.Flags().StringVar(&f.how, "how", "", "how it was given: here, by telephone, standing written order")
	c.Flags().StringVar(&f.ruling, "decision", "", "go ahead, wait or stop")
	c.Flags().StringVar(&f.words, "words", "", "the veterinarian's own words, or which standing order it is")
	c.Flags().StringArrayVar(&f.covers, "covers", nil, "what it covers: draw:WHAT FOR, or injection:PRODUCT:ROUTE:DOSE:HOW OFTEN; can be given several times")
	c.Flags().StringVar(&f.until, "until", "", "valid until when (default: 24 hours)")
	c.Flags().BoolVar(&f.readBack, "read-back", false, "the words were read back and confirmed")
	c.Flags().StringVar(&f.recheck, "follow-up", "", "a follow-up: 1h, 20:00, tonight, \"tomorrow 8:00\", 3d, 2026-03-04")
	c.Flags().StringVar(&f.what, "follow-up-what", "", "what is to be checked then")
	correctsFlag(c, &f.corrects, "decision")
	c.Flags().StringVar(&f.why, "reason", "", "why it is corrected, or added late to a closed visit")
	byFlag(c, &f.by, "who enters it")
	jsonFlag(c, &f.asJSON)
	return c
}

func (e *env) decide(r *storage.Record, id exam.VisitID, f decideFlags) error {
	if f.vet == "" && f.ruling == "" && f.words == "" && !e.asJSON {
		return e.follow(r, following{command: "decide", screen: nav.Decision, run: (*plain.Session).Decide}, id, f.corrects, f.by)
	}
	v, err := findVisit(r, id)
	if err != nil {
		return err
	}
	d, err := f.decision(e, v)
	if err != nil {
		return err
	}
	entry := exam.Entry{Visit: v.ID, Kind: exam.EntryDecision, At: e.now(), Decision: &d, Corrects: f.corrects, Reason: f.why}
	if entry.Recheck, err = f.recheckLine(e, v); err != nil {
		return err
	}
	if entry.By, err = e.person(r, f.by); err != nil {
		return err
	}
	return e.writeDown(r, entry, "loosebox/decide/1", f.asJSON)
}

// decision reads the flags.
func (f decideFlags) decision(e *env, v exam.Visit) (exam.Decision, error) {
	d := exam.Decision{Vet: notation.CleanLine(f.vet, 0), Words: notation.CleanNote(f.words), ReadBack: f.readBack}
	var missing []string
	for _, n := range []struct{ flag, text string }{{"--vet", d.Vet}, {"--how", f.how}, {"--decision", f.ruling}, {"--words", d.Words}} {
		if strings.TrimSpace(n.text) == "" {
			missing = append(missing, n.flag)
		}
	}
	if len(missing) > 0 {
		return d, usage("a decision needs %s as well", strings.Join(missing, ", "))
	}
	if f.corrects > 0 {
		stands := false
		for _, old := range v.Decisions {
			stands = stands || old.Seq == f.corrects && !old.Corrected
		}
		if !stands {
			return d, exam.NoSuch("entry %d of this visit is no decision that stands", f.corrects)
		}
		if f.why == "" {
			return d, usage("a correction says why: --reason TEXT")
		}
	}
	var err error
	if d.How, err = meant("--how", f.how, exam.AllMeans()); err != nil {
		return d, err
	}
	if d.Ruling, err = meant("--decision", f.ruling, exam.Rulings()); err != nil {
		return d, err
	}
	for _, text := range f.covers {
		c, err := exam.ReadCover(text)
		if err != nil {
			return d, usage("--covers %q: %v", notation.CleanLine(text, 60), err)
		}
		d.Covers = append(d.Covers, c)
	}
	if d.Until, err = notation.ReadUntil(f.until, e.now()); err != nil {
		return d, usage("--until: %v", err)
	}
	if d.Until != nil {
		m := notation.Moment{Day: d.Until.Format(notation.DayForm), At: d.Until}
		e.say("It is valid until " + m.Words(e.now()) + ".")
	}
	return d, asUsage(d.Check())
}

// recheckLine is the recheck that a decision sets, or that of the one it corrects.
func (f decideFlags) recheckLine(e *env, v exam.Visit) (*exam.RecheckLine, error) {
	switch {
	case f.recheck == "" && f.what == "":
		return v.RecheckOf(f.corrects), nil
	case f.recheck == "" || notation.CleanLine(f.what, 0) == "":
		return nil, usage("a follow-up needs a time and what to check: --follow-up TIME --follow-up-what TEXT")
	}
	when, err := notation.ReadMoment(f.recheck, e.now())
	if err != nil {
		return nil, usage("--follow-up: %v", err)
	}
	e.say("Follow-up " + when.Words(e.now()) + ".")
	line := exam.RecheckAt(when, f.what)
	return &line, nil
}

// meant is the one of a list that a flag's text means: its beginning, or a part
// that only one of them has; hyphens stand for spaces.
func meant[T ~string](flag, text string, list []T) (T, error) {
	want := strings.ToLower(strings.ReplaceAll(notation.CleanLine(text, 40), "-", " "))
	for _, fits := range []func(string, string) bool{strings.HasPrefix, strings.Contains} {
		var found []T
		for _, x := range list {
			if want != "" && fits(string(x), want) {
				found = append(found, x)
			}
		}
		if len(found) == 1 {
			return found[0], nil
		}
	}
	words := make([]string, len(list))
	for i, x := range list {
		words[i] = string(x)
	}
	return "", usage("%s is one of %s, not %q", flag, strings.Join(words, ", "), notation.CleanLine(text, 40))
}

// asUsage makes a refusal of what was typed wrong use.
func asUsage(err error) error {
	var refused *notation.Refusal
	if errors.As(err, &refused) {
		return usage("%v", err)
	}
	return err
}
