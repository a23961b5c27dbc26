package entry

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/weight"
)

// sourced is a field that knows where the numbers in it come from before they are stored.
type sourced interface{ source() []explain.Section }

// SourceOf says where the numbers of a widget come from; nil where it has none to explain.
func SourceOf(f Widget) []explain.Section {
	if s, ok := f.(sourced); ok {
		return s.source()
	}
	return nil
}

// Source is SourceOf the widget at the present site.
func (s *Sites) Source() []explain.Section { return SourceOf(s.field()) }

// source says how the rate on the screen is worked out.
func (c *count) source() []explain.Section {
	if c.ear == nil && c.taps.Taps() == 0 {
		return nil
	}
	v, err := c.Value()
	if err != nil {
		return nil
	}
	return []explain.Section{{Head: "This count", Lines: explain.Count(v)}}
}

// source explains every estimate of the result, the method chosen, or the measure that is asked.
func (w *weigh) source() []explain.Section {
	switch w.stage {
	case weighResult:
		return w.estimates()
	case weighNumber:
		if m, ok := weight.MethodOf(w.method, w.animal, 0); ok {
			return []explain.Section{{Head: "This way of weighing", Lines: m.Explain()}}
		}
	case weighMeasure:
		if try, ok := w.tried(); ok {
			return try.estimates()
		}
		return w.equations()
	case weighMethod:
	}
	out := make([]explain.Section, 0, 4)
	for _, m := range weight.Methods() {
		if m.Name == exam.WeightMeasured && len(w.asks) == 0 {
			out = append(out, explain.Section{Head: "By " + m.Name.String(), Lines: []string{"no equation fits this animal (" + w.animal.Words() + ")"}})
			continue
		}
		if fit, ok := weight.MethodOf(m.Name, w.animal, 0); ok {
			out = append(out, explain.Section{Head: "By " + m.Name.String(), Lines: fit.Explain()})
		}
	}
	return out
}

func (w *weigh) estimates() []explain.Section {
	var out []explain.Section
	if w.chosen >= 0 && w.chosen < len(w.all) {
		out = append(out, explain.Section{Head: "The weight shown", Lines: append(w.all[w.chosen].Explain(), "chosen: "+w.why)})
	}
	for i, est := range w.all {
		if i != w.chosen && est.Fits {
			out = append(out, explain.Section{Head: "Also made for this animal", Lines: est.Explain()})
		}
	}
	return out
}

// equations are those that the measures asked here go into.
func (w *weigh) equations() []explain.Section {
	ask := w.asks[w.at]
	out := []explain.Section{{Head: ask.Name, Lines: []string{strings.Join(ask.How, " "), "source: " + ask.Source}}}
	for _, id := range ask.Equations {
		if e, ok := weight.ByID(id); ok {
			out = append(out, explain.Section{Head: "It goes into", Lines: e.Explain()})
		}
	}
	return out
}
