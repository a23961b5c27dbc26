package entry

import (
	"errors"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/weight"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// weighStage is how far a weighing is.
type weighStage int

const (
	weighMethod  weighStage = iota // which way
	weighNumber                    // one number: scale, tape or eye
	weighMeasure                   // tape measures, one after the other
	weighResult                    // what the equations make of them
)

// weigh is the field of a body weight by scale, weight tape, tape measures or eye.
type weigh struct {
	step   exam.Step
	o      Options
	animal weight.Animal
	stage  weighStage
	list   list
	method string
	number *number
	asks   []weight.Ask
	at     int // the measure asked now
	read   map[weight.Measure]exam.Quantity
	all    []weight.Estimate
	chosen int
	why    string
	said   error
}

func newWeigh(step exam.Step, o Options) *weigh {
	w := &weigh{step: step, o: o, animal: weight.AnimalOf(o.Horse, o.Now()), list: list{cursor: -1}, chosen: -1}
	if o.Class.Name != "" {
		w.animal.Class = o.Class.Name
	}
	w.asks = weight.Asks(w.animal)
	w.read = map[weight.Measure]exam.Quantity{}
	for _, m := range []struct{ name, words string }{
		{exam.WeightScale, "scale"},
		{exam.WeightTape, "weight tape"},
		{exam.WeightMeasured, "girth, length and an equation"},
		{exam.WeightEye, "by eye, a guess"},
	} {
		w.list.choices = append(w.list.choices, exam.Choice{Key: m.name, Words: m.words})
	}
	if b := o.Before; b != nil && b.Weight != nil {
		w.list.put(b.Weight.Method)
		for name, q := range b.Weight.Measures {
			w.read[weight.Measure(name)] = q
		}
	}
	return w
}

func (w *weigh) Init() tea.Cmd          { return nil }
func (w *weigh) Update(tea.Msg) tea.Cmd { return nil }
func (w *weigh) Typing() bool           { return false }
func (w *weigh) Busy() bool             { return false }

func (w *weigh) Keys() []keys.Binding {
	back := keys.TakeBack().With("back", "take the last character back, or go back to what was before")
	switch w.stage {
	case weighMeasure:
		return []keys.Binding{keys.Accept().With("next", "take this measure and ask the next"), back}
	case weighNumber, weighResult:
		return []keys.Binding{keys.Accept(), back}
	case weighMethod:
	}
	return []keys.Binding{keys.Digit(), keys.Up(), keys.Down(), keys.Accept().With("go on", "")}
}

func (w *weigh) Press(p keys.Press) (Result, tea.Cmd) {
	if keys.TakeBack().Is(p) && w.stage != weighMethod && (w.stage == weighResult || w.number.line.text == "") {
		w.back()
		return Taken, nil
	}
	switch w.stage {
	case weighNumber:
		return w.number.Press(p)
	case weighMeasure:
		return w.pressMeasure(p), nil
	case weighResult:
		if !keys.Accept().Is(p) {
			return Ignored, nil
		}
		if _, w.said = w.Value(); w.said != nil {
			return Taken, nil
		}
		return Accepted, nil
	case weighMethod:
	}
	switch {
	case keys.Accept().Is(p):
		w.begin()
	case w.list.press(p):
		w.said = nil
	default:
		return Ignored, nil
	}
	return Taken, nil
}

// begin goes on from the chosen method.
func (w *weigh) begin() {
	c, ok := w.list.chosen()
	switch {
	case !ok:
		w.said = errors.New("choose by the number of the line, then enter")
		return
	case c.Key != exam.WeightMeasured:
		w.stage = weighNumber
		o := w.o
		if b := o.Before; b != nil && (b.Weight == nil || b.Weight.Method != c.Key) {
			o.Before = nil // another method's number is no start for this one
		}
		w.number = newNumber(w.step, o)
	case len(w.asks) == 0:
		w.said = errors.New("no equation is held that was made for this animal (" + w.animal.Words() + "): use a scale")
		return
	default:
		w.at = 0
		w.askMeasure()
	}
	w.method, w.said = c.Key, nil
}

func (w *weigh) back() {
	w.said = nil
	switch {
	case w.stage == weighResult:
		w.askMeasure()
	case w.stage == weighMeasure && w.at > 0:
		w.at--
		w.askMeasure()
	default:
		w.stage = weighMethod
	}
}

// askMeasure makes the input of the measure that is asked now.
func (w *weigh) askMeasure() {
	w.stage = weighMeasure
	ask := w.asks[w.at]
	step := exam.Step{
		Name: ask.Name, Kind: exam.KindNumber, Unit: exam.Centimetre, Decimals: 1,
		Units: []exam.Unit{exam.Centimetre, exam.Inch}, Possible: exam.Span{Low: 5, High: 350},
	}
	o := w.o
	o.Before = nil
	w.number = newNumber(step, o)
	if q, ok := w.read[ask.Measure]; ok {
		w.number.line.text = exam.FormatNumber(q.Value, 2) + string(q.Unit)
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
	soFar := map[weight.Measure]exam.Quantity{}
	for _, ask := range w.asks[:w.at+1] {
		if q, ok := w.read[ask.Measure]; ok {
			soFar[ask.Measure] = q
		}
	}
	m, err := weight.FromReadings(soFar, w.lengthFrom())
	if err != nil {
		return err
	}
	return weight.Plausible(m)
}

func (w *weigh) next() {
	if w.at+1 < len(w.asks) {
		w.at++
		w.askMeasure()
		return
	}
	w.stage, w.all, w.chosen, w.why = weighResult, nil, -1, ""
	m, err := weight.FromReadings(w.taken(), w.lengthFrom())
	if err == nil {
		w.all, w.chosen, w.why, err = weight.Estimates(w.animal, m)
	}
	w.said = err
}

// taken are the readings of the measures asked of this animal.
func (w *weigh) taken() map[weight.Measure]exam.Quantity {
	out := map[weight.Measure]exam.Quantity{}
	for _, ask := range w.asks {
		if q, ok := w.read[ask.Measure]; ok {
			out[ask.Measure] = q
		}
	}
	return out
}

func (w *weigh) lengthFrom() weight.LengthFrom {
	for _, ask := range w.asks {
		if ask.Measure == weight.Length {
			return ask.LengthFrom
		}
	}
	return weight.FromUnsaid
}

// Value is the weight with its method and the band in which the true one lies.
// A weight from measures is rounded to a kilogram, below 50 kg to a tenth; the
// measures are kept as typed.
func (w *weigh) Value() (exam.Value, error) {
	switch w.stage {
	case weighNumber:
		v, err := w.number.Value()
		if err != nil {
			return exam.Value{}, err
		}
		v.Weight = &exam.Weight{Method: w.method}
		kg, _ := v.In(exam.Kilograms)
		if m, ok := weight.MethodOf(w.method, w.animal, 0); ok {
			v.Weight.LowKg, v.Weight.HighKg = m.Band(kg)
		}
		return v, nil
	case weighResult:
		return w.measured()
	case weighMethod, weighMeasure:
	}
	return exam.Value{}, &exam.Refusal{Why: "no weight was taken yet"}
}

func (w *weigh) measured() (exam.Value, error) {
	if w.chosen < 0 || w.chosen >= len(w.all) {
		why := w.why
		if why == "" && w.said != nil {
			why = w.said.Error()
		}
		return exam.Value{}, &exam.Refusal{Why: "no weight from these measures: " + why}
	}
	est := w.all[w.chosen]
	kg := math.Round(est.Kg)
	if est.Kg < 50 {
		kg = math.Round(est.Kg*10) / 10
	}
	readings := map[string]exam.Quantity{}
	for of, q := range w.taken() {
		readings[string(of)] = q
	}
	return exam.Value{
		Kind: w.step.Kind, Number: &exam.Quantity{Value: kg, Unit: exam.Kilograms},
		Weight: &exam.Weight{
			Method: exam.WeightMeasured, Measures: readings, Equation: est.Equation.ID, LowKg: est.LowKg, HighKg: est.HighKg,
		},
	}, nil
}

// View draws the stage.
func (w *weigh) View(size layout.Size) []string {
	t := w.o.Theme
	said := sentence(t, w.said, size.W)
	room := layout.Size{W: size.W, H: max(size.H-len(said), 0)}
	var lines []string
	switch w.stage {
	case weighMethod:
		lines = w.viewMethods(room)
	case weighNumber:
		lines = w.viewNumber(room)
	case weighMeasure:
		lines = w.viewMeasure(room)
	case weighResult:
		lines = w.viewResult(room)
	}
	return fit(append(fit(lines, room), said...), size)
}
