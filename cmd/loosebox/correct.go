package main

import (
	"errors"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/weight"
	"loosebox/storage"
)

// correctFlags are what a correction or a late entry is made of.
type correctFlags struct {
	why, by, notDone, note, happened string
	sure, asJSON                     bool
}

func (e *env) correctCommand() *cobra.Command {
	var f correctFlags
	c := &cobra.Command{
		Use: "correct VISIT [STEP [ANSWER]]", Short: "correct a finding, or add one; the old value stays readable", Args: cobra.RangeArgs(1, 3),
		Long: `correct adds a line that corrects one answer of a visit, or adds a missing answer.
Nothing is erased. The old value, its author and its time stay on every page.

STEP is a step and, if it has several sites, the site: temp.rectal, gut.sounds:left
upper. Type ANSWER as in the exam, with its unit: 101.2F, 38.4C, 44/min, pink.
--not-done REASON marks the step as not done. --note TEXT adds a comment to the
visit or to the step. A closed visit needs --reason. --happened says when a late
entry happened. An answer that is unlikely and right needs --sure.`,
		Example: `  loosebox correct Bramble@last temp.rectal 101.2F --reason "misread the thermometer" --by "Ann Bell"
  loosebox correct Bramble@last --note "owner rang: coughed at night" --by "Ann Bell" --reason "told the day after"`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.correct(e.kept(r), args, f) })
		},
	}
	c.Flags().StringVar(&f.why, "reason", "", "why it is corrected or added late; needed once the visit is closed")
	byFlag(c, &f.by, "who corrects")
	c.Flags().StringVar(&f.notDone, "not-done", "", "the step was not done, for this reason")
	c.Flags().StringVar(&f.note, "note", "", "a comment")
	c.Flags().StringVar(&f.happened, "happened", "", "when it happened: 2026-03-04 09:30, or 09:30 on the day of the visit")
	c.Flags().BoolVar(&f.sure, "sure", false, "the answer is unlikely and right")
	c.Flags().BoolVar(&f.asJSON, "json", false, "print the whole visit as one JSON object")
	return c
}

func (e *env) correct(store exam.Store, args []string, f correctFlags) error {
	id, err := whichVisit(store, args[0], e.now())
	if err != nil {
		return err
	}
	page, err := e.page(store, id)
	if err != nil {
		return err
	}
	entry, err := e.correction(page.Visit, args[1:], f)
	if err != nil {
		return err
	}
	if entry.By, err = e.person(store, f.by); err != nil {
		return err
	}
	back, err := e.desk(store).Write(entry)
	if err := asUsage(err); err != nil {
		return err
	}
	if f.asJSON {
		if page, err = e.page(store, page.Visit.ID); err != nil {
			return err
		}
		doc := report.JSON(page)
		doc.Schema = "loosebox/correct/1"
		return e.printJSON(doc)
	}
	v, err := store.Visit(page.Visit.ID)
	if err != nil {
		return err
	}
	return e.sayCorrected(v, back)
}

// correction makes the line that is to be written.
func (e *env) correction(v exam.Visit, args []string, f correctFlags) (exam.Entry, error) {
	entry := exam.Entry{Visit: v.ID, Kind: exam.EntryFinding, At: e.now()}
	var step exam.Step
	var old exam.Finding
	var stands bool
	if len(args) > 0 {
		var err error
		if step, entry.Site, err = e.place(args[0]); err != nil {
			return entry, err
		}
		entry.Step = step.ID
		old, stands = v.Finding(exam.Key{Step: entry.Step, Site: entry.Site})
		step = step.For(v.Horse, old.Value)
	}
	switch {
	case f.note != "" && (len(args) > 1 || f.notDone != ""), f.notDone != "" && len(args) > 1:
		return entry, usage("give one of an answer, --not-done and --note")
	case f.note != "":
		entry.Kind, entry.Note = exam.EntryNote, f.note
	case len(args) == 0:
		return entry, usage("name what is corrected: a step and its answer, or --note")
	case f.notDone != "":
		entry.Kind, entry.Reason = exam.EntryNotDone, f.notDone
	case len(args) < 2:
		return entry, usage("give the right answer for %s, or --not-done with the reason", args[0])
	default:
		if step.Kind == exam.KindWeight {
			step = weight.Asked(step, weight.AnimalOf(v.Horse, v.OpenedAt), 0)
		}
		value, err := answer(step, args[1], f.sure)
		if err != nil {
			return entry, err
		}
		entry.Value = &value
	}
	if stands && entry.Kind != exam.EntryNote {
		entry.Replace(old)
	}
	return entry, e.amend(v, &entry, f)
}

// answer reads an answer from the command line, where a number carries its unit.
func answer(step exam.Step, text string, sure bool) (exam.Value, error) {
	value, err := step.ReadAnswer(text, notation.NoUnit)
	switch {
	case errors.Is(err, exam.ErrUnlikely) && sure:
	case errors.Is(err, exam.ErrUnlikely):
		return value, usage("%s is unlikely for %s: add --sure if it is so", value.Number.Text(2), strings.ToLower(step.Name))
	case err != nil:
		return value, usage("%v", err)
	}
	if len(step.Units) > 1 && value.Number != nil && !strings.ContainsFunc(text, unicode.IsLetter) {
		with := make([]string, len(step.Units))
		for i, u := range step.Units {
			with[i] = notation.CleanLine(text, 20) + string(u)
		}
		return value, usage("%q has no unit: write %s", notation.CleanLine(text, 20), strings.Join(with, " or "))
	}
	return value, nil
}

// amend says of a line to a closed visit why it is written, and when what it
// tells of happened.
func (e *env) amend(v exam.Visit, entry *exam.Entry, f correctFlags) error {
	if !v.Closed() {
		if f.happened != "" {
			return usage("--happened is for what is added to a closed visit; this one is open")
		}
		if why := notation.CleanLine(f.why, 0); why != "" { // not needed, and never dropped
			entry.Amend = &exam.Amendment{Why: exam.AmendReason(why)}
		}
		return nil
	}
	if notation.CleanLine(f.why, 0) == "" {
		return usage("the visit is closed: say why with --reason")
	}
	entry.Amend = &exam.Amendment{Why: exam.AmendReason(f.why)}
	if entry.Corrects == 0 {
		entry.Kind = exam.EntryAdded
	}
	if f.happened == "" {
		return nil
	}
	at, err := notation.ReadWhen(f.happened, v.OpenedAt.In(e.now().Location()))
	if err != nil {
		return usage("--happened: %v", err)
	}
	entry.Amend.Happened = &at
	return nil
}

// place reads a step and its site: "gut.sounds:left upper".
func (e *env) place(text string) (exam.Step, exam.Site, error) {
	id, site, _ := strings.Cut(notation.CleanLine(text, 80), ":")
	step, ok := e.steps.ByID(exam.StepID(strings.TrimSpace(id)))
	if !ok {
		id = strings.TrimSpace(id)
		var names []string
		for _, s := range e.steps.All() {
			names = append(names, string(s.ID))
		}
		return step, "", usage("no step is called %q%s; loosebox show VISIT --json names those of a visit", id, strings.TrimSuffix(didYouMean(id, names), "?"))
	}
	site = strings.TrimSpace(site)
	if step.HasSite(exam.Site(site)) {
		return step, exam.Site(site), nil
	}
	if len(step.Sites) == 0 {
		return step, "", usage("%s has no sites: leave %q out", step.ID, site)
	}
	var names []string
	for _, s := range append(append([]exam.Site(nil), step.Sites...), exam.Overall) {
		if step.HasSite(s) {
			names = append(names, string(s))
		}
	}
	if site != "" {
		return step, "", usage("%s has no site %q%s", step.ID, site, thereAre(site, names))
	}
	return step, "", usage("name the site of %s after a colon: %s", step.ID, strings.Join(names, ", "))
}

// person is who writes: the flag's, or the machine's.
func (e *env) person(store exam.Store, by string) (string, error) {
	if by = notation.CleanLine(by, 0); by != "" {
		if !notation.IsName(by) {
			return "", usage("%q is no name: --by needs a letter", by)
		}
		return by, nil
	}
	set, err := store.Settings()
	if err != nil {
		return "", err
	}
	if set.Person == "" {
		return "", usage("name who enters this: --by NAME")
	}
	return set.Person, nil
}

func (e *env) sayCorrected(v exam.Visit, back exam.Entry) error {
	step, _ := e.steps.ByID(back.Step)
	name := step.Name
	if back.Site != exam.NoSite {
		name += ", " + back.Site.String()
	}
	f, ok := v.Finding(exam.Key{Step: back.Step, Site: back.Site})
	if !ok || f.Seq != back.Seq {
		return e.printf("entry %d is saved: %s\n", back.Seq, notation.CleanNote(back.Note))
	}
	if err := e.printf("entry %d is saved: %s %s\n", back.Seq, name, report.Stood(f, step)); err != nil {
		return err
	}
	for _, line := range report.History(f, step) {
		if err := e.printf("    %s\n", line); err != nil {
			return err
		}
	}
	return nil
}
