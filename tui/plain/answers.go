package plain

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"loosebox/exam/procedure/script"
)

// pick asks one of a few answers: by its letter, a word for it or the beginning of
// its words; by its number where it has no letter. An empty line answers none, but
// where the question says so.
func (w *work) pick(q *script.Question, typed string) (script.Move, error) {
	for {
		text := typed
		if typed = ""; text == "" {
			var err error
			if text, err = w.ask("%s", strings.TrimSpace(q.Ask+" "+answersOf(q)+".")); err != nil {
				return script.Move{}, err
			}
		}
		o, rest, ok := chosen(q, text)
		if !ok && takesFree(q, text) {
			o, rest, ok = optionOf(q, q.Free), text, true
		}
		switch {
		case ok:
			return w.give(o, rest, q)
		case q.Free == script.OwnWords:
			w.line("Say why: a letter of the list, or a few words. Type back to cancel.")
		default:
			w.line("Not understood: %s.", answersOf(q))
		}
	}
}

// give does what an answer does, once what it asks behind it is said. What is typed
// behind it answers the next question.
func (w *work) give(o script.Option, rest string, q *script.Question) (script.Move, error) {
	if !isCommand(rest) {
		w.rest = rest
	}
	if o.Hint != "" && !q.Listed && slices.ContainsFunc(q.Options, func(x script.Option) bool { return x.Key == o.Key }) {
		w.line("%s", o.Hint)
	}
	if o.Then != nil {
		for _, f := range o.Then.Fields {
			if err := w.field(o.Then.To.Get, o.Then.To.Put, f, ""); err != nil {
				return script.Move{}, err
			}
		}
	}
	return o.Do(), nil
}

// answersOf lists the answers of a question with what is typed for each.
func answersOf(q *script.Question) string {
	var list []string
	for i, o := range slices.Concat(q.Options, q.Prompts, q.More) {
		press := o.Key
		switch {
		case q.Numbered, press == "" && len(o.Also) == 0:
			press = strconv.Itoa(i + 1)
		case press == "":
			press = o.Also[0]
		}
		if o.Key == q.Alone && q.Alone != "" {
			press += ", or enter alone,"
		}
		list = append(list, press+" "+o.Words)
	}
	return strings.Join(list, "; ")
}

// chosen is the answer that a line gives.
func chosen(q *script.Question, text string) (o script.Option, rest string, ok bool) {
	if text == "" && q.Alone != "" {
		return optionOf(q, q.Alone), "", true
	}
	all := slices.Concat(q.Options, q.Prompts, q.More)
	for i, o := range all {
		number := (q.Numbered || o.Key == "" && len(o.Also) == 0) && text == strconv.Itoa(i+1)
		begun := q.Free == "" && i < len(q.Options)+len(q.Prompts) && begins(o.Words, text)
		if number || begun || gives(o, text) {
			return o, "", true
		}
	}
	head, rest, cut := strings.Cut(text, " ")
	for i, o := range all { // words behind an answer
		if takes := i >= len(q.Options) || o.Rest != ""; cut && takes && gives(o, head) {
			if o.Rest != "" {
				o = optionOf(q, o.Rest)
			}
			return o, strings.TrimSpace(rest), true
		}
	}
	return script.Option{}, "", false
}

// gives reports whether a word is the letter of an answer, or one of its words.
func gives(o script.Option, word string) bool {
	return o.Key != "" && strings.EqualFold(word, o.Key) || slices.ContainsFunc(o.Also, func(x string) bool { return strings.EqualFold(word, x) })
}

func optionOf(q *script.Question, key string) script.Option {
	for _, o := range q.Options {
		if o.Key == key {
			return o
		}
	}
	return script.Option{}
}

// takesFree reports whether a line is free text for an answer that takes some: not a single letter, which is probably a
// typing error, and not a command.
func takesFree(q *script.Question, text string) bool {
	r := []rune(text)
	return q.Free != "" && len(r) > 0 && !isCommand(text) && (len(r) > 1 || !unicode.IsLetter(r[0]))
}

// begins reports whether a text is the beginning of an answer's words.
func begins(words, text string) bool {
	return len(text) > 1 && strings.HasPrefix(strings.ToLower(words), strings.ToLower(text))
}

// place asks for a site; one with a warning is typed twice.
func (w *work) place(q *script.Question) (script.Move, error) {
	var words []string
	for i, c := range q.Places.Choices {
		last := "not used before"
		if c.Last != nil {
			last = c.Ago + ", " + c.Last.Product
		}
		if words = append(words, fmt.Sprintf("%s (%s)", c.Place(), last)); i == 0 && q.Places.Proposed {
			words[i] = c.Place().String() + ", proposed (" + last + ")"
		}
	}
	warned := -1
	for {
		text, err := w.ask("%s %s; %s.", q.Ask, numbered(words), answersOf(q))
		if err != nil {
			return script.Move{}, err
		}
		i, ok := find(text, words)
		if !ok {
			if o, rest, more := chosen(q, text); more {
				return w.give(o, rest, q)
			}
			w.line("Not understood: type the number of an answer, 1 to %d.", len(words))
			continue
		}
		c := q.Places.Choices[i]
		if c.Warning == "" || warned == i {
			return q.Places.Chosen(c), nil
		}
		warned = i
		w.line("Caution: %s Type %d again to use it anyway.", c.Warning, i+1)
	}
}

// rail lists the pages of a rail and asks for the number of an answer.
func (w *work) rail(q *script.Question) (script.Move, error) {
	n := 0
	for i, p := range q.Rail.Pages {
		if p.Do == nil {
			continue
		}
		n = i + 1
		w.line("%d %s", n, p.Title)
		for _, t := range p.Body {
			w.sayText(t)
		}
	}
	for {
		text, err := w.ask("%s", q.Ask)
		if err != nil {
			return script.Move{}, err
		}
		if i, err := strconv.Atoi(text); err == nil && i >= 1 && i <= n {
			return q.Rail.Pages[i-1].Do(), nil
		}
		w.line("Not understood: a number from 1 to %d.", n)
	}
}

// notTaken writes that an answer is not saved, and why.
func (w *work) notTaken(why string) { w.line("Not saved: %s.", strings.TrimSuffix(why, ".")) }
