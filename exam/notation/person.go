package notation

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// SameName says that two names differ in nothing but case, spaces, points, and who it is behind a comma.
func SameName(a, b string) bool {
	first := func(name string) []string {
		name, _, _ = strings.Cut(name, ",")
		return nameWords(name)
	}
	a, b = CleanLine(a, 0), CleanLine(b, 0)
	return a != "" && (strings.EqualFold(a, b) || len(first(a)) > 0 && slices.Equal(first(a), first(b)))
}

// AskWho is what is said of a name that may be a person's who must not be meant: "N Harrow", "Nell Harrow, who gives it",
// and what somebody else of that name may be, "groom".
func AskWho(name, person, as string) string {
	return fmt.Sprintf("%s may be %s; if it is somebody else, add who: %s, %s", name, person, name, as)
}

// MayBe says that a name may be of the person with another name: "N Harrow", "NH", "Nell", "NellHarrow" and "me" may be Nell
// Harrow, and Jurgen may be Jürgen. So may a name with one slip of the keyboard: "Nel Harrow", "N Harow". It is not where words behind a comma say who it is: "N Harrow, groom". The same name
// (SameName) always is.
func MayBe(name, person string) bool {
	if SameName(name, person) {
		return true
	}
	name, who, _ := strings.Cut(name, ",")
	person, _, _ = strings.Cut(person, ",")
	name, who, person = plainLetters(name), plainLetters(who), plainLetters(person)
	a, b := nameWords(name), nameWords(person)
	switch {
	case len(a) == 0 || len(b) == 0:
		return false
	case len(nameWords(who)) > 0 && !within(nameWords(who), b): // "Harrow, N." says no more
		return false
	case slices.Contains([]string{"me", "myself", "self", "same"}, strings.Join(a, " ")):
		return true
	}
	a = append(a, nameWords(who)...)
	if slip(together(a), together(b), 6) || slip(together(a), together(turned(b)), 6) {
		return true
	}
	return within(a, b) || within(b, a) || within(letters(a), b) || within(letters(b), a)
}

func together(words []string) string { return strings.Join(words, "") }

func turned(words []string) []string {
	words = slices.Clone(words)
	slices.Reverse(words)
	return words
}

// plainLetters is a text in small letters without their marks, and ae, oe and ue as a keyboard without them writes ä, ö and ü.
func plainLetters(text string) string {
	text = strings.Map(func(r rune) rune {
		switch plain, marked := unmarked[r]; {
		case unicode.Is(unicode.Mn, r): // a mark that is a sign of its own
			return -1
		case marked:
			return plain
		}
		return r
	}, strings.ToLower(text))
	return strings.NewReplacer("ae", "a", "oe", "o", "ue", "u", "æ", "a", "œ", "o", "ß", "ss").Replace(text)
}

// unmarked are the letters of Latin alphabets that carry a mark, each with the letter below it.
var unmarked = func() map[rune]rune {
	out := map[rune]rune{}
	for plain, marked := range map[rune]string{
		'a': "áàâäãåāăą", 'c': "çćĉčċ", 'd': "ďđ", 'e': "éèêëēĕėęě", 'g': "ĝğġģ", 'h': "ĥħ", 'i': "íìîïĩīĭįı", 'j': "ĵ", 'k': "ķ", 'l': "ĺļľł",
		'n': "ñńņň", 'o': "óòôöõøōŏő", 'r': "ŕŗř", 's': "śŝşšș", 't': "ţťŧț", 'u': "úùûüũūŭůűų", 'w': "ŵ", 'y': "ýÿŷ", 'z': "źżž",
	} {
		for _, r := range marked {
			out[r] = plain
		}
	}
	return out
}()

// nameWords are the words of a name in small letters, without points and hyphens.
func nameWords(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
}

// letters are initials that were typed as one word; otherwise the words as they are.
func letters(words []string) []string {
	if len(words) != 1 || len([]rune(words[0])) > 3 {
		return words
	}
	return strings.Split(words[0], "")
}

// within says that every word stands in the other name, one of them for one letter.
func within(few, many []string) bool {
	left := slices.Clone(many)
	for _, fits := range []func(a, b string) bool{
		func(a, b string) bool { return a == b },
		initial,
		func(a, b string) bool { return slip(a, b, 5) },
	} {
		few = slices.DeleteFunc(slices.Clone(few), func(word string) bool {
			at := slices.IndexFunc(left, func(other string) bool { return fits(word, other) })
			if at >= 0 {
				left = slices.Delete(left, at, at+1)
			}
			return at >= 0
		})
	}
	return len(few) == 0
}

// slip says that two texts are the same, or that both have some letters and one of them is a letter more, less or other, or
// two that changed places.
func slip(a, b string, letters int) bool {
	x, y := []rune(a), []rune(b)
	if min(len(x), len(y)) < letters {
		return a == b
	}
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	return max(len(x), len(y)) <= 1 || len(x) == 2 && len(y) == 2 && x[0] == y[1] && x[1] == y[0]
}

// initial says that one of two words is the first letter of the other.
func initial(a, b string) bool {
	one := min(len([]rune(a)), len([]rune(b))) == 1
	return one && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}
