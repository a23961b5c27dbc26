package notation

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// Lengths that a stored text may have, in characters. Longer text is cut and
// the caller says so.
const (
	MaxLine = 200
	MaxNote = 4000
)

// CleanLine makes text from outside safe to store and to draw on one line: no
// escape sequence, control or C1 character, bidi control, zero-width or tag
// character, private-use sign or invalid UTF-8 is left; white space becomes
// single spaces; at most limit characters stay (0 means MaxLine).
//
// The dangers are CWE-150 and CVE-2021-42574.
func CleanLine(text string, limit int) string {
	if limit <= 0 {
		limit = MaxLine
	}
	text = clean(text, limit)
	if !strings.Contains(text, "  ") && !strings.HasPrefix(text, " ") && !strings.HasSuffix(text, " ") {
		return text // clean leaves no other space
	}
	return strings.Join(strings.Fields(text), " ")
}

// CleanNote is CleanLine for a longer text: MaxNote characters.
func CleanNote(text string) string { return CleanLine(text, MaxNote) }

func clean(text string, limit int) string {
	if isPlainASCII(text) && len(text) <= limit {
		return text
	}
	// A cut before the work keeps ten megabytes of rubbish cheap.
	if len(text) > limit*16 {
		text = text[:limit*16]
	}
	text = ansi.Strip(strings.ToValidUTF8(text, "?"))
	var b strings.Builder
	n := 0
	runes := []rune(text)
	for i, r := range runes {
		if n >= limit {
			break
		}
		switch {
		case r == '\u200c' || r == '\u200d':
			if !joins(runes, i) || n+1 == limit {
				continue
			}
			b.WriteRune(r)
		case unicode.IsSpace(r), r == '\u2028', r == '\u2029':
			b.WriteByte(' ')
		case r == utf8.RuneError, dropped(r):
			continue
		default:
			b.WriteRune(r)
		}
		n++
	}
	return b.String()
}

// joins says whether a joiner at i stands between two letters of a script that needs
// it (Unicode, UAX #31, 2.3: Arabic and the scripts of India and its neighbours).
// Elsewhere it shows nothing, and makes two names that look alike.
func joins(text []rune, i int) bool {
	return i > 0 && i+1 < len(text) && needsJoiners(text[i-1]) && needsJoiners(text[i+1])
}

func needsJoiners(r rune) bool {
	return unicode.In(r, unicode.Arabic, unicode.Syriac, unicode.Mongolian, unicode.Nko, unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi,
		unicode.Gujarati, unicode.Oriya, unicode.Tamil, unicode.Telugu, unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Khmer, unicode.Myanmar)
}

// dropped says that a character can move the cursor, reorder or hide text.
func dropped(r rune) bool {
	switch {
	case unicode.Is(unicode.Cc, r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Co, r):
		return true
	case r >= 0x1F000: // pictures whose width terminals disagree about
		return true
	case r >= 0xFE00 && r <= 0xFE0F, unicode.Is(unicode.Me, r):
		return true
	case r == 0x034F, r == 0x115F, r == 0x1160, r == 0x2800, r == 0x3164, r == 0xFFA0: // drawn as nothing
		return true
	default:
		return false
	}
}

// Counted is a number with its noun: "1 day", "2 days".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

func isPlainASCII(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < 0x20 || c > 0x7e {
			return false
		}
	}
	return true
}

// IsName says that a text can be the name of a person or a horse: it holds a letter, which the digits that a reader of
// chips sends do not.
func IsName(text string) bool { return strings.ContainsFunc(text, unicode.IsLetter) }
