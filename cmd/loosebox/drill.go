package main

import (
	"cmp"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/storage"
	"loosebox/tui/screen/marks"
)

// setDrill sets the flags for a drill of one step; a rate makes a case of its own.
func (e *env) setDrill(f *rehearseFlags, all *[]rehearse.Case) error {
	name := rehearse.DrillName(exam.StepID(f.drill))
	if _, ok := rehearse.Drill(name, e.steps, e.routines); !ok {
		words := make([]string, len(rehearse.Drillable()))
		for i, id := range rehearse.Drillable() {
			words[i] = string(id)
		}
		return exam.NoSuch("no step %q can be drilled; there are order, %s, and every other step of the full exam", notation.CleanLine(f.drill, 40), strings.Join(words, ", "))
	}
	if name == rehearse.OrderDrill && e.lineByLine() {
		return usage("the drill of the order is chosen on the screens: run it in a terminal, without --plain")
	}
	f.routine = name
	if f.rate == 0 {
		return nil
	}
	c, err := rehearse.CountCase(exam.StepID(f.drill), f.rate, e.steps, func(text string) (rehearse.Case, error) {
		return rehearse.ReadCase(strings.NewReader(text), "the drill", e.steps, e.ranges)
	})
	if err != nil {
		return err
	}
	*all, f.name = append(*all, c), c.Name
	return nil
}

// nextDrill sets the drill of the step that is due first, of the person who rehearses.
func (e *env) nextDrill(f *rehearseFlags) error {
	return e.existing(func(r *storage.Record) error {
		d, err := e.deps(r)
		if err != nil {
			return err
		}
		by := cmp.Or(notation.CleanLine(f.by, 0), d.Settings.Person)
		points, _, err := marks.Reader(d).Read(r.Rehearsals())
		if err != nil {
			return err
		}
		for _, p := range progress.People(points) {
			if due := p.Due(); p.Is(by) && len(due) > 0 {
				f.drill = string(due[0].Step)
				e.say(fmt.Sprintf("Next: %s, wrong in %d of %d rehearsals.", f.drill, due[0].Wrong, due[0].Of))
				return nil
			}
		}
		return exam.NoSuch("nothing is due for %q: no step went wrong, or all came right since", by)
	})
}
