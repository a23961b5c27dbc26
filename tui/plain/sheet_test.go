package plain

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestASizeIsNeverTheNumberOfALine(t *testing.T) {
	sizes := []string{"1 mL", "1 mL tuberculin", "3 mL", "5 mL", "6 mL", "35 mL"}
	for text, want := range map[string]string{
		"5": "5 mL", "3": "3 mL", "35": "35 mL", "5 mL": "5 mL", "5ML": "5 mL", "1 mL": "1 mL", "1 mL tuberculin": "1 mL tuberculin",
		"1": "", "2": "", "4": "", "": "", "m": "",
	} {
		i, ok := findSize(text, sizes)
		assert.Equal(t, want != "", ok, text)
		if ok {
			assert.Equal(t, want, sizes[i], text)
		}
	}
}
