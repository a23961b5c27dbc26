package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// takeRole looks at the cells of a column that says who, when or by whom.
func (p *Proposal) takeRole(g *Guess) {
	switch r := role(g.Means); {
	case r == roleDate:
		f := findForm(p.s.rows, g.column, p.s.zero, p.latest)
		var forms []string
		for form, example := range f.forms {
			forms = append(forms, form+" ("+example+")")
		}
		slices.Sort(forms)
		if len(forms) > 0 {
			g.Why += "; " + strings.Join(forms, ", ")
		}
		if f.notice != "" {
			g.Why += "; " + f.notice
		}
		f.form.asked = f.ask != ""
		if g.Format, g.Ask = f.form.String(), f.ask; f.days != f.ask {
			g.Also = f.days
		}
		p.above(g)
	case r == roleKind, r == roleSex:
		p.roleWords(g, r)
	case r == roleStep:
		p.tests(g)
	case r == roleValue:
		p.values(g)
	case r == roleName, r == roleBy, r == rolePlace, r == roleOwner:
		p.above(g)
	}
}

// above proposes that an empty cell says what the one above it says, where a column is empty in many rows that hold other
// things, as when a name is written once for the rows below it, or ditto marks are there.
func (p *Proposal) above(g *Guess) {
	ditto := 0
	for _, text := range p.cells(g) {
		if isDitto(text) {
			ditto++
		}
	}
	empty := len(p.s.rows) - g.Filled
	if len(p.s.rows) > 0 && p.s.rows[0].cells[g.column] != "" && (ditto > 0 || empty*5 > len(p.s.rows)) {
		g.Above = true
		g.Why += fmt.Sprintf("; %d cells are empty or ditto marks, and say what stands above", empty+ditto)
	}
}

// words lists the different words of a column, the commonest first.
func (p *Proposal) words(g *Guess) []Word {
	at := map[string]int{}
	var out []Word
	for _, text := range p.cells(g) {
		key := strings.ToLower(text)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, Word{Text: text})
		}
		out[i].Count++
	}
	slices.SortStableFunc(out, func(a, b Word) int { return cmp.Compare(b.Count, a.Count) })
	return out
}

func (p *Proposal) roleWords(g *Guess, r role) {
	for i, w := range p.words(g) {
		if i == maxWords {
			break
		}
		var err error
		if r == roleKind {
			_, err = readKind(w.Text)
		} else {
			_, err = readSex(w.Text)
		}
		switch becomes, ok := found1(roleWords(r), w.Text); {
		case err == nil:
			w.Becomes, w.Reads = strings.ToLower(w.Text), true
		case ok:
			w.Becomes = becomes
		case r == roleKind: // another animal has other ranges, so it is asked
			g.Ask = fmt.Sprintf("what kind of animal is %s? It is one of %s", w.Text, joined(exam.Animals()))
		default:
			w.Becomes = string(exam.SexUnknown)
		}
		g.Words = append(g.Words, w)
	}
}

// tests says of every test of a table with one finding a row which step it is.
func (p *Proposal) tests(g *Guess) {
	for i, w := range p.words(g) {
		if i == maxWords {
			break
		}
		means, _ := namedHead(p.steps, p.known, w.Text)
		if means == "" || !p.isStep(means) || strings.Contains(means, ",") {
			means = string(roleNote)
		}
		if s, ok := p.steps.ByID(exam.StepID(means)); ok && len(s.Sites) > 0 && !s.OneForAll && !p.has(roleSite) {
			means = string(roleNote)
		}
		w.Becomes = means
		g.Words = append(g.Words, w)
	}
}

// values says of every word of a table with one finding a row what it becomes. A word that means one thing with one test and
// another with another has a line for each test.
func (p *Proposal) values(g *Guess) {
	var tests *Guess
	for _, other := range p.Columns {
		if other.Means == string(roleStep) {
			tests = other
		}
	}
	together := map[[2]string]int{} // test and word -> rows
	if tests != nil {
		for r, text := range p.cells(g) {
			together[[2]string{strings.ToLower(r.cells[tests.column]), strings.ToLower(text)}]++
		}
	}
	for _, w := range p.words(g) {
		if _, err := notation.ParseQuantity(w.Text); err == nil || len(g.Words) >= maxWords {
			continue
		}
		if isUsualWord(w.Text) {
			w.Becomes = "usual"
			g.Words = append(g.Words, w)
			continue
		}
		byTest, meant := p.byTest(tests, w.Text, together)
		if len(meant) == 1 {
			w.Becomes = byTest[0].Becomes
			byTest = []Word{w}
		}
		g.Words = append(g.Words, byTest...)
	}
}

// byTest is what a word means with each of the tests beside which it stands, where it means anything, and the different
// meanings. Together says how often a test and a word stand beside each other.
func (p *Proposal) byTest(tests *Guess, text string, together map[[2]string]int) (out []Word, meant map[string]bool) {
	meant = map[string]bool{}
	if tests == nil {
		return nil, meant
	}
	for _, test := range tests.Words {
		n := together[[2]string{strings.ToLower(test.Text), strings.ToLower(text)}]
		step, ok := p.steps.ByID(exam.StepID(stepOf(test.Becomes)))
		if n == 0 || !ok || len(step.Choices) == 0 {
			continue
		}
		if becomes := p.choice(step, Word{Text: text}).Becomes; becomes != "" {
			meant[becomes] = true
			out = append(out, Word{Text: testWord(test.Text, text), Count: n, Becomes: becomes})
		}
	}
	return out, meant
}

// testWord is a word of a table with one finding a row together with its test, as values of a map can name it.
func testWord(test, word string) string { return test + ": " + word }

func (p *Proposal) has(r role) bool {
	return slices.ContainsFunc(p.Columns, func(g *Guess) bool {
		means, _ := namedHead(p.steps, p.known, g.Name)
		return means == string(r)
	})
}
