package rehearse

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/procedure"
	"loosebox/exam/steps"
)

// Whoever goes by the length of the options is right about as often as one who rolls a die: one in three.
func TestLengthDoesNotTellTheSafeOption(t *testing.T) {
	longest, shortest, all := 0.0, 0.0, 0
	for _, m := range moments() {
		safe := len([]rune(m.Options[0].Words))
		most, least := safe, safe
		for _, o := range m.Options {
			n := len([]rune(o.Words))
			most, least = max(most, n), min(least, n)
		}
		assert.LessOrEqual(t, most-least, 9, "%s: the options are of one length", m.ID)
		longest += guessed(m, most)
		shortest += guessed(m, least)
		all++
	}
	assert.Less(t, longest/float64(all), 0.4, "by the longest")
	assert.Less(t, shortest/float64(all), 0.4, "by the shortest")
}

// guessed is the chance that one who takes an option of a length takes the safe one.
func guessed(m DangerMoment, length int) float64 {
	same, safe := 0.0, 0.0
	for _, o := range m.Options {
		if len([]rune(o.Words)) == length {
			same++
			if o.Safe {
				safe++
			}
		}
	}
	return safe / same
}

// The caution that stands above a question does not hold its safe answer: they share one word of weight at most.
func TestNoCautionGivesTheSafeOptionAway(t *testing.T) {
	table := steps.Table()
	for _, m := range moments() {
		for _, id := range m.steps {
			step, _ := table.ByID(id)
			above := []string{step.Caution}
			for _, c := range procedure.Cautions() {
				if slices.Contains(c.Steps, id) && c.When == nil {
					above = append(above, strings.Join(c.Full, " "))
				}
			}
			for _, caution := range above {
				assert.LessOrEqual(t, shared(caution, m.Options[0].Words), 1, "%s at %s: %q, %q", m.ID, id, caution, m.Options[0].Words)
			}
		}
	}
}

// shared counts the words of four letters and more that stand in both texts.
func shared(caution, text string) int {
	words := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
	}
	have := map[string]bool{}
	for _, w := range words(caution) {
		have[w] = true
	}
	both := map[string]bool{}
	for _, w := range words(text) {
		if len(w) > 3 && have[w] {
			both[w] = true
		}
	}
	return len(both)
}
