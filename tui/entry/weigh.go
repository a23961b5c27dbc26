package entry

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
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

// weigh is the widget of a body weight by scale, weight tape, tape measures or eye.
type weigh struct {
	still
	step   exam.Step
	o      Options
	animal weight.Animal
	stage  weighStage
	list   list
	method exam.WeighMethod
	number *number
	erase  erase
	asks   []weight.TapePlace
	at     int // the measure asked now
	read   map[weight.Measure]notation.Quantity
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
	w.step = weight.Asked(step, w.animal, o.lastKg())
	w.asks = weight.Asks(w.animal)
	w.read = map[weight.Measure]notation.Quantity{}
	for of, q := range o.Measured {
		w.read[of] = q
	}
	for _, m := range []struct {
		name  exam.WeighMethod
		words string
	}{
		{exam.WeightScale, exam.WeightScale.String()},
		{exam.WeightTape, exam.WeightTape.String()},
		{exam.WeightMeasured, w.byTape()},
		{exam.WeightEye, exam.WeightEye.String() + ", a guess"},
	} {
		w.list.choices = append(w.list.choices, exam.Choice{Key: string(m.name), Words: m.words})
	}
	if b := o.Before; b != nil && b.Weight != nil {
		w.list.put(string(b.Weight.Method))
		for name, q := range b.Weight.Measures {
			w.read[weight.Measure(name)] = q
		}
	}
	return w
}

// byTape names the way by tape measures, or says that it leads nowhere for this animal.
func (w *weigh) byTape() string {
	if len(w.asks) == 0 {
		return "girth and length: no equation for this animal"
	}
	return "girth, length and an equation"
}

func (w *weigh) Keys() []keys.Binding {
	back := keys.TakeBack().With("undo", "remove the last character, or go one question back")
	switch w.stage {
	case weighMeasure:
		return []keys.Binding{keys.Accept().With("next", "take this measure and ask the next"), back}
	case weighNumber, weighResult:
		return []keys.Binding{keys.Accept(), back}
	case weighMethod:
	}
	return []keys.Binding{keys.Digit(), keys.Up(), keys.Down(), keys.Accept().With("next", "")}
}

func (w *weigh) Press(p keys.Press) (KeyResult, tea.Cmd) {
	if w.erase.blocks(p, w.stage != weighMethod && (w.stage == weighResult || w.number.line.text == "")) {
		return Taken, nil
	}
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
		if i, ok := digit(p); ok && i < len(w.list.choices) {
			w.begin() // a way of weighing is no answer yet
		}
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
	case c.Key != string(exam.WeightMeasured):
		w.stage = weighNumber
		o := w.remembered(notation.Kilograms)
		if b := o.Before; b != nil && (b.Weight == nil || b.Weight.Method != exam.WeighMethod(c.Key)) {
			o.Before = nil // the earlier answer is by another method
		}
		w.number = newNumber(w.step, o)
	case len(w.asks) == 0:
		w.said = errors.New("no equation fits this animal (" + w.animal.Words() + "): use a scale")
		return
	default:
		w.at = 0
		w.askMeasure()
	}
	w.method, w.said = exam.WeighMethod(c.Key), nil
}

func (w *weigh) back() {
	w.said = nil
	switch {
	case w.stage == weighResult:
		w.askMeasure()
	case w.stage == weighMeasure && w.at > 0:
		for w.at--; w.at > 0 && !weight.Wanted(w.asks, w.at, w.read); {
			w.at--
		}
		w.askMeasure()
	default:
		w.stage = weighMethod
	}
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
		kg, _ := v.In(notation.Kilograms)
		found := weight.Found(w.method, w.animal, kg)
		v.Weight = &found
		return v, nil
	case weighResult:
		return w.measured()
	case weighMethod, weighMeasure:
	}
	return exam.Value{}, &notation.Refusal{Why: "no weight was taken yet"}
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
