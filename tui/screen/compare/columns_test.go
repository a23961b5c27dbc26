package compare_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// At every width a row of numbers says their unit.
func TestARowOfNumbersHasItsUnit(t *testing.T) {
	files, err := filepath.Glob("../../../testdata/screens/compare-[0-9]*.txt")
	require.NoError(t, err)
	name := regexp.MustCompile(`^[> ] ([a-z].*?)(  | \d)`)
	numbers := regexp.MustCompile(` [?!~]?\d+(\.\d+)?\*?( |$)`)
	unit := regexp.MustCompile(` (C|F|/min|kg|lb|s|mm|cm|in)( |$)`)
	rows := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			if m := name.FindStringSubmatch(line); m != nil && numbers.MatchString(line) && !strings.Contains(line, " of ") {
				rows++
				assert.Regexp(t, unit, m[1], "%s: %s", file, line)
			}
		}
	}
	require.Greater(t, rows, 5)
}
