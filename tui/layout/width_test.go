package layout

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The quick way of measuring must say what the library says, of any text.
func TestWidthIsTheLibrarys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := rapid.SampledFrom([]string{
			"a", " ", "bay mare", "\x1b[1m", "\x1b[38;5;1m", "\x1b[m", "\x1b[", "\x1b", "\x1b[2J", "\x1b]0;x\x07", "│", "─", "█", "▟", "■", "│\u0301", "✓", "▸", "▴", "▪", "⣿", "⠀", "✓\u0301", "▸\ufe0f",
			"e\u0301", "é", "馬", "\u200d", "·", "±", "\x7f", "\t", "\xe2", "\xe2\x94", "\xe2\x97\xbf", "\u202e", "m", ";", "[",
		})
		text := strings.Join(rapid.SliceOfN(piece, 0, 12).Draw(t, "pieces"), "")
		require.Equal(t, ansi.StringWidth(text), width(text), "%q", text)
	})
}

func TestPadIsExact(t *testing.T) {
	for _, text := range []string{"", "bay", "\x1b[1mbay\x1b[m mare", "馬馬馬", "│ rule", strings.Repeat("w", 40)} {
		for _, wide := range []int{0, 1, 2, 3, 8, 30} {
			require.LessOrEqual(t, ansi.StringWidth(Pad(text, wide)), max(wide, 0), "%q in %d", text, wide)
			if wide > 2 && !strings.Contains(text, "馬") {
				require.Equal(t, wide, ansi.StringWidth(Pad(text, wide)), "%q in %d", text, wide)
			}
		}
	}
}
