package plain_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/steps"
	"loosebox/ranges/words"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// spared are tables whose keys are looked for, each with the words of it that sentences of the prompts use too.
func spared() map[string]string {
	return map[string]string{
		"animal": "horse miniature", "class": "", "sex": "not known", "way of weighing": "", "route": "", "evidence": "common practice published from memory",
		"name of a site for a needle": "", "tube": "serum", "state of what follows": "to do done open", "level": "note recheck usual tell the vet",
		"phase of a blood draw": "order needle in no blood", "phase of an observation": "begun declined quiet", "caution": "",
		"without a decision": "emergency ordered aloud in an emergency", "reason not done": "other not recorded", "state": "at rest", "means": "here",
		"item of a score": "crest measured body weight heart gums refill neck state temperature skin tent horse jugular jugular filling", "danger sign of a count": "heart gums refill", "site": "left", "ruling": "go ahead wait stop",
		"answer to a check list": "neither", "reason to stop": "", "reason of a late line": "", "where a needle went": "sharps box",
	}
}

// With every text of the tables marked no prompt shows a key, or English that stands beside the tables.
func TestPromptsTakeTheirWordsFromTables(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())
	deps, store := screentest.Deps(t)
	deps.Steps, deps.Routines = steps.Table(), steps.Routines()
	_, v := screentest.Story(t, store)
	screentest.HandOff(t, store, v.ID)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
	var out strings.Builder
	typed := func(do func(*plain.Session) error, lines ...string) {
		t.Helper()
		s := &plain.Session{
			Deps: deps, In: strings.NewReader(strings.Join(lines, "\n") + "\n"), Out: &out, Person: "Ann Bell", Wait: func(time.Duration) {},
		}
		before := out.Len()
		if err := do(s); err != nil {
			require.ErrorIs(t, err, plain.ErrLeft, out.String()[before:])
		}
	}
	exam := func(s *plain.Session) error { return s.Exam(v.ID) }
	each := slices.Repeat([]string{"how", "source", "last", "not an answer", "note seen", "later"}, 60)
	typed(exam, each...)
	typed(exam, slices.Concat([]string{"medicine nothing"}, slices.Repeat([]string{"usual", "not done", "later"}, 60))...)
	typed(exam, "finish", "finish", "after", "hand off", "quit")
	typed(func(s *plain.Session) error { return s.HandOff(v.ID, 0) }, "", "Dr. Olga Sommer", "1", "x")
	typed(func(s *plain.Session) error { return s.Decide(v.ID, 0) }, "", "x", "1", "Vaccinate today.", "1", "y", "n")
	typed(func(s *plain.Session) error { return s.Inject(v.ID, 0) }, vaccine("1", "20 G, 1.5 in", "cautions", "danger", "back", "in", "clear", "given", "1", "")...)
	typed(func(s *plain.Session) error { return s.Draw(v.ID, 0) }, "x", "?", "1", "1", "", "")
	typed(func(s *plain.Session) error { return s.Watch(v.ID, 0) }, "x", "s", "quit")
	typed(exam, "finish", "finish other", "no", "quit")
	low := strings.ToLower(out.String())
	require.Contains(t, low, "réçtál témpérátúré")
	assert.Empty(t, examtest.Leaks(low, spared()))
}
