package steps

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// fits says that a text is there, has room, and is as CleanLine leaves it.
func fits(t *testing.T, what, text string, columns int) {
	t.Helper()
	assert.NotEmpty(t, text, what)
	assert.LessOrEqual(t, ansi.StringWidth(text), columns, "%s: %q", what, text)
	assert.Equal(t, notation.CleanLine(text, 0), text, what)
	for _, r := range text {
		assert.Less(t, r, rune(0x7f), "%s: %q is drawn alike by every terminal", what, text)
	}
}

func TestEveryLiteralIsComplete(t *testing.T) {
	shorts := map[string]exam.StepID{}
	for _, s := range Table().All() {
		t.Run(string(s.ID), func(t *testing.T) {
			assert.Regexp(t, regexp.MustCompile(`^[a-z]+(\.[a-z]+)?$`), string(s.ID))
			fits(t, "name", s.Name, 30)
			fits(t, "short", s.Short, 18)
			assert.Empty(t, shorts[s.Short], "short is taken")
			shorts[s.Short] = s.ID
			assert.Contains(t, exam.StepKinds(), s.Kind)
			assert.GreaterOrEqual(t, len(s.How), 2, "two or three lines of how")
			assert.LessOrEqual(t, len(s.How), 3, "two or three lines of how")
			for _, line := range s.How {
				fits(t, "how", line, 72)
			}
			if s.Caution != "" {
				fits(t, "caution", s.Caution, 72)
			}
			if s.OneForAll {
				assert.NotEmpty(t, s.Sites, "overall stands for sites")
			}
			checkKind(t, s)
		})
	}
}

// checkKind holds what each kind needs and what it may not have.
func checkKind(t *testing.T, s exam.Step) {
	t.Helper()
	if s.Kind == exam.KindEvent {
		assert.Equal(t, exam.EventChoices(), s.Choices)
		assert.Empty(t, s.Usual, "when it was seen has no usual answer by one key")
		return
	}
	chosen := slices.Contains([]exam.StepKind{exam.KindPick, exam.KindMarks, exam.KindScale}, s.Kind)
	numeric := slices.Contains([]exam.StepKind{exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight}, s.Kind)
	assert.Equal(t, chosen, len(s.Choices) > 0, "choices")
	assert.Equal(t, numeric, len(s.Units) > 0, "units")
	assert.Equal(t, s.Kind == exam.KindCount, s.Heard != "", "heard")
	assert.Equal(t, s.Kind == exam.KindTime, s.Presses != "", "presses")
	if s.Kind == exam.KindCount {
		assert.Contains(t, []string{"heart", "breath"}, s.Heard)
	}
	if s.Kind != exam.KindMarks {
		assert.Empty(t, s.Alone, "alone belongs to marks")
	}
	if numeric {
		assert.Equal(t, s.Unit, s.Units[0], "the first unit is the step's own")
		assert.Less(t, s.Possible.Low, s.Possible.High)
		assert.True(t, s.Possible.Contains(s.Likely.Low) && s.Possible.Contains(s.Likely.High), "likely lies in possible")
		assert.Less(t, s.Likely.Low, s.Likely.High)
		assert.Empty(t, s.Usual, "a number has no usual answer by one key")
		return
	}
	assert.Equal(t, exam.Span{}, s.Possible)
	if !chosen {
		return
	}
	checkChoices(t, s)
	if s.Kind == exam.KindScale {
		for i, c := range s.Choices {
			assert.InDelta(t, s.Choices[0].Score+float64(i), c.Score, 0, "scores rise by one")
		}
	}
	if s.Kind == exam.KindMarks {
		assert.NotEmpty(t, s.Usual, "marks name their nothing-found")
		assert.Subset(t, s.Alone, s.Usual, "nothing found excludes every finding")
	}
}

func checkChoices(t *testing.T, s exam.Step) {
	t.Helper()
	keys, words := map[string]bool{}, map[string]bool{}
	for _, c := range s.Choices {
		assert.Regexp(t, regexp.MustCompile(`^[a-z]+$|^[0-9]$`), c.Key)
		assert.False(t, keys[c.Key], "key %s twice", c.Key)
		assert.False(t, words[c.Words], "words %q twice", c.Words)
		keys[c.Key], words[c.Words] = true, true
		fits(t, "words of "+c.Key, c.Words, 42)
		if c.Hint != "" {
			fits(t, "hint of "+c.Key, c.Hint, 48)
		}
		if c.Level == ranges.LevelUsual {
			assert.Empty(t, c.Why+c.Source+string(c.Evidence), "%s is usual and needs no reason", c.Key)
			continue
		}
		assert.Contains(t, []exam.Level{ranges.LevelNote, ranges.LevelRecheck, ranges.LevelTell}, c.Level)
		fits(t, "why of "+c.Key, c.Why, 120)
		assert.True(t, strings.HasSuffix(c.Why, "."), "why of %s is a sentence", c.Key)
	}
	for _, key := range slices.Concat(s.Usual, s.Alone) {
		c, ok := s.Choice(key)
		assert.True(t, ok, "usual or alone names %s", key)
		if slices.Contains(s.Usual, key) {
			assert.Equal(t, ranges.LevelUsual, c.Level, "%s is a usual answer", key)
		}
	}
	assert.LessOrEqual(t, len(s.Usual), 1, "one key gives one answer")
	assert.GreaterOrEqual(t, len(s.Choices), 3)
}

// TestEvidenceIsNoStrongerThanItsSource: a choice carries the tier of its source, or a weaker word where the source says it
// of something near.
func TestEvidenceIsNoStrongerThanItsSource(t *testing.T) {
	held, err := ranges.BuiltIn()
	require.NoError(t, err)
	for _, s := range Table().All() {
		for _, c := range s.Choices {
			if c.Level == ranges.LevelUsual {
				continue
			}
			source, known := held.Source(c.Source)
			assert.True(t, known, "%s %s: source %q is in no list", s.ID, c.Key, c.Source)
			assert.True(t, source.Tier.Carries(c.Evidence), "%s %s: %s is %s", s.ID, c.Key, c.Source, source.Tier)
		}
	}
}

// TestNoDiagnosisNoTreatment: the program records and defers; it names neither
// an illness as this horse's nor a drug.
func TestNoDiagnosisNoTreatment(t *testing.T) {
	banned := regexp.MustCompile(`(?i)\b(diagnos\w*|the horse has|suffers from|tied to|prognos\w*|outcome|narrowed airways|choke|inject|sedate|dose)\b`)
	for _, s := range Table().All() {
		all := slices.Concat(s.How, []string{s.Name, s.Caution})
		for _, c := range s.Choices {
			all = append(all, c.Words, c.Hint, c.Why)
		}
		for _, text := range all {
			assert.NotRegexp(t, banned, text, "%s", s.ID)
		}
	}
}
