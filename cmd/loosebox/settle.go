package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/storage"
)

// settleFlags are what somebody says who looked at something.
type settleFlags struct {
	by, words, horse, setting string
	take                      int
	asJSON                    bool
}

func (e *env) settleCommand() *cobra.Command {
	var f settleFlags
	c := &cobra.Command{
		Use: "settle [VISIT | FIELD --horse HORSE | --setting KEY]", Short: "what two laptops wrote without knowing of each other", Args: cobra.MaximumNArgs(1),
		Long: `settle lists what was written on two laptops that did not know of each other and
that a person must look at. Until then both stand, and the worst of answers counts.

  answers          loosebox correct VISIT STEP ANSWER chooses one, or gives a new one
  needles          both went in and both count, or one went in without a decision that was
                   changed: tell the veterinarian
  decisions        whoever entered it did not have something: ask again
  closed visits    lines came after the closing; they stay
  horses           a field says two things; the last one stands until you choose
  settings         of the practice: the list says which one is in use until you choose
  exams at once    two laptops had one of a horse open: look at both
  entered twice    two horses may be one: loosebox join makes them one, part says they are two

settle VISIT writes that needles, decisions and late lines of it were looked at, and the
exams that were open with it on another laptop.
settle FIELD --horse HORSE keeps what stands in a field of a horse.
settle --setting KEY keeps what is in use, --take N takes the Nth of the list.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error {
				switch {
				case f.setting != "" && (f.horse != "" || len(args) > 0):
					return usage("--setting KEY stands alone: it is of the practice")
				case f.setting != "":
					return e.settleSetting(r, exam.SettingKey(f.setting), f)
				case f.take != 0:
					return usage("--take needs --setting KEY")
				case f.horse != "" && len(args) == 1:
					return e.settleHorse(r, args[0], f)
				case f.horse != "":
					return usage("say which field of the horse stands: loosebox settle lists them")
				case len(args) == 1:
					return e.settleVisit(e.kept(r), args[0], f)
				default:
					return e.unsettled(r, f.asJSON)
				}
			})
		},
	}
	byFlag(c, &f.by, "who looked")
	c.Flags().StringVar(&f.words, "words", "", "what came of it, in a few words; needed to settle a visit")
	c.Flags().StringVar(&f.horse, "horse", "", "the horse of which a field is settled")
	c.Flags().StringVar(&f.setting, "setting", "", "the setting of the practice that is settled")
	c.Flags().IntVar(&f.take, "take", 0, "which of its values the practice uses (default: the last)")
	jsonFlag(c, &f.asJSON)
	return c
}

// unsettled lists what is to be settled.
func (e *env) unsettled(store exam.Store, asJSON bool) error {
	list, err := settle.List(store, e.steps, e.now())
	if err != nil {
		return err
	}
	if asJSON {
		return e.printJSON(struct {
			Schema string          `json:"schema"`
			Items  []settle.Matter `json:"items"`
		}{"loosebox/settle/1", append([]settle.Matter{}, list...)})
	}
	if len(list) == 0 {
		return e.printf("Nothing is to be settled.\n")
	}
	head := ""
	for _, i := range list {
		title := i.Name
		if !i.At.IsZero() {
			title += ", " + notation.ShownAt(i.At, e.now())
		}
		if title != head {
			head = title
			if err := e.printf("%s\n", title); err != nil {
				return err
			}
		}
		if err := e.printf("  %s\n    %s\n", i.Text, wayOn(i)); err != nil {
			return err
		}
	}
	return nil
}

// wayOn is the command that settles something.
func wayOn(i settle.Matter) string {
	switch i.Kind {
	case exam.UnsettledAnswers:
		place := string(i.Step)
		if i.Site != "" {
			place += ":" + string(i.Site)
		}
		return fmt.Sprintf("choose: loosebox correct %s %q ANSWER --reason WHY", shortNumber(i.Visit), place)
	case exam.UnsettledNeedles, exam.UnsettledMissed:
		return fmt.Sprintf("tell the veterinarian, then: loosebox settle %s --words WHAT", shortNumber(i.Visit))
	case exam.UnsettledDecision:
		return fmt.Sprintf("ask again: loosebox decide %s", shortNumber(i.Visit))
	case exam.UnsettledClosing:
		return fmt.Sprintf("look at them: loosebox show %s, then: loosebox settle %s --words WHAT", shortNumber(i.Visit), shortNumber(i.Visit))
	case exam.UnsettledDouble:
		return fmt.Sprintf("look: loosebox join %s %s --look, then without --look; two horses: loosebox part %[1]s %[2]s", i.Horse, i.Other)
	case exam.UnsettledParted:
		return fmt.Sprintf("look: loosebox join %q; one horse: loosebox join %s %s; two horses: loosebox part %[3]s %[2]s", i.Name, i.Horse, i.Other)
	case exam.UnsettledAtOnce:
		return fmt.Sprintf("finish yours: loosebox exam %q; or void the one that is not needed: loosebox void %s", i.Name, shortNumbers(i.Visits, " or "))
	case exam.UnsettledCompare:
		return fmt.Sprintf("look at them: loosebox show %s, then: loosebox settle %s --words WHAT", shortNumbers(i.Visits, " and "), shortNumber(i.Visit))
	case exam.UnsettledSetting:
		return fmt.Sprintf("choose: loosebox settle --setting %s --take 1 (to %d)", i.Setting, len(i.Values))
	case exam.UnsettledHorse:
		return fmt.Sprintf("keep it: loosebox settle %s --horse %q, or change it on its page", i.Field, i.Name)
	}
	return ""
}

// settleVisit writes that somebody looked at what is to be settled in a visit.
func (e *env) settleVisit(store exam.Store, which string, f settleFlags) error {
	id, err := whichVisit(store, which, e.now())
	if err != nil {
		return err
	}
	j, err := e.desk(store).Read(id)
	if err != nil {
		return err
	}
	v := j.Visit
	words := notation.CleanNote(f.words)
	by, err := e.person(store, f.by)
	if err != nil {
		return err
	}
	now := e.now()
	entries := settle.Compared(v, j.AtOnce, by, words, now)
	if entry, ok := settle.Looked(v, by, words, now); ok {
		entries = append(entries, entry)
	}
	switch {
	case len(entries) == 0 && len(v.Unsettled()) > 0:
		return usage("answers are settled by another answer: loosebox correct %s PLACE ANSWER", shortNumber(id))
	case len(entries) == 0 && len(j.AtOnce) > 0 && slices.ContainsFunc(append(j.AtOnce, v), func(o exam.Visit) bool { return !o.Closed() }):
		return usage("one of the exams is not finished: finish or void it first, then look at both")
	case len(entries) == 0:
		return usage("nothing of this visit is to be settled")
	case words == "":
		return usage("say with --words what came of it")
	}
	back, err := e.desk(store).WriteAll(entries...)
	if err := asUsage(err); err != nil {
		return err
	}
	if f.asJSON {
		return e.unsettled(store, true)
	}
	return e.printf("entry %d is written: %s looked at it. What stands, stays.\n", back[0].Seq, by)
}

// settleHorse keeps what stands in a field of a horse.
func (e *env) settleHorse(store exam.Store, field string, f settleFlags) error {
	h, err := findHorse(store, f.horse)
	if err != nil {
		return err
	}
	by, err := e.person(store, f.by)
	if err != nil {
		return err
	}
	for _, d := range h.Differ {
		if d.Field != field {
			continue
		}
		h.Revision++
		h.Settles = []string{field}
		if _, err := store.SaveHorse(h, by, e.now()); err != nil {
			return err
		}
		if f.asJSON {
			return e.unsettled(store, true)
		}
		return e.printf("%s of %s is settled.\n", field, h.Name)
	}
	return usage("nothing stands in two ways in %q of %s", notation.CleanLine(field, 40), h.Name)
}

// settleSetting writes which of its values a setting of the practice has.
func (e *env) settleSetting(r *storage.Record, key exam.SettingKey, f settleFlags) error {
	states, err := r.PracticeSettings()
	if err != nil {
		return err
	}
	at := slices.IndexFunc(states, func(s exam.SettingState) bool { return s.Key == key && s.Differ() })
	if at < 0 {
		return usage("nothing stands in two ways of the setting %q", notation.CleanLine(string(key), 40))
	}
	values := settle.Choices(states[at])
	if f.take == 0 {
		f.take = len(values)
	}
	if f.take < 1 || f.take > len(values) {
		return usage("--take is 1 to %d: loosebox settle lists them", len(values))
	}
	by, err := e.person(r, f.by)
	if err != nil {
		return err
	}
	set := exam.Setting{Key: key, Value: values[f.take-1].Value, By: by, At: e.now(), Replaces: states[at].Lines()}
	if err := r.SaveSetting(set); err != nil {
		return err
	}
	if _, _, err := e.syncOwn(r); err != nil {
		return err
	}
	if f.asJSON {
		return e.unsettled(r, true)
	}
	return e.printf("%s is settled: %s.\n", key.Called(), set.Shown())
}
