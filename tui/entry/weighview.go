package entry

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/exam/weight"
	"loosebox/tui/layout"
)

func (w *weigh) viewMethods(size layout.Size) []string {
	t := w.o.Theme
	under := stands(w.o, w.step, size.W)
	if last := w.o.LastWeight; last != nil {
		text := "last: " + notation.CleanLine(last.Value.As(w.o.Settings.Units, w.step).Show(w.step), 40)
		if last.Value.Weight != nil {
			text += ", " + notation.CleanLine(last.Value.Weight.Method.String(), 40)
		}
		under = append(under, words(t, text+", "+notation.NewDates(w.o.Now(), last.At).Show(last.At), size.W)...)
	}
	lines := w.list.view(t, layout.Size{W: size.W, H: size.H - len(under)})
	return append(lines, under...)
}

// viewNumber draws the input of one number, and how far the method is off.
func (w *weigh) viewNumber(size layout.Size) []string {
	lines := []string{layout.Cut(w.method.String()+":", size.W)}
	lines = append(lines, w.number.View(layout.Size{W: size.W, H: size.H - 1})...)
	m, ok := weight.MethodOf(w.method, w.animal, 0)
	if !ok {
		return lines
	}
	// A weight that is called unlikely has no likely band under it.
	if v, err := w.Value(); err == nil && !errors.Is(w.number.said, exam.ErrUnlikely) {
		lines = append(lines, layout.Cut("  "+w.band(*v.Weight, size.W-2)+"; s: source", size.W))
	}
	lines = append(lines, w.moved(size.W)...)
	lines = append(lines, words(w.o.Theme, m.Words, size.W)...)
	if len(m.Published) > 0 {
		p := m.Published[0]
		text := fmt.Sprintf("%s: mean %.0f %% of the scale, SD %.0f (%s)", p.Whom, p.MeanPercent, p.SDPercent, p.Source)
		lines = append(lines, words(w.o.Theme, text, size.W)...)
	}
	return lines
}

func (w *weigh) viewMeasure(size layout.Size) []string {
	ask := w.asks[w.at]
	head := fmt.Sprintf("%d of %d: %s", w.at+1, len(w.asks), ask.Name)
	lines := []string{w.o.Theme.Strong.Render(layout.Cut(head, size.W))}
	lines = append(lines, w.number.View(layout.Size{W: size.W, H: size.H - 1})...)
	switch q, ok := w.o.Measured[ask.Measure]; {
	case ok && w.number.line.text == typedText(q):
		lines = append(lines, words(w.o.Theme, "as measured in this exam; enter uses it", size.W)...)
	case ask.Optional && w.number.line.text == "":
		lines = append(lines, words(w.o.Theme, "enter alone skips it", size.W)...)
	}
	lines = append(lines, w.would(size.W)...)
	return append(lines, words(w.o.Theme, strings.Join(ask.How, " "), size.W)...)
}

// viewResult draws the chosen weight and its band, and the other equations that
// were made for this animal.
func (w *weigh) viewResult(size layout.Size) []string {
	t := w.o.Theme
	v, err := w.measured()
	if err != nil {
		if w.said != nil {
			return []string{"no weight from these measurements"}
		}
		return append(layout.Wrap(err.Error(), size.W), words(t, "backspace goes back to the measurements", size.W)...)
	}
	lines := []string{
		t.Strong.Render(v.Number.Text(1)) + w.other(v),
		layout.Cut(w.band(*v.Weight, size.W)+"; s: source", size.W),
	}
	lines = append(lines, w.moved(size.W)...)
	for i, est := range w.all {
		if i != w.chosen && est.Fits {
			lines = append(lines, layout.Wrap(fmt.Sprintf("also %s: %s (%s)", est.Equation.ID, weight.Whole(est.Kg, w.unit()), w.span(est.LowKg, est.HighKg)), size.W)...)
		}
	}
	lines = append(lines, words(t, "chosen: "+w.why, size.W)...)
	if size.H > 2 && len(lines) > size.H { // nothing breaks off in the middle of a sentence unsaid
		lines = append(lines[:size.H-1], words(t, ".. s shows all", size.W)...)
	}
	return lines
}

// moved warns where a weight is far from the last one: kg and lb may be mixed up, or it should be weighed again.
func (w *weigh) moved(width int) []string {
	before := w.o.lastKg()
	v, err := w.Value()
	if w.stage == weighNumber {
		v, err = w.number.asTyped()
	}
	if before == 0 || err != nil {
		return nil
	}
	kg, _ := v.In(notation.Kilograms)
	var lines []string
	for _, warning := range (volume.Weight{Kg: kg, BeforeKg: before}).Warnings() {
		lines = append(lines, layout.Wrap("Check: "+warning.Text, width)...)
	}
	return lines
}

// wideBand is the width from which the band says in words what its share is of.
const wideBand = 52

// band bounds the true weight, with the share of animals that lay inside where a study says it.
func (w *weigh) band(v exam.Weight, width int) string {
	span := w.span(v.LowKg, v.HighKg)
	switch {
	case v.BandPercent == 0:
		return "likely " + span
	case width < wideBand:
		return fmt.Sprintf("%d %%: %s", v.BandPercent, span)
	}
	return fmt.Sprintf("%d of 100 animals: %s", v.BandPercent, span)
}

func (w *weigh) span(low, high float64) string {
	return weight.SpanWords(low, high, w.unit())
}
