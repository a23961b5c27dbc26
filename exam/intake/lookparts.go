package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"loosebox/exam"
)

// tprMeans are the three that are often written in one cell, in this order.
const tprMeans = "temp.rectal, heart.rate, breath.rate"

// inOneCell are the groups of steps that a column can be said to hold with a sign between.
func inOneCell() []string {
	return []string{tprMeans, "heart.rate, breath.rate", "temp.rectal, heart.rate"}
}

// several says that a column holds answers to different steps in one cell.
func (p *Proposal) several(means string) bool {
	parts := strings.Split(means, ", ")
	return p.isStep(means) && stepOf(parts[len(parts)-1]) != stepOf(parts[0])
}

// stepOf is the step of a place as a map has it.
func stepOf(means string) string {
	id, _, _ := strings.Cut(means, ":")
	return id
}

// headBetween stands between the names of several steps above one column.
var headBetween = regexp.MustCompile(`\s*[/&+,;|\-–]\s*|\s+and\s+`)

// namedSeveral is what the name of a column says that holds several numbers in one cell, as HR/RR or Temp & Pulse do: the
// steps in the order of the name. Empty where a part names no step, or one whose number alone does not say its unit.
func namedSeveral(steps *exam.Steps, known map[string]string, lower string) string {
	for _, names := range [][]string{headBetween.Split(lower, -1), strings.Fields(lower)} {
		var means []string
		for _, name := range names {
			one, _ := namedOne(steps, known, name)
			where, wrong := readPlace(steps, one)
			if wrong != "" || !where.step.Kind.Measured() || len(where.step.Units) > 1 && !settles(where.step) || slices.Contains(means, one) {
				means = nil
				break
			}
			means = append(means, one)
		}
		if len(means) > 1 {
			return strings.Join(means, ", ")
		}
	}
	return ""
}

// sequence is a way to read the numbers of a column's cells.
type sequence struct {
	means         string
	taken, likely int // cells that are read so, and those of them in which every number is often seen
}

// orders reads the cells of a column as every order of some of the steps, the best first.
func (p *Proposal) orders(g *Guess, of []string, n int, sign string) []sequence {
	var out []sequence
	var add func(means []string)
	add = func(means []string) {
		if len(means) == n {
			out = append(out, p.read(g, strings.Join(means, ", "), sign))
			return
		}
		for _, m := range of {
			if !slices.Contains(means, m) {
				add(append(slices.Clone(means), m))
			}
		}
	}
	add(nil)
	slices.SortStableFunc(out, func(a, b sequence) int { return b.likely - a.likely })
	return out
}

// read reads the cells of a column as answers to several steps with a sign between.
func (p *Proposal) read(g *Guess, means, sign string) sequence {
	o, c := sequence{means: means}, column{split: sign}
	for _, part := range strings.Split(means, ", ") {
		where, _ := readPlace(p.steps, part)
		c.places = append(c.places, where)
	}
	for _, text := range p.cells(g) {
		got, err := c.readParts(text)
		if err != nil || len(got) == 0 {
			continue
		}
		o.taken++
		if !slices.ContainsFunc(got, func(a placed) bool { return a.answer.unlikely != "" }) {
			o.likely++
		}
	}
	return o
}

// between is the sign that stands between n answers in most cells, and in how many.
func (p *Proposal) between(g *Guess, n int) (sign string, cells int) {
	sign = "/"
	for _, s := range []string{"/", "-", ";", "|", ","} {
		with := 0
		for _, text := range p.cells(g) {
			if strings.Count(text, s) == n-1 {
				with++
			}
		}
		if with > cells {
			sign, cells = s, with
		}
	}
	return sign, cells
}

// parts finds the sign between several answers in one cell. A column whose cells are no such answers is a comment.
func (p *Proposal) parts(g *Guess) {
	n := len(strings.Split(g.Means, ", "))
	sign, _ := p.between(g, n)
	o := p.read(g, g.Means, sign)
	if o.taken*2 < g.Filled {
		p.Take(g, string(roleNote), "")
		g.Why = fmt.Sprintf("its name says %d numbers in one cell, and %d of %d cells are none; kept as a comment", n, g.Filled-o.taken, g.Filled)
		return
	}
	g.Split = sign
	g.Why += fmt.Sprintf("; %d of %d cells are %d answers with %q between", o.taken, g.Filled, n, sign)
}

// askOrder asks which number is which where the cells fit another order better than the one that is proposed.
func (p *Proposal) askOrder(g *Guess) {
	parts := strings.Split(g.Means, ", ")
	best := p.orders(g, parts, len(parts), g.Split)[0]
	if now := p.read(g, g.Means, g.Split); best.likely <= now.likely {
		return
	}
	g.Ask = fmt.Sprintf("which number of %s is which? By its name it is %s; its numbers fit %s better. Write split: %s, and the steps in the right order",
		g.Name, strings.ToLower(p.Says(g.Means)), strings.ToLower(p.Says(best.means)), yamlText(g.Split))
}

// numbersInCells proposes what a column holds whose name says nothing and whose cells are several numbers that can be
// temperature, heart rate and breathing rate; what is possible proposes, and the person is asked.
func (p *Proposal) numbersInCells(g *Guess) (means string) {
	of := strings.Split(tprMeans, ", ")
	for n := len(of); n > 1; n-- {
		sign, cells := p.between(g, n)
		if cells*10 < g.Filled*8 || sign == "," || sign == "-" && n == 2 { // 38,1 is a number, and 4-6 is often a span
			continue
		}
		if best := p.orders(g, of, n, sign)[0]; best.likely*10 >= g.Filled*8 {
			return best.means
		}
	}
	return ""
}

// askParts asks whether a column holds what its cells alone propose.
func (p *Proposal) askParts(g *Guess) {
	g.Ask = fmt.Sprintf("are the numbers of %s %s? The name does not say it. Write split: %s if so, the steps in the right order, or {note: %s} for a comment",
		g.Name, strings.ToLower(p.Says(g.Means)), yamlText(g.Split), yamlText(g.Name))
}

// partOptions are the answers to the question which number of a cell is which.
func (p *Proposal) partOptions(g *Guess) []Option {
	var out []Option
	parts := strings.Split(g.Means, ", ")
	all := p.orders(g, parts, len(parts), g.Split)
	for _, o := range all {
		if o.taken*2 >= g.Filled || o.means == g.Means {
			out = append(out, Option{o.means, p.Says(o.means)})
		}
	}
	return append(out, Option{string(roleNote), "no such numbers: a comment"})
}
