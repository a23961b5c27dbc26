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

// check asks one point. Each has its own letter or word; an empty line, a number
// or "yes" answers none.
func (w *work) check(p needle.Point) (exam.Checked, error) {
	shown, list := "", make([]string, len(p.Answers))
	if p.Shown != "" {
		shown = strings.TrimSuffix(p.Shown, ".") + ". "
	}
	for i, a := range p.Answers {
		if list[i] = a.Press + " " + a.Words; a.Press == needle.NotInOrder {
			list[i] += ", and why behind it"
		}
	}
	for {
		w.comparing = p.Key == "horse"
		text, err := w.ask("%s. %s%s.", p.Asks, shown, strings.Join(list, "; "))
		w.comparing = false
		if err != nil {
			return exam.Checked{}, err
		}
		if p.Key == "horse" {
			if c, answered, chip, err := w.compare(p, text); err != nil || answered {
				return c, err
			} else if chip {
				continue
			}
		}
		a, rest, ok := answerTo(p, text)
		if !ok {
			w.line("Not understood: this point takes %s.", strings.Join(list, "; "))
			continue
		}
		if a.Ask == "" {
			return exam.Checked{Key: p.Key, OK: a.OK, Words: a.Stored}, nil
		}
		if rest == "" {
			if rest, err = w.ask("%s", a.Ask); err != nil {
				return exam.Checked{}, err
			}
		}
		if err := a.Check(rest); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		return exam.Checked{Key: p.Key, OK: a.OK, Words: rest}, nil
	}
}

// answerTo is the answer that a line gives to a point: its letter with words behind
// it where it asks for some, the answer in its own words, or the name of the point.
func answerTo(p needle.Point, text string) (a needle.Answer, rest string, ok bool) {
	head, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.EqualFold(head, "no") && rest != "" {
		head = needle.NotInOrder
	}
	for _, a := range p.Answers {
		switch {
		case strings.EqualFold(head, a.Press) && (rest == "" || a.Ask != ""):
			return a, strings.TrimSpace(rest), true
		case a.Words == "in order" && strings.EqualFold(text, p.Key):
			return a, "", true
		case a.Words != "in order" && a.Ask == "" && begins(a.Words, text):
			return a, "", true
		}
	}
	return needle.Answer{}, "", false
}

// begins says that a text of some letters is the beginning of an answer's words.
func begins(words, text string) bool {
	return len(text) > 1 && strings.HasPrefix(strings.ToLower(words), strings.ToLower(text))
}

// lettered is an answer with its letter.
type lettered struct{ letter, words string }

// letter asks a question while a needle is in: by the letter of an answer or the
// beginning of its words, never by a number or an empty line.
func (w *work) letter(question string, answers []lettered) (int, error) {
	list := make([]string, len(answers))
	for i, a := range answers {
		list[i] = a.letter + " " + a.words
	}
	for {
		text, err := w.ask("%s %s.", question, strings.Join(list, "; "))
		if err != nil {
			return 0, err
		}
		for i, a := range answers {
			if strings.EqualFold(text, a.letter) || begins(a.words, text) {
				return i, nil
			}
		}
		w.line("Not understood: %s.", strings.Join(list, "; "))
	}
}

func seenLetters(list []needle.Seen) []lettered {
	out := make([]lettered, len(list))
	for i, x := range list {
		out[i] = lettered{x.Press, x.Words}
	}
	return out
}

// reason asks why something is stopped: a letter of the usual reasons, or words. A
// word that does something here is no reason, and back goes back.
func (w *work) reason(question string, reasons []needle.Reason) (string, error) {
	list := make([]string, len(reasons))
	for i, r := range reasons {
		list[i] = r.Press + " " + r.Words
	}
	for {
		text, err := w.ask("%s %s; or in your own words.", question, strings.Join(list, "; "))
		if err != nil {
			return "", err
		}
		for _, r := range reasons {
			if strings.EqualFold(text, r.Press) {
				return r.Words, nil
			}
		}
		switch {
		case strings.EqualFold(text, "back"):
			w.line("Nothing is written down.")
			return "", errBack
		case len([]rune(text)) > 1 && !isCommand(text):
			return text, nil
		}
		w.line("Say why: a letter of the list, or a few words. Type back for no reason.")
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
		text, err := w.ask("Type i when the needle is in, or back for another place.")
		if err != nil {
			return "", false, err
		}
		switch strings.ToLower(text) {
		case "in", "i":
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
