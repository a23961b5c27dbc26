// Package layout divides the window into rectangles, and cuts, pads and wraps text to widths in columns. All functions are
// pure.
package layout

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// The smallest window, in columns and lines, that the program draws in.
const (
	MinWidth  = 60
	MinHeight = 20
)

// Size is a rectangle in columns and rows.
type Size struct{ W, H int }

// Small reports whether the window is below MinWidth by MinHeight.
func (s Size) Small() bool { return s.W < MinWidth || s.H < MinHeight }

// Rail divides the width for an exam: rail columns for the order of steps at the left, body for the rest, and one column
// for the rule between them.
func (s Size) Rail() (rail, body int) {
	switch {
	case s.W < 76:
		rail = 20
	case s.W < 110:
		rail = 22
	default:
		rail = 30
	}
	return rail, s.W - rail - 3
}

// width is the width of a text in columns. It is fast for ASCII and our own signs, which is most of what is drawn.
func width(text string) int {
	n := 0
	for i := 0; i < len(text); {
		switch c := text[i]; {
		case c >= 0x20 && c <= 0x7e:
			n++
			i++
		case c == 0x1b: // a colour: ESC [ numbers m
			end := i + 2
			for end < len(text) && (text[end] >= '0' && text[end] <= '9' || text[end] == ';') {
				end++
			}
			if end >= len(text) || text[i+1] != '[' || text[end] != 'm' {
				return ansi.StringWidth(text)
			}
			i = end + 1
		case c == 0xe2 && i+2 < len(text) && text[i+1] >= 0x94 && text[i+1] <= 0x96 && text[i+2] >= 0x80 && text[i+2] <= 0xbf && text[i:i+3] <= lastBlock:
			n++ // rules and blocks, U+2500 to U+259F
			i += 3
		case ownSign(text[i:]) || c == 0xe2 && i+2 < len(text) && text[i+1] >= 0xa0 && text[i+1] <= 0xa3 && text[i+2] >= 0x80 && text[i+2] <= 0xbf:
			n++ // our own signs, and braille
			i += 3
		default:
			return ansi.StringWidth(text)
		}
	}
	return n
}

// ownSign reports whether a text begins with one of our own signs, each a column wide: ✓ ▸ ▴ ▪.
func ownSign(text string) bool {
	for _, sign := range [...]string{"✓", "▸", "▴", "▪"} {
		if strings.HasPrefix(text, sign) {
			return true
		}
	}
	return false
}

// lastBlock is the last of the rules and blocks that are one column wide.
const lastBlock = "\u259f"

// Cut shortens one line to wide columns, with ".." at the cut.
func Cut(text string, wide int) string {
	if wide <= 0 {
		return ""
	}
	if width(text) <= wide {
		return text
	}
	if wide <= 2 {
		return ansi.Truncate(text, wide, "")
	}
	return ansi.Truncate(text, wide, "..")
}

// Whole shortens one line to its first sentences that fit in wide columns; where not even the first one fits, it is Cut.
func Whole(text string, wide int) string {
	for whole := text; width(whole) > wide; {
		end := strings.LastIndex(strings.TrimSuffix(whole, "."), ". ")
		if end < 0 {
			return Cut(text, wide)
		}
		whole = whole[:end+1]
		if width(whole) <= wide {
			return whole
		}
	}
	return text
}

// Pad cuts one line, or fills it with blanks at the right, to exactly wide columns.
func Pad(text string, wide int) string {
	have := width(text)
	if have > wide {
		text = Cut(text, wide)
		have = width(text)
	}
	if have < wide {
		return text + strings.Repeat(" ", wide-have)
	}
	return text
}

// PadLeft cuts one line, or fills it with blanks at the left, to exactly wide columns.
func PadLeft(text string, wide int) string {
	text = Cut(text, wide)
	if n := wide - width(text); n > 0 {
		return strings.Repeat(" ", n) + text
	}
	return text
}

// Ends puts one text at the left and one at the right of a line of wide columns; the left one is cut where both do not
// fit.
func Ends(left, right string, wide int) string {
	right = Cut(right, wide)
	room := wide - width(right)
	if right != "" {
		room--
	}
	if room <= 0 {
		return Pad(right, wide)
	}
	if right == "" {
		return Pad(left, wide)
	}
	return Pad(left, room) + " " + right
}

// Wrap breaks a text at blanks into lines of at most width columns. A date or a span of numbers with hyphens is not broken.
func Wrap(text string, width int) []string {
	if width <= 0 || text == "" {
		return nil
	}
	var out []string
	for _, line := range strings.Split(ansi.Wrap(joined(text), width, ""), "\n") {
		line = strings.ReplaceAll(line, joint, "-")
		if ansi.StringWidth(line) > width { // Wrap lets a word behind a space run over
			out = append(out, strings.Split(ansi.Hardwrap(line, width, true), "\n")...)
			continue
		}
		out = append(out, line)
	}
	return out
}

// WrapTo is Wrap to at most most lines; the last one ends with ".." where more would follow.
func WrapTo(text string, width, most int) []string {
	lines := Wrap(text, width)
	if len(lines) <= most {
		return lines
	}
	if most <= 0 {
		return nil
	}
	return append(lines[:most-1], Cut(lines[most-1]+"..", width))
}

// joint replaces a hyphen at which no line may be broken: it has one column, and no text of a record contains it, because
// private characters are removed from them.
const joint = "\ue02d"

// joined puts the joint between digits.
func joined(text string) string {
	if strings.IndexByte(text, '-') < 0 {
		return text
	}
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	var out strings.Builder
	for i := range len(text) {
		if text[i] == '-' && digit(i-1) && digit(i+1) {
			out.WriteString(joint)
			continue
		}
		out.WriteByte(text[i])
	}
	return out.String()
}

// Fit makes a block of exactly s.H lines of s.W columns: longer lines are cut, missing ones are blank.
func Fit(lines []string, s Size) []string {
	out := make([]string, s.H)
	for i := range out {
		if i < len(lines) {
			out[i] = Pad(lines[i], s.W)
		} else {
			out[i] = strings.Repeat(" ", max(s.W, 0))
		}
	}
	return out
}

// Beside joins two blocks of equal height line by line with a rule between.
func Beside(left, right []string, rule string) []string {
	n := min(len(left), len(right))
	out := make([]string, n)
	for i := range n {
		out[i] = left[i] + rule + right[i]
	}
	return out
}

// Window returns the index of the first of count lines to show in height lines so that the cursor is visible, given the
// first one shown before.
func Window(first, cursor, count, height int) int {
	if height <= 0 || count <= height {
		return 0
	}
	if cursor < first {
		first = cursor
	}
	if cursor >= first+height {
		first = cursor - height + 1
	}
	return min(max(first, 0), count-height)
}

// Lines splits a text at line ends.
func Lines(text string) []string { return strings.Split(text, "\n") }
