package export_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/export"
)

// OWASP, CSV injection: also the full-width forms are taken for a formula.
func TestEveryBeginningOfAFormulaIsDefused(t *testing.T) {
	for _, sign := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
		assert.Equal(t, "'"+sign+"1+1", export.Defuse(sign+"1+1"))
	}
	for _, text := range []string{"", "Bracken", "1-2", "a=b", "é"} {
		assert.Equal(t, text, export.Defuse(text))
	}
}
