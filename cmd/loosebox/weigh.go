package main

import (
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/exam/weight"
)

// weighing is what the command line of weigh says.
type weighing struct {
	animal     animalFlags
	pregnant   string
	lengthFrom string
	cannon     string
	horse      string
	readings   map[weight.Measure]*string
	asJSON     bool
	all        bool
}

func (e *env) weighCommand() *cobra.Command {
	w := weighing{readings: map[weight.Measure]*string{}}
	c := &cobra.Command{
		Use: "weigh", Short: "body weight from girth and length", Args: cobra.NoArgs,
		Long: `weigh works out a body weight from girth, length and other measurements. It uses
every published equation that fits, and names the best one for this animal. It uses
no equation that was made for another kind. Without measurements it says which to
take, and where the tape goes.

Every measurement needs its unit: --girth 76in or --girth 193cm. The length ends at
the point of the buttock. --length-from says where it begins: shoulder,
shoulder-wrap (the tape follows the curve), shoulder-straight or elbow. An estimate
is not a weighing.`,
		Example: "  loosebox weigh --kind horse --age 9y --girth 76in --length 67in --length-from shoulder",
		RunE:    func(*cobra.Command, []string) error { return e.weigh(w) },
	}
	f := c.Flags()
	f.StringVar(&w.animal.kind, "kind", "horse", "horse, pony, miniature, draft, donkey or mule")
	f.StringVar(&w.animal.age, "age", "", "9y, 8mo, 3w, 5d, or adult or foal")
	f.StringVar(&w.animal.sex, "sex", "", "mare, gelding or stallion")
	f.StringVar(&w.animal.breed, "breed", "", "breed; some equations were made for one")
	f.StringVar(&w.horse, "horse", "", "a horse from the record: its kind, age, sex and breed")
	f.StringVar(&w.pregnant, "pregnant", "", "how long the mare is in foal, 8mo")
	f.StringVar(&w.lengthFrom, "length-from", "", "shoulder, shoulder-wrap, shoulder-straight or elbow")
	f.StringVar(&w.cannon, "cannon", "", "not used by any equation; see --carpus")
	for _, m := range weighFlags() {
		w.readings[m.of] = f.String(m.flag, "", m.help)
	}
	f.BoolVar(&w.all, "all", false, "name every equation that does not fit, with the reason")
	f.BoolVar(&w.asJSON, "json", false, "one JSON object")
	return c
}

type weighFlag struct {
	of         weight.Measure
	flag, help string
}

func weighFlags() []weighFlag {
	return []weighFlag{
		{weight.Girth, "girth", "heart girth, 76in or 193cm"},
		{weight.GirthAgain, "girth-again", "heart girth, second reading; the mean counts"},
		{weight.Girth12, "girth-12th", "girth at the 12th rib space, of a mare in foal"},
		{weight.Girth18, "girth-18th", "girth at the 18th rib, of a mare in foal"},
		{weight.NavelGirth, "girth-navel", "girth at the navel, of a young donkey"},
		{weight.Length, "length", "body length, see --length-from"},
		{weight.Height, "height", "height at the withers"},
		{weight.Neck, "neck", "girth of the neck, half-way between poll and withers"},
		{weight.Carpus, "carpus", "around the knee of the foreleg, of a foal"},
		{weight.Foreleg, "foreleg", "length of the foreleg from the elbow, of a foal"},
	}
}

func (e *env) weigh(w weighing) error {
	now := e.now()
	animal, err := w.of(e, now)
	if err != nil {
		return err
	}
	if w.cannon != "" {
		return usage("--cannon: no equation uses the cannon bone. The one for foals needs the knee (carpus) above it: --carpus 25cm")
	}
	readings, err := w.measures()
	if err != nil {
		return err
	}
	if len(readings) == 0 {
		return e.printAsks(animal, w.asJSON)
	}
	m, err := weight.FromReadings(readings, weight.LengthFrom(w.lengthFrom))
	if err != nil {
		return wrongUse("", err)
	}
	all, chosen, why, err := weight.Estimates(animal, m)
	if neck := neckOf(animal, m); err != nil && neck != nil && m.GirthCm == 0 { // neck and height alone were asked for
		if w.asJSON {
			return e.printJSON(weighOf(animal, m, nil, -1))
		}
		return e.printNeck(animal, m)
	}
	if err != nil {
		return wrongUse("", err)
	}
	if w.asJSON {
		return e.printJSON(weighOf(animal, m, all, chosen))
	}
	return e.printWeigh(w, animal, m, all, chosen, why)
}

// of is the animal that the flags describe.
func (w weighing) of(e *env, now time.Time) (weight.Animal, error) {
	h, err := w.animal.horse(now)
	if w.horse != "" {
		var in sums.In
		in, err = e.sumsIn(w.horse)
		h = in.Horse
	}
	if err != nil {
		return weight.Animal{}, err
	}
	h.InFoal = h.InFoal || w.pregnant != ""
	a := weight.AnimalOf(h, now)
	if w.pregnant == "" {
		return a, nil
	}
	if err := exam.CheckSex(h, now); err != nil {
		return a, wrongUse("pregnant", err)
	}
	if h.Sex != "" && !h.Sex.Female() {
		return a, usage("--pregnant: the sex here is %s", h.Sex)
	}
	in, err := spanOf("pregnant", w.pregnant, now)
	if err != nil {
		return a, err
	}
	const hoursPerMonth = 365.2425 / 12 * 24
	a.Sex, a.PregnantMonths = exam.Mare, in.Hours()/hoursPerMonth
	if a.PregnantMonths > 14 {
		return a, usage("--pregnant: no mare is in foal for %s", notation.CleanLine(w.pregnant, 20))
	}
	return a, nil
}

// measures reads the measure flags; each carries its unit.
func (w weighing) measures() (map[weight.Measure]notation.Quantity, error) {
	out := map[weight.Measure]notation.Quantity{}
	for _, m := range weighFlags() {
		text := *w.readings[m.of]
		if text == "" {
			continue
		}
		q, err := notation.ParseQuantity(text)
		if err != nil {
			return nil, wrongUse(m.flag, err)
		}
		number := notation.FormatNumber(q.Value, 2)
		switch {
		case q.Unit == notation.NoUnit:
			return nil, usage("--%s: %s has no unit; did you mean %sin or %scm?", m.flag, number, number, number)
		case q.Unit != notation.Inch && q.Unit != notation.Centimetre:
			return nil, usage("--%s: a measure of the tape is in in or cm, not in %s", m.flag, q.Unit)
		case q.Value <= 0:
			return nil, usage("--%s: a measure is above zero", m.flag)
		}
		out[m.of] = q
	}
	if w.lengthFrom != "" && *w.readings[weight.Length] == "" {
		return nil, usage("--length-from needs --length")
	}
	return out, nil
}
