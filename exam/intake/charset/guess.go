package charset

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
)

// near is how close, in points a sign, two readings must be to be asked about.
const near = 0.34

// candidates are the sets of one byte that are tried, the likeliest first.
func candidates() []Name { return []Name{Windows1252, MacRoman, DOS437, DOS850, Windows1250} }

// guess reads bytes in each set of one byte and keeps the reading that makes words. Of what only ASCII
// holds all sets read the same, so just the words with other signs are looked at.
func guess(data []byte) Decoded {
	words := foreign(data)
	var all []reading
	for _, n := range candidates() {
		all = append(all, read(words, n))
	}
	best := all[0]
	for _, s := range all[1:] {
		if s.sum > best.sum {
			best = s
		}
	}
	var rivals []reading
	for _, s := range all {
		if s.name != best.name && best.ahead(s, words) <= near {
			rivals = append(rivals, s)
		}
	}
	for i, w := range words {
		readings := []Candidate{{best.name, w.line, best.words[i]}}
		for _, s := range rivals {
			if !has(readings, s.words[i]) {
				readings = append(readings, Candidate{s.name, w.line, s.words[i]})
			}
		}
		if len(readings) > 1 {
			return Decoded{Doubt: readings}
		}
	}
	t, err := as(data, best.name)
	if err != nil || len(words) == 0 {
		return t
	}
	t.Said = fmt.Sprintf("the letters are read as %s: line %d has %s", best.name, words[0].line, best.words[0])
	return t
}

func has(list []Candidate, word string) bool {
	for _, r := range list {
		if r.Word == word {
			return true
		}
	}
	return false
}

// reading is every word with other signs in one character set, and how well each reads.
type reading struct {
	name   Name
	words  []string
	points []float64
	sum    float64
}

func read(words []word, n Name) reading {
	s := reading{name: n}
	for _, w := range words {
		text, err := decoder(n).Bytes(w.bytes)
		p := -2.0 * float64(w.signs)
		if err == nil {
			p = points([]rune(string(text)))
		}
		s.words, s.points, s.sum = append(s.words, string(text)), append(s.points, p), s.sum+p
	}
	return s
}

// ahead is by how many points a sign a reading is better than another, over the words in which they differ;
// much where they differ in none.
func (s reading) ahead(other reading, words []word) float64 {
	sum, signs := 0.0, 0
	for i, w := range words {
		if s.words[i] != other.words[i] {
			sum += s.points[i] - other.points[i]
			signs += w.signs
		}
	}
	if signs == 0 {
		return near + 1
	}
	return sum / float64(signs)
}

// word is a stretch between blanks and separators that holds signs beyond ASCII.
type word struct {
	bytes []byte
	line  int
	signs int
}

// foreign lists the words with signs beyond ASCII, each once, the first few hundred.
func foreign(data []byte) []word {
	var out []word
	seen := map[string]bool{}
	line, from := 1, 0
	flush := func(to int) {
		w := word{bytes: data[from:to], line: line}
		for _, c := range w.bytes {
			if c >= 0x80 {
				w.signs++
			}
		}
		if w.signs > 0 && !seen[string(w.bytes)] && len(out) < 400 && len(w.bytes) < 200 {
			seen[string(w.bytes)] = true
			out = append(out, w)
		}
	}
	for i, c := range data {
		if c == '\n' || c == '\r' || bytes.IndexByte([]byte(",;\t\" "), c) >= 0 {
			flush(i)
			from = i + 1
			if c == '\n' || c == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
				line++
			}
		}
	}
	flush(len(data))
	return out
}

// common are the letters with marks that western and central European names use most.
const common = "äöüßéèêëàâçñóíáúôîïøåæœÄÖÜÉÈÀÇÑØÅÆ"

// points says how well a word reads: letters beside letters, a degree or a half after a digit, money at a number and
// quotes at the edge of a word count for it; control signs and signs within words count against it.
func points(w []rune) float64 {
	sum := 0.0
	for i, r := range w {
		if r < 0x80 {
			continue
		}
		before, after := at(w, i-1), at(w, i+1)
		switch {
		case r == unicode.ReplacementChar || unicode.IsControl(r):
			sum -= 2
		case unicode.IsLetter(r):
			sum += letter(r, before, after)
		case (r == '°' || r == 'º' || r == '½' || r == '¼' || r == '¾' || r == '²' || r == '±') && (unicode.IsDigit(before) || before == 0 && unicode.IsDigit(after)):
			sum++
		case (r == '½' || r == '¼' || r == '¾') && before == 0 && after == 0: // half a bucket
			sum += 0.8
		case (r == '£' || r == '€') && (unicode.IsDigit(before) || unicode.IsDigit(after)):
			sum++
		case r == '’' && unicode.IsLetter(before) && unicode.IsLetter(after):
			sum++
		case strings.ContainsRune("‘’“”„–—…•«»‹›", r) && (before == 0 || after == 0):
			sum += 0.8
		case r == '\u00a0':
			sum += 0.5
		case unicode.IsLetter(before) || unicode.IsLetter(after):
			sum -= 1.5
		default:
			sum -= 0.5
		}
	}
	return sum
}

func letter(r, before, after rune) float64 {
	beside := unicode.IsLetter(before) || unicode.IsLetter(after) || (before == 0 && after == 0)
	if !beside || unicode.IsDigit(before) || unicode.IsDigit(after) {
		return -1
	}
	if unicode.IsUpper(r) && unicode.IsLower(before) { // a capital within a word
		return -1
	}
	if !unicode.Is(unicode.Latin, r) {
		return -1
	}
	if strings.ContainsRune(common, r) {
		return 1
	}
	return 0.4
}

func at(w []rune, i int) rune {
	if i < 0 || i >= len(w) {
		return 0
	}
	return w[i]
}
