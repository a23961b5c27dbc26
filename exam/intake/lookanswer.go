package intake

import (
	"strings"

	"loosebox/exam"
)

// Option is one answer to a question about a sheet.
type Option struct {
	Value string // as a map has it
	Words string // for a person
}

// Options are the answers to the open question of a column; none where nothing is open.
func (p *Proposal) Options(g *Guess) []Option {
	switch {
	case g.Ask == "":
		return nil
	case g.Means == string(roleKind):
		return p.Becomes(g)
	case g.Means == string(roleDate) && strings.Contains(g.Ask, "serial 1904"):
		return []Option{{"serial 1900", "days count from 1900, as most programs do"}, {"serial 1904", "days count from 1904, as old Macs do"}}
	case g.Means == string(roleDate):
		return []Option{{"DD/MM/YYYY", "the day stands first"}, {"MM/DD/YYYY", "the month stands first"}}
	case p.several(g.Means):
		return p.partOptions(g)
	case g.Heavy == askWord:
		out := []Option{{leaveOut, "not possible: keep the number as a comment"}, {takeIt, "possible: foals, or another kind of animal"}, {askWord, "keep these rows apart, to be corrected"}}
		for _, text := range g.odd {
			out = append(out, Option{CorrectMark + text, "type the right weight for " + text})
		}
		return out
	}
	where, wrong := readPlace(p.steps, strings.Split(g.Means, ", ")[0])
	if wrong != "" {
		return nil
	}
	var out []Option
	for _, u := range where.step.Units {
		out = append(out, Option{string(u), "the numbers are in " + string(u)})
	}
	return out
}

// CorrectMark begins the answer that puts one weight right; the cell's text follows, and Correct takes the weight.
const CorrectMark = "correct "

// Answer takes an answer to the open question of a column; the next question is open where there is one.
func (p *Proposal) Answer(g *Guess, value string) {
	switch {
	case g.Means == string(roleKind):
		g.Ask = ""
		for i, w := range g.Words {
			if w.Becomes == "" {
				g.Words[i].Becomes = value
			}
		}
	case g.Means == string(roleDate):
		p.answerDate(g, value)
	case p.several(g.Means):
		p.Take(g, value, "")
	case g.Heavy == askWord:
		g.Heavy, g.Ask = value, ""
	default:
		g.Unit, g.Ask = value, ""
		if where, wrong := readPlace(p.steps, g.Means); wrong == "" && where.step.Kind == exam.KindWeight {
			p.weights(g)
		}
	}
}

// answerDate takes the order of three numbers, or the year from which days are counted, and asks for the other where that is
// open too.
func (p *Proposal) answerDate(g *Guess, value string) {
	form, _ := readForm(g.Format)
	given, _ := readForm(value)
	if given.order != notSaid {
		form.order = given.order
	}
	if given.serial != 0 {
		form.serial = given.serial
	}
	f := findForm(p.s.rows, g.column, p.s.zero, p.latest)
	if g.Ask, g.Also = "", ""; form.serial == 0 {
		g.Ask = f.days
	}
	form.asked = g.Ask != ""
	g.Format = form.String()
}

// Becomes lists what a word of a column can become: the usual answer, every choice, not done; empty text is as written.
func (p *Proposal) Becomes(g *Guess) []Option {
	out := []Option{{"", "as written"}}
	switch is := role(g.Means); {
	case is == roleKind:
		for _, a := range exam.Animals() {
			out = append(out, Option{string(a), string(a)})
		}
		return out[1:]
	case is == roleSex:
		for _, s := range exam.Sexes() {
			out = append(out, Option{string(s), string(s)})
		}
		return out[1:]
	case is == roleStep:
		out = []Option{{string(roleNote), "a comment"}, {ignored, "left out"}}
		for _, s := range p.steps.All() {
			out = append(out, Option{string(s.ID), s.Name})
		}
		return out
	}
	out = append(out, Option{"not done", "not done"})
	where, wrong := readPlace(p.steps, strings.Split(g.Means, ", ")[0])
	if wrong != "" {
		return append(out, Option{"usual", "usual"})
	}
	if len(where.step.Usual) > 0 {
		out = append(out, Option{"usual", "usual"})
	}
	for _, c := range where.step.Choices {
		out = append(out, Option{c.Key, c.Words})
	}
	return out
}
