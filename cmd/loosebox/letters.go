package main

import (
	"os"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/text/unicode/norm"
)

// letters is a terminal that shows ASCII alone: every other sign becomes one or two
// that take the same room. What is written into files stays as it is.
type letters struct {
	*os.File
	cut []byte // the beginning of a sign whose rest comes with the next write
}

func (l *letters) Write(p []byte) (int, error) {
	in := append(l.cut, p...) //nolint:gocritic // cut is given up here
	l.cut = nil
	out := make([]byte, 0, len(in))
	for len(in) > 0 {
		if in[0] < utf8.RuneSelf {
			out, in = append(out, in[0]), in[1:]
			continue
		}
		if !utf8.FullRune(in) {
			l.cut = append([]byte(nil), in...)
			break
		}
		r, n := utf8.DecodeRune(in)
		out, in = append(out, asASCII(r)...), in[n:]
	}
	if _, err := l.File.Write(out); err != nil {
		return 0, err
	}
	return len(p), nil
}

// asASCII is a sign in ASCII, as wide as it was.
func asASCII(r rune) string {
	switch r {
	case '·', '–', '—', '−', '─', '━', '•':
		return "-"
	case '…':
		return "."
	case '²':
		return "2"
	case '³':
		return "3"
	case '°':
		return " " // a small o after a number reads as a zero
	case '±':
		return "~"
	case '×':
		return "x"
	case '÷':
		return "/"
	case '≤', '←', '‹':
		return "<"
	case '≥', '→', '›':
		return ">"
	case '↑', '▴':
		return "^"
	case '▪':
		return "#"
	case '↓':
		return "v"
	case '‘', '’':
		return "'"
	case '“', '”', '„':
		return "\""
	case '│', '┃':
		return "|"
	case 'µ', 'μ':
		return "u"
	case 'ß':
		return "s"
	case 'ø':
		return "o"
	case 'Ø':
		return "O"
	case 'ł':
		return "l"
	}
	if base := norm.NFD.String(string(r))[0]; base < utf8.RuneSelf {
		return string(rune(base))
	}
	return "????"[:min(max(ansi.StringWidth(string(r)), 0), 2)]
}
