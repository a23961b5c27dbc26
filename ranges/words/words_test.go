package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/ranges/words"
)

type gait string

const walk gait = "walk"

var gaits = words.New("test gait", map[gait]string{walk: "at a walk"})

func TestATableReadsInEnglishAndInTheLanguageInUse(t *testing.T) {
	assert.Equal(t, "at a walk", gaits.Of(walk))
	assert.Equal(t, "at a gallop", gaits.Of("at a gallop"), "a person's own words stand as they are")
	assert.Contains(t, words.English(), words.Line{Sort: "test gait", Key: "walk", Text: "at a walk"})

	defer words.Use(nil)
	words.Use(words.Language{"test gait": {"walk": "im Schritt"}})
	assert.Equal(t, "im Schritt", gaits.Of(walk))
	words.Use(words.Language{})
	assert.Equal(t, "at a walk", gaits.Of(walk), "what a language lacks is read in English")
}
