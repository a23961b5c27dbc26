package rehearse

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// setForm reads the parsed file of a set exam.
type setForm struct {
	*form
	in *time.Location
	s  Set
}

func (f *setForm) key(key string, pair *ast.MappingValueNode) {
	line := ownfile.LineOf(pair.Key)
	switch key {
	case "set":
		f.s.Title = f.text(pair, 60)
	case "case":
		f.s.Case = f.text(pair, 40)
	case "own-case":
		f.s.OwnCase, _ = ownfile.TextOf(pair.Value)
	case "seed":
		f.s.Seed = uint64(f.whole(pair, 1, 1<<31-1))
	case "routine":
		f.s.Routine = f.text(pair, maxAbout)
	case "mode":
		for _, m := range f.texts(pair) {
			f.s.Modes.Blind = f.s.Modes.Blind || m == "blind"
			f.s.Modes.Timed = f.s.Modes.Timed || m == "timed"
			if m != "blind" && m != "timed" {
				f.Add(line, "mode: takes blind and timed")
			}
		}
	case "deadline":
		at, err := time.ParseInLocation("2006-01-02 15:04", f.text(pair, 40), f.in)
		if err != nil {
			f.Add(line, "deadline: is written like 2026-12-04 18:00")
		}
		f.s.Deadline = at
	case "attempts":
		f.s.Attempts = f.whole(pair, 1, 100)
	case "pass":
		f.s.Pass = float64(f.whole(pair, 1, 100))
	case "fail-at-once":
		for _, kind := range f.texts(pair) {
			if !slices.Contains(FailKinds(), FaultKind(kind)) {
				f.Add(line, "fail-at-once: takes %s", list(FailKinds()))
			}
			f.s.FailAt = append(f.s.FailAt, FaultKind(kind))
		}
	case "marks":
		f.s.Shown = oneOf(f.form, pair, []MarksShown{ShownAtOnce, ShownAfter, ShownByHand})
	case "points":
		f.points(pair)
	default:
		f.Add(line, "%s is no key of a set exam", ownfile.Quote(key))
	}
}

// points reads the weights: of the parts by their names, of a step by its identity.
func (f *setForm) points(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	w := &f.s.Weights
	parts := map[string]*float64{
		"answer": &w.Answer, "weighty": &w.Weighty, "wrong": &w.Wrong, "danger": &w.Danger, "order": &w.Order, "hand-off": &w.HandOff, "last-30-minutes": &w.Context,
	}
	for _, p := range m.Values {
		name, _ := ownfile.TextOf(p.Key)
		text, _ := ownfile.TextOf(p.Value)
		n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil || !(n >= 0 && n <= 100) {
			f.Add(ownfile.LineOf(p.Key), "points: %s takes a number from 0 to 100", ownfile.Quote(name))
			continue
		}
		if at, ok := parts[name]; ok {
			*at = n
			continue
		}
		if _, ok := f.table.ByID(exam.StepID(name)); !ok {
			f.Add(ownfile.LineOf(p.Key), "points: %s is no part of the marks and no step", ownfile.Quote(name))
			continue
		}
		if w.Steps == nil {
			w.Steps = map[exam.StepID]float64{}
		}
		w.Steps[exam.StepID(name)] = n
	}
}
