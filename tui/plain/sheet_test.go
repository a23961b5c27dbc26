package plain

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure/order"
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

// "A vaccine against what? None for any other product." is answered as it asks.
func TestNoneIsAnAnswerWhereThereMayBeSeveral(t *testing.T) {
	f := order.Field{Key: order.Against, Limit: 40, Many: true, Choices: []exam.Choice{{Key: "tetanus", Words: "tetanus"}, {Key: "rabies", Words: "rabies"}}}
	for text, want := range map[string]string{"none": "", "None": "", "-": "", "": "tetanus", "rabies, tetanus": "rabies,tetanus"} {
		got, err := meant(f, text, "tetanus")
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	f.Many = false
	_, err := meant(f, "none", "tetanus")
	require.Error(t, err, "one of them is wanted")
}
