package notation_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/notation"
)

func TestTheFirstLetterIsChangedWholeAndAlone(t *testing.T) {
	for text, want := range map[string][2]string{
		"": {"", ""}, "recheck": {"Recheck", "recheck"}, "Gum color": {"Gum color", "gum color"}, "éveil": {"Éveil", "éveil"}, "3 of 4": {"3 of 4", "3 of 4"},
	} {
		assert.Equal(t, want, [2]string{notation.Capital(text), notation.Uncapital(text)}, text)
	}
}
