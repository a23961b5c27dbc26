package steps

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Every step says by which sense it is answered, and what to mind; only a step that is done from outside has no caution.
func TestEveryStepHasItsSenseAndItsCaution(t *testing.T) {
	for _, s := range Table().All() {
		assert.Contains(t, []exam.Sense{exam.ByEye, exam.ByEar, exam.ByHand}, s.Sense, "%s: Sense", s.ID)
		assert.NotEqual(t, s.FromOutside, s.Caution != "", "%s: a Caution, or FromOutside", s.ID)
		assert.False(t, s.FromOutside && s.Sense == exam.ByHand, "%s: by hand is not from outside", s.ID)
		if s.Heard != "" {
			assert.Equal(t, s.Heard, string(s.Listen), "%s: what is counted goes on meanwhile", s.ID)
		}
	}
}

// Every step says what a simulated horse shows of it, in words of its own that are not the answer's, and what a healthy one
// is drawn from.
func TestEveryStepSaysWhatASimulatedHorseShows(t *testing.T) {
	counted := 0
	for _, s := range Table().All() {
		switch s.Kind {
		case exam.KindPick, exam.KindMarks, exam.KindScale, exam.KindEvent:
			counted += checkSights(t, s)
		case exam.KindTime:
			assert.NotEmpty(t, s.Shows.Begin, s.ID)
			assert.NotEmpty(t, s.Shows.End, s.ID)
			text(t, s, s.Shows.While)
		case exam.KindNumber, exam.KindWeight, exam.KindCount, exam.KindNote:
			if len(s.Shows.Parts) == 0 {
				text(t, s, s.Shows.While)
			}
			figure := (s.Kind == exam.KindNumber || s.Kind == exam.KindWeight) && len(s.Shows.Parts) == 0 && s.SlowSeconds == 0
			assert.Equal(t, figure, strings.Contains(s.Shows.While, "%s"), "%s: where the figure stands", s.ID)
		}
		checkParts(t, s)
		checkHealthy(t, s)
	}
	assert.Greater(t, counted, 180)
}

func text(t *testing.T, s exam.Step, text string) {
	t.Helper()
	assert.Equal(t, notation.CleanLine(text, 0), text, s.ID)
	assert.LessOrEqual(t, len(text), 120, "%s: %s", s.ID, text)
	assert.Regexp(t, `^[ -~]*[.?"]$`, text, s.ID)
}

// checkSights walks the choices; it gives how many a horse can have.
func checkSights(t *testing.T, s exam.Step) (counted int) {
	t.Helper()
	young := maps.Clone(s.Shows.Choices)
	maps.Copy(young, s.Shows.Young)
	for _, sights := range []map[string]string{s.Shows.Choices, young} {
		seen := map[string]string{}
		for _, c := range s.Choices {
			words := sights[c.Key]
			if slices.Contains(s.Shows.Never, c.Key) {
				assert.Empty(t, words, "%s: %s is true of no horse", s.ID, c.Key)
				continue
			}
			counted++
			require.NotEmpty(t, words, "%s: Shows.Choices has nothing for %s", s.ID, c.Key)
			text(t, s, words)
			assert.Empty(t, seen[words], "%s: %s looks like %s", s.ID, c.Key, seen[words])
			seen[words] = c.Key
			for _, other := range s.Choices {
				assert.False(t, saysIt(words, other.Words), "%s: %q gives %q away", s.ID, words, other.Words)
				if other.Hint != "" {
					assert.NotContains(t, strings.ToLower(words), strings.ToLower(other.Hint))
				}
			}
		}
	}
	keys := slices.Concat(slices.Collect(maps.Keys(young)), s.Shows.Never, s.Shows.Healthy)
	if s.Shows.Newborn != "" {
		keys = append(keys, s.Shows.Newborn)
	}
	for _, key := range keys {
		_, ok := s.Choice(key)
		assert.True(t, ok, "%s: Shows names %s, which is no choice", s.ID, key)
	}
	return counted / 2
}

// checkParts holds the sights of a score that is told part by part.
func checkParts(t *testing.T, s exam.Step) {
	t.Helper()
	if s.Kind != exam.KindNumber || len(s.Parts.List) == 0 {
		assert.Empty(t, s.Shows.Parts, s.ID)
		return
	}
	require.Len(t, s.Shows.Parts, len(s.Parts.List), s.ID)
	for _, p := range s.Parts.List {
		require.Len(t, s.Shows.Parts[p.Key], int(s.Parts.Score.High-s.Parts.Score.Low)+1, "%s: %s", s.ID, p.Key)
		for points, words := range s.Shows.Parts[p.Key] {
			for _, given := range []string{p.Words, p.Hint, "not there", "somewhat", "plain"} {
				assert.False(t, saysIt(words, given), "%s %d: %q gives %q away", p.Key, points, words, given)
			}
		}
	}
}

// checkHealthy holds that a healthy horse can be drawn of every class that the step is asked of.
func checkHealthy(t *testing.T, s exam.Step) {
	t.Helper()
	switch s.Kind {
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		assert.NotEmpty(t, slices.Concat(s.Usual, s.Shows.Healthy), "%s: Usual or Shows.Healthy", s.ID)
		return
	case exam.KindEvent, exam.KindNote:
		return
	case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
	}
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	for _, class := range ranges.Classes() {
		if !s.AskedOf(exam.Class{Name: class}) {
			continue
		}
		_, held := table.Lookup(s.Range, class, ranges.Unit(s.Unit))
		assert.True(t, held || s.Shows.Span != nil || s.Shows.Share.Of != "", "%s: a Range, Shows.Span or Shows.Share for a %s", s.ID, class)
		if s.Shows.Span != nil {
			span := s.Shows.Span(class)
			assert.True(t, span.Low <= span.High && s.Likely.Contains(span.Low) && s.Likely.Contains(span.High), "%s: %v of a %s", s.ID, span, class)
		}
	}
	if of := s.Shows.Share.Of; of != "" {
		before := Table().All()
		own := slices.IndexFunc(before, func(o exam.Step) bool { return o.ID == s.ID })
		other := slices.IndexFunc(before, func(o exam.Step) bool { return o.ID == of })
		assert.True(t, other >= 0 && other < own, "%s: %s is drawn before it", s.ID, of)
	}
}

// saysIt says that a text holds the words of an answer, as whole words. The names of parts ("wound" beside "deep wound")
// count as well; "none" and "soft" are everyday words and count only where they are the whole answer of a pick.
func saysIt(text, answer string) bool {
	padded := " " + strings.NewReplacer(",", " ", ".", " ", ";", " ", ":", " ", "?", " ").Replace(strings.ToLower(text)) + " "
	answer = strings.ToLower(answer)
	switch answer {
	case "none", "soft", "cold", "fat", "thin", "poor", "slight":
		return false
	}
	return strings.Contains(padded, " "+strings.NewReplacer(",", " ").Replace(answer)+" ")
}
