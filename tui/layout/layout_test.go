package layout_test

import (
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

// Whatever the text, a line is exactly as wide as was asked.
func TestLinesAreAsWideAsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, right := rapid.String().Draw(t, "text"), rapid.StringN(0, 20, -1).Draw(t, "right")
		width := rapid.IntRange(0, 200).Draw(t, "width")
		text, right = clean(text), clean(right)
		for _, line := range []string{layout.Pad(text, width), layout.PadLeft(text, width), layout.Ends(text, right, width)} {
			if got := ansi.StringWidth(line); got != width {
				t.Fatalf("%q is %d wide, not %d", line, got, width)
			}
		}
		if w := ansi.StringWidth(layout.Cut(text, width)); w > width {
			t.Fatalf("cut to %d, is %d", width, w)
		}
		width = max(width, 2) // a wide sign needs two columns
		for _, line := range layout.Wrap(text, width) {
			if w := ansi.StringWidth(line); w > width {
				t.Fatalf("wrapped to %d, %q is %d", width, line, w)
			}
		}
	})
}

// clean keeps what the record can hold, and no combining marks: one at the
// beginning joins whatever stands before it, and the sum of widths is off by that.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.M, r) || unicode.Is(unicode.Cf, r) || r == 0xff9e || r == 0xff9f { // the last two join as marks do
			return -1
		}
		return r
	}, notation.CleanLine(text, 0))
}

func TestWholeSentencesStay(t *testing.T) {
	text := "Nobody decided yet. Hand off first. Then write it down."
	for wide, want := range map[int]string{
		60: text, 55: text, 54: "Nobody decided yet. Hand off first.", 34: "Nobody decided yet.", 19: "Nobody decided yet.", 18: "Nobody decided y..", 0: "",
	} {
		assert.Equal(t, want, layout.Whole(text, wide), wide)
	}
	assert.Equal(t, "one wor..", layout.Whole("one word and no end", 9))
}

func TestTheCursorIsAlwaysInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count, height := rapid.IntRange(1, 500).Draw(t, "count"), rapid.IntRange(1, 60).Draw(t, "height")
		first, cursor := rapid.IntRange(0, 500).Draw(t, "first"), rapid.IntRange(0, count-1).Draw(t, "cursor")
		got := layout.Window(first, cursor, count, height)
		if got < 0 || cursor < got || cursor >= got+height {
			t.Fatalf("window %d..%d does not hold %d", got, got+height, cursor)
		}
		if count > height && got+height > count {
			t.Fatalf("window %d..%d runs past %d", got, got+height, count)
		}
	})
}

// The arrangement of an exam at the three sizes of the golden screens.
func TestRailAndBodyFillTheWindow(t *testing.T) {
	for _, c := range []struct{ w, rail, body int }{{60, 20, 37}, {80, 22, 55}, {120, 30, 87}} {
		rail, body := layout.Size{W: c.w, H: 24}.Rail()
		assert.Equal(t, c.rail, rail)
		assert.Equal(t, c.body, body)
		assert.Equal(t, c.w, rail+3+body)
	}
}

func TestBlocksJoinLineByLine(t *testing.T) {
	left := layout.Fit([]string{"a", "bb"}, layout.Size{W: 3, H: 3})
	right := layout.Fit([]string{"c"}, layout.Size{W: 2, H: 3})
	assert.Equal(t, []string{"a  |c ", "bb |  ", "   |  "}, layout.Beside(left, right, "|"))
}

func TestWrapKeepsDatesWhole(t *testing.T) {
	assert.Equal(t, []string{"seen on", "2026-11-25,", "8-16 /min", "of a two-", "year-old"}, layout.Wrap("seen on 2026-11-25, 8-16 /min of a two-year-old", 11))
	assert.Equal(t, []string{"-5 and 3-"}, layout.Wrap("-5 and 3-", 11))
}

func TestWrapTo(t *testing.T) {
	assert.Equal(t, []string{"one two", "three.."}, layout.WrapTo("one two three four five", 7, 2))
	assert.Equal(t, []string{"one two"}, layout.WrapTo("one two", 7, 2))
	assert.Empty(t, layout.WrapTo("one two three", 7, 0))
}

// A line that was cut is not cut again: it does not end with dots twice.
func TestWrapToCutsOnce(t *testing.T) {
	assert.Equal(t, []string{"work, thirty to f.."}, layout.WrapTo("work, thirty to for minutes", 19, 1))
	assert.Equal(t, []string{"back within 15 % of", "rest by 15 min.."}, layout.WrapTo("back within 15 % of rest by 15 min after light work", 19, 2))
}
