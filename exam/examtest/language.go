package examtest

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"loosebox/ranges/words"
)

// marked writes a text with accents that no English text has, as wide as it was.
func marked(text string) string {
	return strings.NewReplacer("a", "á", "e", "é", "i", "í", "o", "ó", "u", "ú", "y", "ý", "c", "ç", "A", "Á", "E", "É", "I", "Í", "O", "Ó", "U", "Ú", "Y", "Ý", "C", "Ç").Replace(text)
}

// MarkedWords is a language in which every text of every table is marked.
func MarkedWords() words.Language {
	l := words.Language{}
	for _, line := range words.English() {
		if l[line.Sort] == nil {
			l[line.Sort] = map[string]string{}
		}
		l[line.Sort][line.Key] = marked(line.Text)
	}
	return l
}

// stands says where a text stands in another as whole words; empty for nowhere.
func stands(in, text string) string {
	for from := 0; ; {
		i := strings.Index(in[from:], text)
		if i < 0 {
			return ""
		}
		i += from
		before, _ := utf8.DecodeLastRuneInString(in[:i])
		after, _ := utf8.DecodeRuneInString(in[i+len(text):])
		if !unicode.IsLetter(before) && !unicode.IsLetter(after) {
			return in[max(0, i-40):min(len(in), i+len(text)+40)]
		}
		from = i + len(text)
	}
}

// Leaks are the keys and texts of tables that stand in a text as if it were English, each with what is around it. A table
// is looked for where it has words that sentences of the program use as well, or where its texts are sentences.
func Leaks(low string, spared map[string]string) (out []string) {
	for _, line := range words.English() {
		spare, keyed := spared[line.Sort]
		for _, c := range []string{line.Key, line.Text} {
			c = strings.ToLower(c)
			if sentence := c != strings.ToLower(line.Key) && strings.Count(c, " ") > 3; !keyed && !sentence {
				continue
			}
			if len(c) < 3 || marked(c) == c || stands(spare, c) != "" {
				continue
			}
			if at := stands(low, c); at != "" {
				out = append(out, line.Sort+": "+c+": ... "+at)
			}
		}
	}
	return out
}
