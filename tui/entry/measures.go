package entry

import (
	"maps"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// askMeasure makes the input of the measure that is asked now.
func (w *weigh) askMeasure() {
	w.stage = weighMeasure
	ask := w.asks[w.at]
	step := exam.Step{
		Name: ask.Name, Kind: exam.KindNumber, Unit: notation.Centimetre, Decimals: 1,
		Units: []notation.Unit{notation.Centimetre, notation.Inch}, Possible: exam.Span{Low: 0.01, High: 10000}, // plausible refuses what is impossible for the animal
	}
	o := w.remembered(notation.Centimetre)
	o.Before = nil
	w.number = newNumber(step, o)
	if q, ok := w.read[ask.Measure]; ok {
		w.number.line.text = typedText(q)
		w.number.line.fresh = true
	}
}

// pressMeasure takes a reading and asks the next; an optional measure is passed
// over with an empty line.
func (w *weigh) pressMeasure(p keys.Press) KeyResult {
	ask := w.asks[w.at]
	w.said = nil
	if keys.Accept().Is(p) && w.number.line.text == "" && ask.Optional {
		delete(w.read, ask.Measure)
		w.next()
		return Taken
	}
	w.number.line.allowed = numberSigns + unitSigns
	if ask.Measure == weight.Height && w.number.line.text != "" { // on an empty line h shows how
		w.number.line.allowed += heightSigns
	}
	if keys.Accept().Is(p) {
		text, err := weight.HandsTyped(ask.Measure, w.number.line.text, w.o.Settings.Units)
		if w.said = err; err != nil {
			return Taken
		}
		w.number.line.text = text
	}
	result, _ := w.number.Press(p)
	if result != Accepted {
		return result
	}
	v, err := w.number.Value()
	if err == nil {
		w.read[ask.Measure] = *v.Number
		err = w.plausible()
	}
	if err != nil {
		delete(w.read, ask.Measure)
		w.said = err
		return Taken
	}
	_, last := w.tried() // the weight stood under the measure
	w.next()
	if last {
		return Accepted
	}
	return Taken
}

// tried is the weighing after enter, where the typed measure is the last one needed; false where it gives no weight, or
// another question comes first.
func (w *weigh) tried() (*weigh, bool) {
	v, err := w.number.Value()
	if err != nil || v.Number == nil {
		return nil, false
	}
	try := *w
	try.read = maps.Clone(w.read)
	try.read[w.asks[w.at].Measure] = *v.Number
	if try.plausible() != nil {
		return nil, false
	}
	for to := w.at + 1; to < len(w.asks); to++ {
		if weight.Wanted(w.asks, to, try.read) {
			return nil, false
		}
	}
	try.next()
	_, err = try.measured()
	return &try, try.stage == weighResult && err == nil && len(try.moved(wideBand)) == 0
}

// would shows the weight that enter would save, and its band; empty where more is to be measured or asked.
func (w *weigh) would(width int) []string {
	try, ok := w.tried()
	if !ok {
		return nil
	}
	v, _ := try.measured()
	return []string{
		w.o.Theme.Strong.Render(layout.Cut("enter saves "+v.Number.Text(1)+w.other(v), width)),
		layout.Cut(try.band(*v.Weight, width)+"; s: source", width),
	}
}

// remembered are the options with the unit in which this was typed last: at another measure of this weighing, or at the
// weighing before.
func (w *weigh) remembered(base notation.Unit) Options {
	o := w.o
	unit, ok := notation.NoUnit, false
	if last := o.LastWeight; last != nil {
		if q := last.Value.Number; base == notation.Kilograms && q != nil && last.Value.Typed != "" {
			unit, ok = q.Unit, true
		}
		if base == notation.Centimetre && last.Value.Weight != nil {
			for _, of := range weight.AllMeasures() {
				if q, had := last.Value.Weight.Measures[string(of)]; had {
					unit, ok = q.Unit, true
				}
			}
		}
	}
	if base == notation.Centimetre {
		for at := range w.at {
			if q, read := w.read[w.asks[at].Measure]; read {
				unit, ok = q.Unit, true
			}
		}
	}
	if ok {
		o.Settings.Units = maps.Clone(o.Settings.Units)
		if o.Settings.Units == nil {
			o.Settings.Units = map[notation.Unit]notation.Unit{}
		}
		o.Settings.Units[base] = unit
	}
	return o
}

// plausible looks at the readings up to the one asked now.
func (w *weigh) plausible() error {
	m, err := weight.FromReadings(weight.Taken(w.asks, w.at, w.read), weight.FromOf(w.asks))
	if err != nil {
		return err
	}
	return weight.PlausibleFor(w.animal, m)
}

func typedText(q notation.Quantity) string { return notation.FormatNumber(q.Value, 2) + string(q.Unit) }

// next asks the next measure that an equation can still use.
func (w *weigh) next() {
	for to := w.at + 1; to < len(w.asks); to++ {
		if weight.Wanted(w.asks, to, w.read) {
			w.at = to
			w.askMeasure()
			return
		}
	}
	w.stage, w.all, w.chosen, w.why = weighResult, nil, -1, ""
	m, err := weight.FromReadings(w.taken(), weight.FromOf(w.asks))
	if err == nil {
		w.all, w.chosen, w.why, err = weight.Estimates(w.animal, m)
	}
	w.said = err
}

// taken are the readings of the measures asked of this animal.
func (w *weigh) taken() map[weight.Measure]notation.Quantity {
	return weight.Taken(w.asks, len(w.asks), w.read)
}

// unit is the unit in which the person works.
func (w *weigh) unit() notation.Unit { return w.o.Settings.Units[notation.Kilograms] }

// other is the weight in the unit that the person does not use, to show after the one in their unit.
func (w *weigh) other(v exam.Value) string {
	to := notation.Pounds
	if v.Number.Unit == to {
		to = notation.Kilograms
	}
	q, _ := v.Number.In(to)
	return " = " + q.Text(0)
}

func (w *weigh) measured() (exam.Value, error) {
	if w.chosen < 0 || w.chosen >= len(w.all) {
		why := w.why
		if why == "" && w.said != nil {
			why = w.said.Error()
		}
		return exam.Value{}, &notation.Refusal{Why: "no weight from these measurements: " + why}
	}
	return w.all[w.chosen].AnswerIn(w.unit(), w.taken()), nil
}
