package plain

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure/order"
)

// checks goes through a check list.
func (w *work) checks(points []order.AnsweredPoint) ([]exam.Checked, error) {
	var out []exam.Checked
	w.wrong = false
	for _, p := range points {
		c, err := w.check(p)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
		at := slices.IndexFunc(points[:len(out)], func(p order.AnsweredPoint) bool { return p.Key == "horse" })
		for w.wrong && at >= 0 {
			w.wrong = false
			w.line("The first answer is removed: the chip that was read is not of this horse.")
			if out[at], err = w.check(points[at]); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// check asks one point. Each has its own letter or word; an empty line, a number
// or "yes" answers none.
func (w *work) check(p order.AnsweredPoint) (exam.Checked, error) {
	shown, list := "", make([]string, len(p.Answers))
	if p.Shown != "" {
		shown = strings.TrimSuffix(p.Shown, ".") + ". "
	}
	for i, a := range p.Answers {
		if list[i] = a.Press + " " + a.Words; a.Press == order.NotInOrder {
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
			w.notTaken(err.Error())
			continue
		}
		return exam.Checked{Key: p.Key, OK: a.OK, Words: exam.CheckAnswer(rest)}, nil
	}
}

// answerTo is the answer that a line gives to a point: its letter with words behind
// it where it asks for some, the answer in its own words, or the name of the point.
func answerTo(p order.AnsweredPoint, text string) (a order.Answer, rest string, ok bool) {
	head, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.EqualFold(head, "no") && rest != "" {
		head = order.NotInOrder
	}
	for _, a := range p.Answers {
		switch {
		case strings.EqualFold(head, a.Press) && (rest == "" || a.Ask != ""):
			return a, strings.TrimSpace(rest), true
		case a.InOrder && strings.EqualFold(text, p.Key):
			return a, "", true
		case !a.InOrder && a.Ask == "" && begins(a.Words, text):
			return a, "", true
		}
	}
	return order.Answer{}, "", false
}
