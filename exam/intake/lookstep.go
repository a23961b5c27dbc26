package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// takeStep looks at the cells of a column of findings.
func (p *Proposal) takeStep(g *Guess, unit string) {
	parts := strings.Split(g.Means, ", ")
	first, wrong := readPlace(p.steps, parts[0])
	if wrong != "" {
		return
	}
	if p.several(g.Means) {
		p.parts(g)
		return
	}
	step := first.step
	switch {
	case step.Kind == exam.KindNote:
	case len(step.Units) > 1:
		p.unit(g, step, unit)
		p.numberWords(g, step)
	case step.Kind.Measured():
		p.numberWords(g, step)
	default:
		for i, w := range p.words(g) {
			if i == maxWords {
				break
			}
			g.Words = append(g.Words, p.choice(step, w))
		}
	}
	p.sure(g, step)
}

// sure takes a column whose cells its step does not take for what it is: a comment.
func (p *Proposal) sure(g *Guess, step exam.Step) {
	if !step.Kind.Measured() || g.Unit == askWord {
		return
	}
	good := 0
	for _, text := range p.cells(g) {
		c := column{either: strings.Contains(g.Unit, " or ")}
		if q, err := notation.ParseQuantity("1 " + g.Unit); err == nil && !c.either {
			c.unit = q.Unit
		}
		if _, err := readEither(c, step, text); err == nil {
			good++
		}
	}
	if good*2 < g.Filled {
		p.Take(g, string(roleNote), "")
		g.Why = fmt.Sprintf("its name says %s, and %d of %d cells are none; kept as a comment", strings.ToLower(step.Name), g.Filled-good, g.Filled)
	}
}

// unit finds out in which unit the numbers of a column are.
func (p *Proposal) unit(g *Guess, step exam.Step, head string) {
	if step.Kind == exam.KindWeight {
		defer p.weights(g)
	}
	bare, only := 0, map[notation.Unit]int{}
	for _, text := range p.cells(g) {
		q, err := notation.ParseQuantity(text)
		if err != nil || q.Unit != notation.NoUnit {
			continue
		}
		bare++
		for _, u := range step.Units {
			base, _ := notation.Quantity{Value: q.Value, Unit: u}.In(step.Unit)
			if step.Possible.Contains(base.Value) {
				only[u]++
			}
		}
	}
	named, err := notation.ParseQuantity("1 " + head)
	switch {
	case bare == 0:
		return // each cell has its own, or there is no number
	case settles(step) && only[step.Units[0]] > 0 && only[step.Units[1]] > 0:
		g.Unit = string(step.Units[0]) + " or " + string(step.Units[1])
		g.Why += fmt.Sprintf("; %d cells can only be %s and %d only %s, so each takes its possible unit", only[step.Units[0]], step.Units[0], only[step.Units[1]], step.Units[1])
	case err == nil && named.Unit != notation.NoUnit && takesUnit(step, named.Unit):
		g.Unit = string(named.Unit)
		g.Why += ", and so is its unit"
	case settles(step) && only[step.Units[1]] > only[step.Units[0]]:
		g.Unit = string(step.Units[1])
		g.Why += "; no cell can be " + string(step.Units[0])
	case settles(step):
		g.Unit = string(step.Units[0])
	default:
		g.Unit = askWord
		g.Ask = fmt.Sprintf("are the numbers of %s in %s or %s? Nothing in the file settles it: unit: %s or unit: %s", g.Name, step.Units[0], step.Units[1], step.Units[0], step.Units[1])
	}
}

// weights counts weights that no grown animal has.
func (p *Proposal) weights(g *Guess) {
	q, err := notation.ParseQuantity("1 " + g.Unit)
	if err != nil || g.Unit == askWord {
		return
	}
	span, odd := grownWeights(exam.AnimalKind(p.Kind)), []string{}
	g.odd = nil
	for r, text := range p.cells(g) {
		w, err := notation.ParseQuantity(text)
		if err != nil || slices.ContainsFunc(g.Words, func(w Word) bool { return w.Text == text && w.Becomes != "" }) {
			continue
		}
		if w.Unit == notation.NoUnit {
			w.Unit = q.Unit
		}
		if kg, ok := w.In(notation.Kilograms); ok && !span.Contains(kg.Value) {
			if len(odd) < 4 {
				odd = append(odd, fmt.Sprintf("line %d %s", r.line, text))
			}
			if !slices.Contains(g.odd, text) && len(g.odd) < maxWords {
				g.odd = append(g.odd, text)
			}
		}
	}
	if len(odd) == 0 && g.Heavy == askWord { // all were put right
		g.Heavy, g.Ask = "", ""
	}
	if len(odd) > 0 {
		g.Heavy = askWord
		g.Ask = fmt.Sprintf("these are no weights of a grown %s (%g to %g kg): %s. weights: take imports them (foals, other kinds). weights: leave out keeps them as a comment. With ask the rows are not imported; values: {%s: 450 kg} puts one right", p.Kind, span.Low, span.High, strings.Join(odd, ", "), yamlText(g.odd[0]))
	}
}

// Correct puts a weight that no grown animal has right, wherever the column says it; the error says why a text is no such
// weight.
func (p *Proposal) Correct(g *Guess, text, weight string) error {
	where, wrong := readPlace(p.steps, g.Means)
	if wrong != "" || where.step.Kind != exam.KindWeight {
		return &notation.Refusal{Typed: weight, Why: "only a body weight is corrected so"}
	}
	q, err := where.step.ReadNumber(weight, notation.Unit(g.Unit))
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return err
	}
	kg, _ := q.In(notation.Kilograms)
	if span := grownWeights(exam.AnimalKind(p.Kind)); !span.Contains(kg.Value) {
		return &notation.Refusal{Typed: weight, Why: fmt.Sprintf("%s is no weight of a grown %s either (%g to %g kg)", q.Text(1), p.Kind, span.Low, span.High)}
	}
	n := 0
	for _, cell := range p.cells(g) {
		if cell == text {
			n++
		}
	}
	g.Words = append(g.Words, Word{Text: text, Count: n, Becomes: q.Text(1)})
	p.weights(g)
	return nil
}

// numberWords lists the words of a column of numbers.
func (p *Proposal) numberWords(g *Guess, step exam.Step) {
	for _, w := range p.words(g) {
		if len(g.Words) == maxWords {
			return
		}
		if _, err := readCell(step, w.Text, notation.NoUnit); err == nil || isNumber(w.Text) {
			continue
		}
		switch lower := strings.ToLower(w.Text); {
		case strings.Trim(lower, "-–—?x./ ") == "", lower == "n/a", lower == "na", lower == "nd", lower == "n/d", lower == "not taken", lower == "nt":
			w.Becomes = "not done"
		}
		g.Words = append(g.Words, w)
	}
}

// choice is what a word means for a step with choices.
func (p *Proposal) choice(step exam.Step, w Word) Word {
	lower := strings.ToLower(w.Text)
	becomes, ok := found1(lexicon(step.ID), lower)
	switch {
	case ok:
		w.Becomes = becomes
	case isUsualWord(lower) && len(step.Usual) > 0:
		w.Becomes = "usual"
	case strings.Trim(lower, "-–—?x./ ") == "", lower == "n/a", lower == "na", lower == "nd", lower == "not done":
		w.Becomes = "not done"
	default:
		if a, err := readCell(step, w.Text, notation.NoUnit); err == nil {
			w.Reads = true
			w.Becomes = strings.Join(a.value.Words, ", ")
			if w.Becomes == "" && a.value.Number != nil {
				w.Becomes = notation.FormatNumber(a.value.Number.Value, 1)
			}
			if step.Kind == exam.KindEvent || step.Kind == exam.KindNote || a.notDone != "" {
				w.Becomes = w.Text
			}
		}
	}
	return w
}
