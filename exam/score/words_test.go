package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/score"
	"loosebox/ranges"
	"loosebox/ranges/words"
)

// What other programs read of a score's items is the same in every language; a person reads the language in use.
func TestItemsAreReadInTheLanguageAndStoredInEnglish(t *testing.T) {
	heart := 52.0
	h := score.HydrationBand(score.HydrationSigns{Class: ranges.AdultLight, Heart: &heart})
	at := -1
	for i, item := range h.Items {
		if item.Name.String() == "heart rate" {
			at = i
		}
	}
	require.NotEqual(t, -1, at)
	defer words.Use(nil)
	words.Use(words.Language{"item of a score": {string(h.Items[at].Name): "Puls"}})
	assert.Equal(t, "Puls", h.Items[at].Name.String())
	assert.Equal(t, "heart rate", score.Lines([]score.Score{{Result: h.Result}})[0].Items[at].Name)
}
