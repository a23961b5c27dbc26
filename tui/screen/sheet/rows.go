package sheet

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
)

// row is one thing to confirm: a column, what no column says, or a name that may be another one misspelled.
type row struct {
	key         string
	name, value string
	why         string
	open        bool // a question stands
	guess       *intake.Guess
	spelling    *intake.Spelling
}

// Keys of the rows that are no column.
const (
	keyKind = "\x00kind"
	keyBy   = "\x00by"
	keyDate = "\x00date"
	keyWho  = "\x00who"
)

// build makes the rows anew from the proposal. Who answered a question has confirmed that row.
func (s *screen) build() {
	p := s.plan.Proposal
	s.rows = nil
	has := map[string]bool{}
	for _, g := range p.Columns {
		has[g.Means] = true
	}
	for _, g := range p.Columns {
		r := row{key: g.Name, name: g.Name, value: p.Says(g.Means), why: g.Why, open: g.Ask != "", guess: g}
		if g.Unit != "" && g.Unit != "ask" {
			r.value += ", " + g.Unit
		}
		if g.Format != "" && g.Ask == "" {
			r.value += ", " + g.Format
		}
		if g.Ask != "" {
			r.why = asked(g.Ask)
		}
		s.rows = append(s.rows, r)
	}
	s.rows = append(s.rows, row{key: keyWho, name: "your name", value: s.plan.Taker, why: "Every visit shows who imported it, and when.", open: s.plan.Taker == ""})
	if !has["kind"] {
		s.rows = append(s.rows, row{key: keyKind, name: "kind of every animal", value: p.Kind, why: "No column says the kind of animal."})
	}
	if !has["by"] {
		s.rows = append(s.rows, row{key: keyBy, name: "who examined", value: p.By, why: "No column names the examiner. This name signs every visit."})
	}
	if !has["date"] {
		s.rows = append(s.rows, row{key: keyDate, name: "day of every exam", value: notation.Shown(p.Date), why: "No column has the exam dates. Type the day as 4 May 2019.", open: p.Date == ""})
	}
	for _, sp := range p.Spellings() {
		s.rows = append(s.rows, row{
			key: "\x00horse" + sp.Rare.Text, name: sp.Rare.Text, value: "one horse with " + sp.Often.Text + "?", open: true, spelling: &sp,
			why: fmt.Sprintf("%s stands in line %d (%s), %s in line %d (%s). Is it one horse in two spellings?", sp.Rare.Text, sp.Rare.Line, notation.Counted(sp.Rare.Times, "row"), sp.Often.Text, sp.Often.Line, notation.Counted(sp.Often.Times, "row")),
		})
	}
	s.cursor.Keep(len(s.rows))
}

// asked is a question without what a map would say: here the answers stand below it.
func asked(text string) string {
	if at := strings.Index(text, "Nothing in the file settles it"); at > 0 {
		text = text[:at] + "Nothing in the file settles it."
	}
	for _, said := range []string{". weights: take", " Write split:"} {
		if at := strings.Index(text, said); at > 0 {
			text = strings.TrimSpace(text[:at+1])
		}
	}
	return text
}

// ask opens the answers to the question of a row.
func (s *screen) ask(r row) {
	p := s.plan.Proposal
	switch {
	case r.spelling != nil:
		rare, often := r.spelling.Rare.Text, r.spelling.Often.Text
		s.pick = newPick(r.why, []intake.Option{{Value: often, Words: "one horse: " + often}, {Value: rare, Words: "two horses"}}, func(value string) { p.Horses[rare] = value })
	case r.guess != nil:
		s.pick = newPick(r.why, p.Options(r.guess), func(value string) {
			if text, ok := strings.CutPrefix(value, intake.CorrectMark); ok {
				s.correct(r, text, "")
				return
			}
			p.Answer(r.guess, value)
			s.sure[r.key] = r.guess.Ask == ""
		})
	default:
		s.change(r)
	}
}

// correct asks for the right weight in place of one that no grown animal has, until it is one or the person goes back.
func (s *screen) correct(r row, text, wrong string) {
	p := s.plan.Proposal
	asks := fmt.Sprintf("The right weight wherever the column says %s, with its unit:", text)
	if wrong != "" {
		asks = wrong + " " + asks
	}
	s.next = newText(asks, func(weight string) {
		if err := p.Correct(r.guess, text, weight); err != nil {
			s.correct(r, text, "Not taken: "+strings.TrimSuffix(err.Error(), ".")+".")
			return
		}
		s.sure[r.key] = r.guess.Ask == ""
	})
}

// change opens what a row can be.
func (s *screen) change(r row) {
	p := s.plan.Proposal
	switch {
	case r.spelling != nil:
		s.ask(r)
	case r.guess != nil:
		var options []intake.Option
		for _, m := range p.Meanings() {
			options = append(options, intake.Option{Value: m, Words: p.Says(m)})
		}
		s.pick = newPick("What does the column "+r.name+" hold?", options, func(value string) {
			p.Take(r.guess, value, "")
			r.guess.Why = "chosen"
			s.sure[r.key] = r.guess.Ask == ""
		})
	case r.key == keyKind:
		var options []intake.Option
		for _, a := range exam.Animals() {
			options = append(options, intake.Option{Value: string(a), Words: string(a)})
		}
		s.pick = newPick(r.why, options, func(value string) { p.Kind, s.sure[r.key] = value, true })
	case r.key == keyWho:
		s.pick = newText(r.why, func(value string) { s.plan.Taker, s.sure[r.key] = value, true })
	case r.key == keyBy:
		s.pick = newText(r.why, func(value string) { p.By, s.sure[r.key] = value, true })
	case r.key == keyDate:
		s.pick = newText(r.why, func(value string) {
			if day, err := notation.ReadDay(value, s.Deps.Now()); err == nil && len(day) == len(notation.DayForm) {
				p.Date, s.sure[r.key] = day, true
			}
		})
	}
}

// pickWord opens what a word can become.
func (s *screen) pickWord(g *intake.Guess, i int) {
	if i >= len(g.Words) {
		return
	}
	s.pick = newPick(fmt.Sprintf("What does %q mean? It is there %s.", g.Words[i].Text, notation.Counted(g.Words[i].Count, "time")), s.plan.Proposal.Becomes(g), func(value string) {
		g.Words[i].Becomes, g.Words[i].Reads = value, false
	})
}
