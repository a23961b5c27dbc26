package entry

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// typed is a short line that accepts only characters of a number and its unit. It ignores all other letters, so that the
// screen can use them.
type typed struct {
	text    string
	allowed string
	fresh   bool // prefilled and not yet touched: the first character replaces it
	cut     bool // part of the last paste did not fit or is not allowed here
}

// Characters of a number with a unit of the exam, and of a bare number. The
// letters are those of C, F, kg, lb, cm and in.
const (
	numberSigns = "0123456789.,+-"
	unitSigns   = "cfkglbinmCFKGLBINM"
	digitSigns  = "0123456789"
	heightSigns = "hH'\"" // hands, feet and inches
)

const mostTyped = 16

// press takes a character, pasted text or backspace. Pasted text is cleaned and
// what cannot stand here is left out.
func (l *typed) press(p keys.Press) bool {
	l.cut = false
	if keys.TakeBack().Is(p) {
		if l.text == "" {
			return false
		}
		l.text, l.fresh = l.text[:len(l.text)-1], false
		return true
	}
	text, ok := keys.Text(p)
	if !ok {
		return false
	}
	if p.Paste {
		whole := notation.CleanLine(text, 0)
		text = strings.Map(l.only, notation.CleanLine(text, mostTyped*2))
		l.cut = text != strings.ReplaceAll(whole, " ", "") || len(text) > mostTyped
	}
	if text == "" || strings.Map(l.only, text) != text {
		return p.Paste
	}
	if l.fresh {
		l.text, l.fresh = "", false
	}
	if len(l.text)+len(text) <= mostTyped {
		l.text += text
	} else {
		l.cut = l.cut || p.Paste
	}
	return true
}

// pasteCut is a sentence where part of the last paste was left out; nil otherwise.
func (l *typed) pasteCut() error {
	if !l.cut {
		return nil
	}
	return fmt.Errorf("the pasted text did not fit (at most %d characters): check it", mostTyped)
}

func (l *typed) only(r rune) rune {
	if strings.ContainsRune(l.allowed, r) {
		return r
	}
	return -1
}
