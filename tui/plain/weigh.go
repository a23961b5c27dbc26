package plain

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/exam/weight"
)

// weighWords say how a weight is answered line by line.
const weighWords = "A number in kg or lb and how it was found: scale, tape or by eye. Or type measure: girth and length, one by one"

// weighedBy is a word behind a number and the way that it stands for.
type weighedBy struct {
	word   string
	method exam.WeighMethod
}

// foundBy are the words that are taken.
func foundBy() []weighedBy {
	return []weighedBy{
		{"by eye", exam.WeightEye},
		{"eye", exam.WeightEye},
		{"guess", exam.WeightEye},
		{"by scale", exam.WeightScale},
		{"scale", exam.WeightScale},
		{"weight tape", exam.WeightTape},
		{"by tape", exam.WeightTape},
		{"tape", exam.WeightTape},
	}
}

// weighed reads a weight with how it was found behind it. Where nothing is said
// the weight is taken and says so itself.
func (s *Session) weighed(step exam.Step, text string) (exam.Value, error) {
	lower, method := strings.ToLower(strings.TrimSpace(text)), exam.WeighMethod("")
	for _, by := range foundBy() {
		if rest, ok := strings.CutSuffix(lower, by.word); ok {
			lower, method = strings.TrimRight(rest, " ,"), by.method
			break
		}
	}
	step = weight.Asked(step, s.animal(), volume.Known(s.earlier, s.Deps.Now()).Kg)
	v, err := step.ReadAnswer(lower, s.prefer(step))
	if err != nil && !errors.Is(err, exam.ErrUnlikely) || method == "" {
		return v, err
	}
	kg, _ := v.In(notation.Kilograms)
	found := weight.Found(method, s.animal(), kg)
	v.Weight = &found
	return v, err
}

// animal is the horse as the equations see it.
func (s *Session) animal() weight.Animal {
	a := weight.AnimalOf(s.visit.Horse, s.Deps.Now())
	a.Class = s.visit.Class().Name
	return a
}

// byMeasures asks the tape measures that an equation for this animal can use, one
// by one, says what the equations make of them and stores the weight when told to.
func (s *Session) byMeasures(k exam.Key, step exam.Step) (command, int, error) {
	animal := s.animal()
	asks := weight.Asks(animal)
	if len(asks) == 0 {
		s.line("No equation is held that fits this animal (%s): use a scale.", animal.Words())
		return again, 0, nil
	}
	read := weight.Measured(s.visit)
	for at := range asks {
		if !weight.Wanted(asks, at, read) {
			continue
		}
		if more, err := s.measure(animal, asks, at, read); err != nil {
			return again, 0, err
		} else if !more {
			s.line("Nothing was saved.")
			return again, 0, nil
		}
	}
	taken := weight.Taken(asks, len(asks), read)
	m, err := weight.FromReadings(taken, weight.FromOf(asks))
	if err != nil {
		return s.noWeight(err.Error())
	}
	all, chosen, why, err := weight.Estimates(animal, m)
	switch {
	case err != nil:
		return s.noWeight(err.Error())
	case chosen < 0:
		return s.noWeight(why)
	}
	v := all[chosen].AnswerIn(s.prefer(step), taken)
	s.tellEstimates(all, chosen, why, v)
	return s.takeWeight(k, step, v, all, chosen)
}

func (s *Session) noWeight(why string) (command, int, error) {
	s.line("No weight from these measures: %s.", strings.TrimSuffix(why, "."))
	return again, 0, nil
}

// measure asks one measure until it is taken or passed over. more is false where
// the person stops.
func (s *Session) measure(animal weight.Animal, asks []weight.TapePlace, at int, read map[weight.Measure]notation.Quantity) (more bool, err error) {
	ask := asks[at]
	question := fmt.Sprintf("Measure %d of %d. %s? In cm or in, 193cm or 76in. %s", at+1, len(asks), ask.Name, strings.Join(ask.How, " "))
	before, held := read[ask.Measure]
	switch {
	case held:
		question += fmt.Sprintf(" An empty line takes %s, as measured in this exam.", before.Text(1))
	case ask.Optional:
		question += " An empty line skips it."
	}
	for s.failed == nil {
		s.line("%s", question)
		text, err := s.reply()
		if err != nil {
			return false, err
		}
		switch strings.ToLower(text) {
		case "stop", "back":
			return false, nil
		case "source":
			s.line("Source: %s.", ask.Source)
			continue
		case "":
			if held || ask.Optional {
				return true, nil
			}
		}
		if err := s.readMeasure(animal, asks, at, read, text); err != nil {
			s.line("Not saved: %s. Type stop to leave the measures.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		return true, nil
	}
	return false, s.failed
}

// readMeasure puts a reading beside those before it, where an animal can have it.
func (s *Session) readMeasure(animal weight.Animal, asks []weight.TapePlace, at int, read map[weight.Measure]notation.Quantity, text string) error {
	text, err := weight.HandsTyped(asks[at].Measure, text, s.Deps.Settings.Units)
	if err != nil {
		return err
	}
	q, err := notation.ParseQuantity(text)
	if err != nil {
		return err
	}
	if q.Unit == notation.NoUnit {
		n := notation.FormatNumber(q.Value, 1)
		return &notation.Refusal{Typed: text, Why: n + " has no unit", Meant: n + "cm or " + n + "in"}
	}
	of := asks[at].Measure
	before, held := read[of]
	read[of] = q
	m, err := weight.FromReadings(weight.Taken(asks, at, read), weight.FromOf(asks))
	if err == nil {
		err = weight.PlausibleFor(animal, m)
	}
	if err == nil {
		return nil
	}
	delete(read, of)
	if held {
		read[of] = before
	}
	return err
}

// tellEstimates says the weight that is chosen and why, and every other estimate
// that was made for this animal, each with its band.
func (s *Session) tellEstimates(all []weight.Estimate, chosen int, why string, v exam.Value) {
	to, own := notation.Pounds, v.Number.Unit
	if own == to {
		to = notation.Kilograms
	}
	other, _ := v.Number.In(to)
	est := all[chosen]
	s.line("%s = %s. %s", v.Number.Text(1), other.Text(0), bandSaid(est.LowKg, est.HighKg, est.Band.Percent, own))
	for i, est := range all {
		if i != chosen && est.Fits {
			s.line("Also %s: %s (%s).", est.Equation.ID, weight.Whole(est.Kg, own), weight.SpanWords(est.LowKg, est.HighKg, own))
		}
	}
	s.line("Chosen: %s.", strings.TrimSuffix(why, "."))
	if before := volume.Known(s.earlier, s.Deps.Now()); before.Kg > 0 {
		kg, _ := v.In(notation.Kilograms)
		for _, w := range (volume.Weight{Kg: kg, BeforeKg: before.Kg}).Warnings() {
			s.line("Look twice: %s.", strings.TrimSuffix(w.Text, "."))
		}
	}
}

func (s *Session) takeWeight(k exam.Key, step exam.Step, v exam.Value, all []weight.Estimate, chosen int) (command, int, error) {
	for s.failed == nil {
		s.line("Type take to save it, source for the equation, or stop.")
		text, err := s.reply()
		if err != nil {
			return again, 0, err
		}
		switch strings.ToLower(text) {
		case "take":
			return s.keep(k, step, v)
		case "source":
			for _, l := range all[chosen].Explain() {
				s.line("%s", notation.Capital(l))
			}
		case "stop", "back":
			s.line("Nothing was saved.")
			return again, 0, nil
		}
	}
	return quit, 0, s.failed
}

// bandSaid bounds a weight, with the share of animals that lay inside where a study says it.
func bandSaid(lowKg, highKg float64, percent int, unit notation.Unit) string {
	span := weight.SpanWords(lowKg, highKg, unit)
	if percent == 0 {
		return "Likely " + span + "."
	}
	return fmt.Sprintf("Of 100 animals %d lay between %s.", percent, strings.Replace(span, " to ", " and ", 1))
}
