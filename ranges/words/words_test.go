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
	assert.Contains(t, words.English(), words.Phrase{Sort: "test gait", Key: "walk", Text: "at a walk"})

	defer words.Use(nil)
	words.Use(words.Language{"test gait": {"walk": "im Schritt"}})
	assert.Equal(t, "im Schritt", gaits.Of(walk))
	words.Use(words.Language{})
	assert.Equal(t, "at a walk", gaits.Of(walk), "what a language lacks is read in English")
}

type tack struct {
	Key   string
	Title string   `words:"title"`
	How   []string `words:"how"`
	Count int
	None  string `words:"none"`
}

var tacks = words.Rows("test tack", func(t tack) string { return t.Key }, func() []tack {
	return []tack{{Key: "halter", Title: "Halter", How: []string{"Over the ears.", "Buckle it."}}, {Key: "rope", Title: "Rope"}}
})

func TestRowsReadInEnglishAndInTheLanguageInUse(t *testing.T) {
	assert.Equal(t, "Halter", tacks()[0].Title)
	assert.Contains(t, words.English(), words.Phrase{Sort: "test tack", Key: "halter how 2", Text: "Buckle it."})
	assert.NotContains(t, words.English(), words.Phrase{Sort: "test tack", Key: "rope none"}, "an empty text is none")

	defer words.Use(nil)
	words.Use(words.Language{"test tack": {"halter title": "Halfter", "halter how 2": "Schließen."}})
	assert.Equal(t, tack{Key: "halter", Title: "Halfter", How: []string{"Over the ears.", "Schließen."}}, tacks()[0])
	assert.Equal(t, "Rope", tacks()[1].Title, "what a language lacks is read in English")
	words.Use(nil)
	assert.Equal(t, []string{"Over the ears.", "Buckle it."}, tacks()[0].How, "English is as it was")
}
