package main

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

type weighJSON struct {
	Schema    string         `json:"schema"`
	Estimates []estimateJSON `json:"estimates"`
	Chosen    *string        `json:"chosen"`
	// NeckToHeight is null where a measure is missing or no limit is held for the kind.
	NeckToHeight *neckJSON `json:"neck_to_height"`
}

type neckJSON struct {
	Ratio    float64       `json:"ratio"`
	Limit    float64       `json:"limit"`
	Above    bool          `json:"above"`
	Source   string        `json:"source"`
	Evidence exam.Evidence `json:"evidence"`
}

// neckOf is the ratio of neck to height, where both were measured and a limit is
// held for the kind of animal.
func neckOf(a weight.Animal, m weight.Measures) *neckJSON {
	r, ok := weight.NeckToHeight(a.Kind, m)
	if !ok {
		return nil
	}
	return &neckJSON{Ratio: rounded(r.Ratio*10) / 10, Limit: r.Limit, Above: r.Above, Source: r.Source, Evidence: ranges.Published}
}

// printNeck says what neck and height come to, where both were measured.
func (e *env) printNeck(a weight.Animal, m weight.Measures) error {
	if m.NeckCm <= 0 || m.HeightCm <= 0 {
		return nil
	}
	r, err := score.NeckToHeight(a.Kind, m.NeckCm, m.HeightCm)
	if err != nil {
		return e.lines("neck to height: " + err.Error())
	}
	return e.lines(
		"neck to height: "+r.Words,
		fmt.Sprintf("source: %s (%s)", r.Source, r.Evidence),
	)
}

type estimateJSON struct {
	Equation   string        `json:"equation"`
	Kg         float64       `json:"kg"`
	Lb         float64       `json:"lb"`
	LowKg      float64       `json:"low_kg"`
	HighKg     float64       `json:"high_kg"`
	Percent    *int          `json:"band_percent"` // share of animals inside; null where no study says
	Band       string        `json:"band"`
	Fits       bool          `json:"fits"`
	Why        string        `json:"why"`
	MeasuredAs string        `json:"measured_as"`
	Source     string        `json:"source"`
	Evidence   exam.Evidence `json:"evidence"`
}

func pounds(kg float64) float64 {
	lb, _ := notation.Quantity{Value: kg, Unit: notation.Kilograms}.In(notation.Pounds)
	return lb.Value
}

func percentOf(b weight.ErrorBand) *int {
	if b.Percent == 0 {
		return nil
	}
	return &b.Percent
}

func weighOf(a weight.Animal, m weight.Measures, all []weight.Estimate, chosen int) weighJSON {
	j := weighJSON{Schema: "loosebox/weigh/1", Estimates: make([]estimateJSON, len(all)), NeckToHeight: neckOf(a, m)}
	for i, est := range all {
		j.Estimates[i] = estimateJSON{
			Equation: est.Equation.ID, Kg: rounded(est.Kg), Lb: rounded(pounds(est.Kg)), LowKg: rounded(est.LowKg), HighKg: rounded(est.HighKg),
			Percent: percentOf(est.Band), Band: est.Band.Words(),
			Fits: est.Fits, Why: est.Why, MeasuredAs: est.MeasuredAs, Source: est.Equation.Source, Evidence: est.Equation.Evidence,
		}
	}
	if chosen >= 0 {
		j.Chosen = &j.Estimates[chosen].Equation
	}
	return j
}

func (e *env) printWeigh(w weighing, a weight.Animal, m weight.Measures, all []weight.Estimate, chosen int, why string) error {
	if chosen >= 0 {
		est := all[chosen]
		eq := est.Equation
		if err := e.lines(
			fmt.Sprintf("%s kg (%s lb), %s", notation.FormatNumber(est.Kg, 0), notation.FormatNumber(pounds(est.Kg), 0), est.BandWords(notation.Kilograms)),
			fmt.Sprintf("by %s: %s", eq.ID, eq.Formula),
			"measured: "+est.MeasuredAs,
			"for: "+est.Why,
			"error: "+eq.PublishedError,
			est.Band.Words(),
			fmt.Sprintf("source: %s (%s)", eq.Source, eq.Evidence),
		); err != nil {
			return err
		}
	}
	if chosen >= 0 {
		why = "chosen: " + why
	}
	if err := e.lines(why); err != nil {
		return err
	}
	if err := e.printNeck(a, m); err != nil {
		return err
	}
	if err := e.printOthers(all, chosen, w.all); err != nil {
		return err
	}
	for _, o := range weight.LeftOut(a, m) {
		if slices.ContainsFunc(all, func(est weight.Estimate) bool { return est.Equation.ID == o.Equation.ID }) {
			continue // computed, with a length whose origin was taken for granted
		}
		if err := e.lines("not computed: " + o.Why); err != nil {
			return err
		}
	}
	return e.lines("An estimate is not a weighing.")
}

// printOthers lists what else was computed; of an equation made for other
// animals no number is shown, so that nobody borrows it.
func (e *env) printOthers(all []weight.Estimate, chosen int, everyOne bool) error {
	var rows [][]string
	for i, est := range all {
		if i != chosen && est.Fits {
			rows = append(rows, []string{"also", est.Equation.ID, notation.FormatNumber(est.Kg, 0) + " kg", notation.FormatNumber(pounds(est.Kg), 0) + " lb", est.Equation.Evidence.String()})
		}
	}
	if err := columns(e.out, rows); err != nil {
		return err
	}
	var others []string
	for _, est := range all {
		if !est.Fits {
			others = append(others, fmt.Sprintf("not for this animal, %s: %s", est.Equation.ID, est.Why))
		}
	}
	if !everyOne && len(others) > 0 {
		others = []string{fmt.Sprintf("%d other equations were made for other animals, or say the same in other units; --all names them", len(others))}
	}
	return e.lines(others...)
}

// printAsks says which measures to take of this animal.
func (e *env) printAsks(a weight.Animal, asJSON bool) error {
	if asJSON {
		return usage("weigh needs measures, --girth 76in; without --json it says which to take of a %s", a.Words())
	}
	asks := weight.Asks(a)
	if len(asks) == 0 {
		return e.lines(fmt.Sprintf("No published equation fits this animal (%s): weigh it on a scale.", a.Words()))
	}
	if err := e.lines(fmt.Sprintf("To measure of this animal (%s):", a.Words())); err != nil {
		return err
	}
	for _, ask := range asks {
		name := "--" + flagOf(ask.Measure) + ", " + strings.ToLower(ask.Name)
		if ask.LengthFrom != "" {
			name += ", --length-from " + string(ask.LengthFrom)
		}
		if ask.Optional {
			name += " (not needed for every equation)"
		}
		if err := e.lines(append([]string{name}, setIn(ask.How)...)...); err != nil {
			return err
		}
	}
	return nil
}

func flagOf(of weight.Measure) string {
	for _, m := range weighFlags() {
		if m.of == of {
			return m.flag
		}
	}
	return ""
}

func setIn(lines []string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = "    " + line
	}
	return out
}
