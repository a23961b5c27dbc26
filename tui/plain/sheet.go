package plain

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
)

// numbered lists words with their numbers.
func numbered(words []string) string {
	list := make([]string, len(words))
	for i, x := range words {
		list[i] = fmt.Sprintf("%d %s", i+1, x)
	}
	return strings.Join(list, "; ")
}

// choose asks for one of a few answers, by its number or the beginning of its words.
func (w *work) choose(question string, words []string) (int, error) {
	for {
		text, err := w.ask("%s %s.", question, numbered(words))
		if err != nil {
			return 0, err
		}
		if i, ok := find(text, words); ok {
			return i, nil
		}
		w.line("Not understood: type the number of an answer, 1 to %d.", len(words))
	}
}

// find is the one answer that a text means.
func find(text string, words []string) (int, bool) {
	want := strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(want); err == nil {
		return n - 1, n >= 1 && n <= len(words)
	}
	at, hits := 0, 0
	for i, x := range words {
		if want != "" && strings.HasPrefix(strings.ToLower(x), want) {
			at, hits = i, hits+1
		}
	}
	return at, hits == 1
}

// findSize is the one size that a text means: "5" is 5 mL, and never the fifth.
func findSize(text string, words []string) (int, bool) {
	want := strings.ToLower(strings.Join(strings.Fields(text), ""))
	at, hits := 0, 0
	for i, x := range words {
		x = strings.ToLower(x)
		if size, _, _ := strings.Cut(x, " "); want == size {
			at, hits = i, hits+1
		}
		if want == strings.ReplaceAll(x, " ", "") {
			return i, true
		}
	}
	return at, hits == 1
}

// field asks one field; typed is what was typed for it already.
func (w *work) field(get func(string) string, put func(string, string), f order.Field, typed string) error {
	if f.Proposed != nil {
		put(f.Key, f.Proposed())
	}
	for {
		question, hint := f.Ask, hintOf(f, get(f.Key))
		if hint != "" {
			question += " (" + hint + ")"
		}
		if f.Choices != nil && !f.Counted {
			question += " " + listed(f.Choices) + "."
		}
		if now := get(f.Key); now != "" {
			question += " Enter alone: " + standing(f, now) + "."
		}
		text := typed
		if typed = ""; text == "" {
			var err error
			if text, err = w.ask("%s", question); err != nil {
				return err
			}
		}
		if w.codes && w.isCode(f, text) {
			w.code = text
			return errCode
		}
		text, err := meant(f, text, get(f.Key))
		if err == nil {
			err = f.Refused(text)
		}
		if err == nil {
			put(f.Key, text)
			if after := hintOf(f, text); after != hint && after != "" {
				w.line("%s.", notation.Capital(strings.TrimSuffix(after, ".")))
			}
			return nil
		}
		w.notTaken(err.Error())
	}
}

// standing is what stands in a field, in words.
func standing(f order.Field, text string) string {
	if f.Counted {
		return text
	}
	keys := []string{text}
	if f.Many {
		keys = strings.Split(text, ",")
	}
	for i, key := range keys {
		key = strings.TrimSpace(key)
		if at := slices.IndexFunc(f.Choices, func(c exam.Choice) bool { return c.Key == key }); at >= 0 {
			key = f.Choices[at].Words
		}
		keys[i] = key
	}
	return strings.Join(keys, ", ")
}

// hintOf is the hint of a field on one line.
func hintOf(f order.Field, text string) string {
	if f.Hint == nil {
		return ""
	}
	hint := strings.ReplaceAll(f.Hint(text), ".\n", ". ")
	return notation.CleanNote(strings.ReplaceAll(hint, "\n", "; "))
}

// meant is the answer that a line means for a field: a dash takes away what is there, and so does "none" where there may be several.
func meant(f order.Field, text, now string) (string, error) {
	text = notation.CleanLine(text, f.Limit)
	switch {
	case text == "":
		return now, nil
	case text == "-", f.Many && strings.EqualFold(text, "none"):
		return "", nil
	case f.Choices == nil || f.Counted:
		return text, nil
	}
	words := make([]string, len(f.Choices))
	for i, c := range f.Choices {
		words[i] = c.Words
	}
	find := find
	if exam.Sizes(f.Choices) {
		find = findSize
	}
	var keys []string
	for _, part := range strings.Split(text, ",") {
		i, ok := find(part, words)
		if !ok || len(keys) > 0 && !f.Many {
			return "", &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is none of: %s", notation.CleanLine(part, 40), listed(f.Choices))}
		}
		keys = append(keys, f.Choices[i].Key)
	}
	return strings.Join(keys, ","), nil
}

func listed(choices []exam.Choice) string {
	words := make([]string, len(choices))
	for i, c := range choices {
		if words[i] = c.Words; !exam.Sizes(choices) {
			words[i] = fmt.Sprintf("%d %s", i+1, c.Words)
		}
	}
	return strings.Join(words, "; ")
}

// form asks the fields of a form, one after the other, and waits for the key that
// alone does what it is for. What was typed before answers the first.
func (w *work) form(f *script.Form, typed string) (script.Move, error) {
	for _, field := range f.Fields {
		if field.Off() || field.Spare {
			continue
		}
		w.code, w.codes = "", f.Scan != nil
		err := w.field(f.To.Get, f.To.Put, field, typed)
		w.codes = false
		switch {
		case errors.Is(err, errCode):
			return f.Scan(w.code, w.known), nil
		case err != nil:
			return script.Move{}, err
		}
		typed = ""
	}
	for o := f.Only; o.Key != ""; {
		text, err := w.ask("Type %s when: %s. Or back.", o.Key, o.Words)
		if err != nil {
			return script.Move{}, err
		}
		if gives(o, text) {
			break
		}
	}
	return f.Done(), nil
}

// word asks a form of one field on one line: its word with the answer behind it, or
// the word alone for what stands there.
func (w *work) word(q *script.Question) (script.Move, error) {
	field := q.Form.Fields[0]
	for {
		text, err := w.ask("%s", q.Ask)
		if err != nil {
			return script.Move{}, err
		}
		head, rest, _ := strings.Cut(text, " ")
		if o, more, ok := chosen(q, text); ok {
			return w.give(o, more, q)
		}
		if !strings.EqualFold(head, q.Form.Word) {
			w.line("Nothing is saved: %s, or %s.", q.Form.Word, answersOf(q))
			continue
		}
		if rest = strings.TrimSpace(rest); rest == "" {
			rest = q.Form.To.Get(field.Key)
		}
		if err := field.Refused(rest); err != nil {
			w.notTaken(err.Error())
			continue
		}
		q.Form.To.Put(field.Key, rest)
		return q.Form.Done(), nil
	}
}
