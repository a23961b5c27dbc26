package theme_test

import (
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"

	"loosebox/ranges"
	"loosebox/tui/theme"
)

// Each sign has one meaning, as our own sign and in ASCII, and none looks like a digit. Plus and minus before a number are
// not signs.
func TestASignHasOneMeaning(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		th := theme.New(theme.Plain, ascii)
		s := th.Sign
		seen := map[string]string{}
		for name, sign := range map[string]string{
			"caution": th.Letters(theme.Caution), "cursor": s.Cursor, "where the exam is": s.Now, "done": s.Done, "not done": s.NotDone, "to do": s.Left, "changed": s.Changed,
			"value of a plot": s.Point, "limit of a plot": s.Limit, "tell the vet": theme.Mark(ranges.LevelTell), "recheck": theme.Mark(ranges.LevelRecheck),
			"note": theme.Mark(ranges.LevelNote), "band": s.Band,
		} {
			assert.Empty(t, seen[sign], "%q is %s as well", sign, name)
			seen[sign] = name
			assert.Equal(t, 1, ansi.StringWidth(sign), name)
			assert.NotContains(t, "oO0lI1", sign, "%s looks like a digit", name)
			if ascii {
				assert.Less(t, sign[0], byte(0x80), name)
			}
		}
	}
}
