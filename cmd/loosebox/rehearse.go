package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/storage"
	screen "loosebox/tui/screen/rehearse"
)

// rehearseFlags are what a rehearsal is begun with.
type rehearseFlags struct {
	name, file, routine, by string
	seed                    uint64
	blind, timed            bool
	list, pattern           bool
	set                     string
	setPattern              bool
	drill                   string
	rate                    int
	next, goOn              bool
	drop                    string
	wav, listen             string
	seconds                 int
}

func (e *env) rehearseCommand() *cobra.Command {
	var f rehearseFlags
	c := &cobra.Command{
		Use: "rehearse", Short: "an exam of a simulated horse, marked afterwards", Args: cobra.NoArgs,
		Long: `rehearse lets you examine a simulated horse on the exam screens. At the end it marks
order, missed steps, counts, findings, safe choices and the hand-off. Nothing of it
is real, and it is never mixed with real visits. The same case and seed give the
same horse.

With --plain, or without a terminal, it asks line by line. Your own cases are YAML
files in the folder cases beside the record, or named by --case-file. --wav writes
a sound of one site to a file. --exam takes a set exam; loosebox class shows the
results. --drill practices one step; --next the one that is due first.`,
		RunE: func(c *cobra.Command, _ []string) error {
			if c.Flags().Changed("seed") && f.seed == 0 {
				return usage("a seed is a whole number from 1")
			}
			return e.rehearse(f)
		},
	}
	flags := c.Flags()
	flags.StringVar(&f.name, "case", "", "the case, by its name (--list shows them); without it any of them, by the seed")
	flags.StringVar(&f.file, "case-file", "", "a case of your own, as a YAML file")
	flags.Uint64Var(&f.seed, "seed", 0, "a whole number; without it a new one")
	flags.StringVar(&f.routine, "routine", "", "the routine, by its name; without it that of the case")
	flags.StringVar(&f.by, "by", "", "who rehearses")
	flags.BoolVar(&f.blind, "blind", false, "show neither the order nor the instructions")
	flags.BoolVar(&f.timed, "timed", false, "show the time")
	flags.BoolVar(&f.list, "list", false, "list the cases and end")
	flags.BoolVar(&f.pattern, "pattern", false, "print the file of the built-in case, as a pattern for your own, and end")
	flags.StringVar(&f.drill, "drill", "", "practice one step on a new horse, such as gut.sounds")
	flags.IntVar(&f.rate, "rate", 0, "with --drill heart.rate or breath.rate: so many a minute")
	flags.BoolVar(&f.next, "next", false, "drill the step that is due first, by what went wrong before")
	flags.BoolVar(&f.goOn, "go-on", false, "continue the newest unfinished rehearsal, line by line")
	flags.StringVar(&f.drop, "drop", "", "drop the newest unfinished rehearsal, with this reason")
	flags.StringVar(&f.set, "exam", "", "take a set exam from the teacher's file; it says the rest")
	flags.BoolVar(&f.setPattern, "exam-pattern", false, "print a file of a set exam, as a pattern for your own, and end")
	flags.StringVar(&f.wav, "wav", "", "write what is heard into this WAVE file, which must not exist yet, and end")
	flags.StringVar(&f.listen, "listen", "heart.rate", "with --wav: where, as STEP or STEP:SITE, such as gut.sounds:left upper")
	flags.IntVar(&f.seconds, "seconds", 60, "with --wav: how long")
	return c
}

func (e *env) rehearse(f rehearseFlags) error {
	if err := e.tables(); err != nil {
		return err
	}
	switch {
	case f.pattern:
		return e.printPattern(f.name)
	case f.setPattern:
		return e.printf("%s", rehearse.SetPattern)
	case f.set != "":
		return e.takeSet(f)
	case f.goOn || f.drop != "":
		return e.existing(func(r *storage.Record) error { return e.leftOpen(r, f) })
	}
	all, problems := e.cases()()
	if f.next {
		if err := e.nextDrill(&f); err != nil {
			return err
		}
	}
	if f.drill != "" {
		if err := e.setDrill(&f, &all); err != nil {
			return err
		}
	}
	if f.file != "" {
		own, err := e.readCase(f.file, all)
		if err != nil {
			return err
		}
		all = append(all, own)
		if f.name == "" {
			f.name = own.Name
		}
	}
	if f.list {
		return e.listCases(all, problems)
	}
	c, err := chosenCase(all, problems, &f, e.now())
	if err != nil {
		return err
	}
	if f.routine == "" {
		f.routine = c.Routine
	}
	if _, ok := rehearse.RoutineNamed(f.routine, e.steps, e.routines); !ok {
		return e.noRoutine(f.routine)
	}
	if f.wav != "" {
		return e.writeSound(c, f)
	}
	cases := func() ([]rehearse.Case, []string) { return all, problems }
	return e.record(func(r *storage.Record) error { return e.playRehearsal(r, cases, c, f) })
}

// chosenCase is the case that was named, or any by seed.
func chosenCase(all []rehearse.Case, problems []string, f *rehearseFlags, now time.Time) (rehearse.Case, error) {
	if f.seed == 0 {
		f.seed = screen.NewSeed(now)
	}
	if f.name == "" {
		if c, ok := rehearse.AnyCase(all, f.seed); ok {
			return c, nil
		}
		return rehearse.Case{}, fmt.Errorf("there is no case to rehearse: %s", strings.Join(problems, " "))
	}
	c, ok := rehearse.CaseNamed(all, f.name)
	if !ok {
		names := make([]string, len(all))
		for i, c := range all {
			names[i] = c.Name
		}
		return c, noCase("no case", f.name, names)
	}
	return c, nil
}

// noCase says that there is no case of a name, and which there are.
func noCase(none, name string, names []string) error {
	return exam.NoSuch("%s is called %q%s", none, notation.CleanLine(name, 40), thereAre(name, names))
}

// printPattern prints the file of a built-in case.
func (e *env) printPattern(name string) error {
	if name == "" {
		name = "clover"
	}
	if names := rehearse.CaseNames(); !slices.Contains(names, name) {
		return noCase("no built-in case", name, names)
	}
	text, err := rehearse.CaseFile(name)
	if err != nil {
		return err
	}
	return e.printf("%s", text)
}

func (e *env) listCases(all []rehearse.Case, problems []string) error {
	for _, p := range problems {
		e.say(p)
	}
	rows := make([][]string, len(all))
	for i, c := range all {
		rows[i] = []string{c.Name, c.Title, c.Routine, c.About}
	}
	return columns(e.out, rows)
}

// writeSound writes what is heard at a place from the opening on.
func (e *env) writeSound(c rehearse.Case, f rehearseFlags) error {
	if f.seconds < 1 || f.seconds > rehearse.MostSoundS {
		return usage("--seconds is 1 to %d", rehearse.MostSoundS)
	}
	h, err := rehearse.New(c, f.seed, e.now(), e.steps, e.ranges)
	if err != nil {
		return err
	}
	step, site, _ := strings.Cut(f.listen, ":")
	samples := h.Sound(exam.Key{Step: exam.StepID(step), Site: exam.Site(site)}, 0, float64(f.seconds))
	if samples == nil {
		return usage("nothing is to be heard at %q; there are heart.rate, heart.rhythm, heart.murmur:left, breath.rate, breath.effort, lung.sounds:SITE, gut.sounds:SITE", notation.CleanLine(f.listen, 60))
	}
	if err := e.toFile(f.wav, func() error { return rehearse.WriteWAV(e.out, samples) }); err != nil {
		return fmt.Errorf("the sound is not written: %w", err)
	}
	which := "" // a case that was drawn is not told: its sound may be for an exam
	if f.name != "" {
		which = fmt.Sprintf(", case %s", c.Name)
	}
	e.say(fmt.Sprintf("%d s of %s%s, seed %d, written to %s", f.seconds, f.listen, which, f.seed, f.wav))
	return nil
}
