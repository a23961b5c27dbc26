package main

import (
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// bleeding is what the command line of blood says.
type bleeding struct {
	animal              animalFlags
	weight, draw, drawn string
	horse               string
	tubes               []string
	asJSON              bool
}

func (e *env) bloodCommand() *cobra.Command {
	var b bleeding
	c := &cobra.Command{
		Use: "blood", Short: "how much blood a horse has, and how much may be drawn", Args: cobra.NoArgs,
		Long: `blood estimates how much blood an animal has, says what a draw takes of it, and
sets it beside the limits of several sources. Most limits were made for animals
of laboratories; they bite in small foals and miniatures. --drawn-14d is what was
drawn in the last 14 days before this draw; it counts whole in shorter limits too.
left_ml is what a limit leaves before the draw in hand. --horse takes the kind, the
weight and what was drawn before from the record. --tubes puts tubes in the
order of draw and says how each is filled and mixed.`,
		Example: "  loosebox blood --kind horse --weight 500kg --draw 30mL --drawn-14d 60mL",
		RunE:    func(*cobra.Command, []string) error { return e.blood(b) },
	}
	f := c.Flags()
	f.StringVar(&b.animal.kind, "kind", "horse", "horse, pony, miniature, draft, donkey or mule")
	f.StringVar(&b.animal.age, "age", "", "9y, 8mo, 5d, or adult or foal")
	f.StringVar(&b.animal.breed, "breed", "", "breed; hot- and cold-blooded horses differ")
	f.StringVar(&b.weight, "weight", "", "body weight, 500kg or 1100lb")
	f.StringVar(&b.horse, "horse", "", "a horse of the record: its kind, weight and earlier draws")
	f.StringVar(&b.draw, "draw", "", "the draw in hand, 30mL")
	f.StringVar(&b.drawn, "drawn-14d", "", "drawn in the last 14 days before it, 60mL")
	f.StringSliceVar(&b.tubes, "tubes", nil, "blood culture, citrate, serum, heparin, EDTA, fluoride; separated by commas")
	f.BoolVar(&b.asJSON, "json", false, "one JSON object")
	return c
}

func (e *env) blood(b bleeding) error {
	now := e.now()
	h, w, past, err := b.of(e, now)
	if err != nil {
		return err
	}
	draw, err := b.volumes(now, &past)
	if err != nil {
		return err
	}
	animal := volume.Animal{Kind: h.Kind, Young: exam.ClassOf(h, now).Young, Breed: h.Breed}
	result, err := volume.BloodOf(animal, w.Kg, draw, past, now)
	if err != nil {
		return wrongUse("", err)
	}
	for _, warning := range w.Warnings() {
		result.Warnings = append(result.Warnings, warning.Text)
	}
	kinds := make([]volume.TubeKind, len(b.tubes))
	for i, t := range b.tubes {
		kinds[i] = volume.TubeKind(t)
	}
	tubes, err := volume.InOrder(kinds)
	if err != nil {
		return wrongUse("tubes", err)
	}
	if b.asJSON {
		return e.printJSON(bloodOf(result, w, tubes))
	}
	return e.printBlood(result, w, tubes)
}

// of is which animal it is, what it weighs and what was drawn from it before: of the record, or as the flags have it.
func (b bleeding) of(e *env, now time.Time) (h exam.Horse, w volume.Weight, past volume.Past, err error) {
	if b.horse != "" {
		in, err := e.sumsIn(b.horse)
		if err != nil {
			return h, w, past, err
		}
		h, w = in.Horse, volume.Known(in.Visits, in.Now)
		past, _ = procedure.PastDraws(in.Visits, in.Now)
		if b.weight == "" && w.Kg == 0 {
			return h, w, past, needsWeight(h)
		}
	} else if h, err = b.animal.horse(now); err != nil {
		return h, w, past, err
	}
	switch {
	case b.weight != "":
		w = volume.Weight{BeforeKg: w.Kg}
		w.AsTyped, w.Kg, err = readWeight("weight", b.weight)
	case w.Kg == 0:
		err = usage("blood needs --weight 500kg, or --horse NAME")
	}
	return h, w, past, err
}

// volumes reads the draw in hand, and what the flags say was drawn before it.
func (b bleeding) volumes(now time.Time, past *volume.Past) (draw float64, err error) {
	if b.draw != "" {
		if draw, err = volume.ParseML(b.draw); err != nil {
			return 0, wrongUse("draw", err)
		}
	}
	if b.drawn != "" {
		before, err := volume.ParseML(b.drawn)
		if err != nil {
			return 0, wrongUse("drawn-14d", err)
		}
		*past = volume.Past{KnownDays: 14, Draws: []volume.Draw{{At: now, ML: before}}}
	}
	return draw, nil
}
