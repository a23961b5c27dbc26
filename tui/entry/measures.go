package entry

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
	"loosebox/tui/keys"
)

// askMeasure makes the input of the measure that is asked now.
func (w *weigh) askMeasure() {
	w.stage = weighMeasure
	ask := w.asks[w.at]
	step := exam.Step{
		Name: ask.Name, Kind: exam.KindNumber, Unit: notation.Centimetre, Decimals: 1,
		Units: []notation.Unit{notation.Centimetre, notation.Inch}, Possible: exam.Span{Low: 0.01, High: 10000}, // the slip is named where the animal is known
	}
	o := w.o
	o.Before = nil
	w.number = newNumber(step, o)
	if q, ok := w.read[ask.Measure]; ok {
		w.number.line.text = typedText(q)
		w.number.line.fresh = true
	}
}

// pressMeasure takes a reading and asks the next; an optional measure is passed
// over with an empty line.
func (w *weigh) pressMeasure(p keys.Press) Result {
	ask := w.asks[w.at]
	w.said = nil
	if keys.Accept().Is(p) && w.number.line.text == "" && ask.Optional {
		delete(w.read, ask.Measure)
		w.next()
		return Taken
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
	w.next()
	return Taken
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

func (w *weigh) measured() (exam.Value, error) {
	if w.chosen < 0 || w.chosen >= len(w.all) {
		why := w.why
		if why == "" && w.said != nil {
			why = w.said.Error()
		}
		return exam.Value{}, &notation.Refusal{Why: "no weight from these measures: " + why}
	}
	return w.all[w.chosen].Answer(w.taken()), nil
}
