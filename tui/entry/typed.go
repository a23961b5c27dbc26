package entry

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// typed is one short line of characters that can stand in a number and its
// unit. All other letters stay the screen's.
type typed struct {
	text    string
	allowed string
	fresh   bool // prefilled and not yet touched: the first character replaces it
	cut     bool // of what was pasted last a part did not fit, or could not stand here
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

// pasteCut says that a paste did not come in whole; nil where it did.
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
