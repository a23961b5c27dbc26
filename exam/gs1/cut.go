package gs1

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Element is one identifier with its value, 10 and A1B2.
type Element struct{ AI, Value string }

// value takes the value of an identifier out of the text behind it: as long as it is
// fixed, else all of it.
func (s spec) value(ai, text string, now time.Time) (value, rest string, err error) {
	value = text
	if n := s.digits; s.fixed {
		if len(text) < n {
			return "", "", fmt.Errorf("what stands behind (%s) is cut off: scan it again", ai)
		}
		value, rest = text[:n], text[n:]
	}
	return value, rest, s.check(ai, value, now)
}

// check says what is wrong with a whole value.
func (s spec) check(ai, value string, now time.Time) error {
	if len(value) < s.digits+s.min {
		return fmt.Errorf("what stands behind (%s) is cut off: scan it again", ai)
	}
	if len(value) > s.digits+s.max {
		return fmt.Errorf("(%s) has %d characters, more than the %d that it can have", ai, len(value), s.digits+s.max)
	}
	first, rest := value[:s.digits], value[s.digits:]
	if first != "" && !allDigits(first) || s.rest == numbers && rest != "" && !allDigits(rest) {
		return fmt.Errorf("(%s) has other signs than digits", ai)
	}
	if s.sum && !sums(first) {
		return fmt.Errorf("the check digit of (%s) %s is wrong: the code was misread, or is damaged. Scan it again", ai, first)
	}
	if s.dated {
		if _, err := date(first[:6], s.fixed || ai == "4324" || ai == "4325", now); err != nil {
			return fmt.Errorf("(%s) %s: %w", ai, first[:6], err)
		}
	}
	return nil
}

// whole reads the parts between separators, each value as long as it can be.
func whole(parts []string, now time.Time) ([]Element, error) {
	var out []Element
	for _, text := range parts {
		for text != "" {
			ai, s, ok := identifier(text)
			if !ok {
				return out, fmt.Errorf("%q begins with no identifier of GS1", short(text))
			}
			value, rest, err := s.value(ai, text[len(ai):], now)
			if err != nil {
				return out, err
			}
			if at := slices.IndexFunc(out, func(e Element) bool { return e.AI == ai }); at >= 0 && out[at].Value != value {
				return out, fmt.Errorf("(%s) is there twice: %s and %s", ai, out[at].Value, value)
			} else if at < 0 {
				out = append(out, Element{ai, value})
			}
			text = rest
		}
	}
	return out, nil
}

// mostCuts ends the search: a code that can be read in more ways is typed by hand.
const mostCuts = 8

// cuts are the ways to read a text whose separators were lost: a value may end
// wherever an identifier of packages of medicines can follow. The whole reading, if
// there is one, comes first.
func cuts(text string, now time.Time) [][]Element {
	var out [][]Element
	var go1 func(had []Element, text string)
	go1 = func(had []Element, text string) {
		if len(out) > mostCuts {
			return
		}
		if text == "" {
			out = append(out, slices.Clone(had))
			return
		}
		ai, s, ok := identifier(text)
		if !ok || slices.ContainsFunc(had, func(e Element) bool { return e.AI == ai }) {
			return
		}
		behind := text[len(ai):]
		if s.fixed {
			if value, rest, err := s.value(ai, behind, now); err == nil {
				go1(append(had, Element{ai, value}), rest)
			}
			return
		}
		for n := min(len(behind), s.digits+s.max); n >= max(s.digits+s.min, 1); n-- {
			if next, follows, known := identifier(behind[n:]); n < len(behind) && (!known || !follows.cut || next == ai) {
				continue
			}
			if s.check(ai, behind[:n], now) == nil {
				go1(append(had, Element{ai, behind[:n]}), behind[n:])
			}
		}
	}
	go1(nil, text)
	return out
}

// bracketed reads the form of print, (01)…(17)…: a bracket inside a value is legal, so
// that it is parted only before an identifier that is known.
func bracketed(text string, now time.Time) ([]Element, error) {
	var parts []string
	for text != "" {
		at := strings.IndexByte(text, ')')
		if at < 0 || text[0] != '(' {
			return nil, fmt.Errorf("%q begins with no identifier of GS1", short(text))
		}
		ai, next := text[1:at], len(text)
		if known, _, ok := identifier(ai); !ok || known != ai {
			return nil, fmt.Errorf("(%s) is no identifier of GS1", short(ai))
		}
		for i := at + 1; i < len(text); i++ {
			end := strings.IndexByte(text[i:], ')')
			if text[i] != '(' || end < 3 {
				continue
			}
			inside := text[i+1 : i+end]
			if known, _, ok := identifier(inside); ok && known == inside {
				next = i
				break
			}
		}
		parts = append(parts, ai+text[at+1:next])
		text = text[next:]
	}
	return whole(parts, now)
}

func short(text string) string {
	if len(text) > 12 {
		return text[:12] + ".."
	}
	return text
}
