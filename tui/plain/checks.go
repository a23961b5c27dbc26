package plain

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/needle"
)

// checks goes through a check list.
func (w *work) checks(points []needle.Point) ([]exam.Checked, error) {
	var out []exam.Checked
	for _, p := range points {
		c, err := w.check(p)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func (w *work) check(p needle.Point) (exam.Checked, error) {
	var words []string
	for _, a := range p.Answers {
		if !a.Ask {
			words = append(words, a.Words)
		}
	}
	list := ""
	for i, x := range words {
		list += fmt.Sprintf("%d %s; ", i+1, x)
	}
	shown := ""
	if p.Shown != "" {
		shown = strings.TrimSuffix(p.Shown, ".") + ". "
	}
	for {
		text, err := w.ask("%s. %s%sor no, and what is not in order.", p.Asks, shown, list)
		if err != nil {
			return exam.Checked{}, err
		}
		if head, rest, _ := strings.Cut(text, " "); strings.EqualFold(head, "no") && strings.TrimSpace(rest) != "" {
			return exam.Checked{Key: p.Key, Words: strings.TrimSpace(rest)}, nil
		}
		if i, ok := find(text, words); ok {
			return exam.Checked{Key: p.Key, OK: true, Words: p.Answers[i].Stored}, nil
		}
		w.line("Not understood: type the number of an answer, or no and a few words.")
	}
}

// place asks for a site; one with a warning is typed twice.
func (w *work) place(question string, choices []procedure.Choice, proposed bool) (procedure.Choice, error) {
	words := make([]string, len(choices))
	for i, c := range choices {
		last := "none in record"
		if c.Last != nil {
			last = c.Ago + ", " + c.Last.Product
		}
		words[i] = fmt.Sprintf("%s (%s)", c.Place(), last)
		if i == 0 && proposed {
			words[i] = c.Place().String() + ", proposed (" + last + ")"
		}
	}
	warned := -1
	for {
		i, err := w.choose(question, words)
		if err != nil {
			return procedure.Choice{}, err
		}
		c := choices[i]
		if c.Warning == "" || warned == i {
			w.line("%s Stand: %s For: %s Against: %s", c.Site.Find, c.Site.Stand, c.Site.For, c.Site.Against)
			return c, nil
		}
		warned = i
		w.line("Caution: %s Type %d again to take it all the same.", c.Warning, i+1)
	}
}

// needleIn asks for the needle and waits until it is in; back is another place.
func (w *work) needleIn(before string) (which string, in bool, err error) {
	hint := ""
	if before != "" {
		hint = " Enter alone: " + before + "."
	}
	if which, err = w.ask("Needle, gauge and length? %s%s", procedure.NeedleRule, hint); err != nil {
		return "", false, err
	}
	if which == "" {
		which = before
	}
	for {
		text, err := w.ask("Type in when the needle is in, or back for another place.")
		if err != nil {
			return "", false, err
		}
		switch strings.ToLower(text) {
		case "in":
			return which, true, nil
		case "back":
			return "", false, nil
		}
	}
}

// amount asks for millilitres; "not known" is an answer.
func (w *work) amount(question, offered string) (ml float64, known bool, err error) {
	if offered != "" {
		question += " Enter alone: " + offered + "."
	}
	for {
		text, err := w.ask("%s", question)
		if err != nil {
			return 0, false, err
		}
		if text == "" {
			text = offered
		}
		if err := needle.CheckAmount(text); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		ml, known := needle.ReadAmount(text)
		return ml, known, nil
	}
}
