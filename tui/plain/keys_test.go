package plain_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/exam/steps"
	"loosebox/ranges/words"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// Whatever language a person works in, the record holds the key of a choice and no words of that language.
func TestPromptsStoreKeysInAnyLanguage(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())

	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, vaccine("1", "", "i", "c", "x", "m", "0")...)
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.StopMoved, i.Why)
	said := map[string]exam.CheckAnswer{}
	for _, c := range i.Checks {
		said[c.Key] = c.Words
	}
	assert.Equal(t, []exam.CheckAnswer{exam.ChipRead, exam.NobodyElse, exam.NeitherFoodSport, ""},
		[]exam.CheckAnswer{said["horse"], said[procedure.SecondPerson], said["food"], said["dose"]})

	// The reason in the words of that language is the key too; any other text is the person's own.
	for typed, why := range map[string]exam.StopReason{exam.StopNeedleOut.String() + ".": exam.StopNeedleOut, "she would not stand": "she would not stand"} {
		x = sit(t, screentest.Tetanus())
		out, err = x.typed((*plain.Session).Inject, vaccine("1", "", "i", "c", "x "+typed, "0")...)
		require.NoError(t, err, out)
		i, _ = x.visit().Injection(1)
		assert.Equal(t, why, i.Why)
	}

	x = sit(t, screentest.Tetanus())
	out, err = x.typed((*plain.Session).Inject, vaccine("1", "20 G, 1.5 in", "in", "clear", "given", "")...)
	require.NoError(t, err, out)
	i, _ = x.visit().Injection(1)
	require.Equal(t, exam.InjectionGiven, i.State, out)
	assert.Equal(t, exam.SharpsBox, i.Disposal)
}

// spoken are the texts in the lines of a visit that carry the marks of the marked language, by their place in the line.
func spoken(t *testing.T, entries []exam.Entry) map[string]string {
	t.Helper()
	out := map[string]string{}
	var find func(at string, v any)
	find = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for key, x := range v {
				find(at+"."+key, x)
			}
		case []any:
			for _, x := range v {
				find(at, x)
			}
		case string:
			if strings.ContainsAny(v, "áéíóúýçÁÉÍÓÚÝÇ") {
				out[at] = v
			}
		}
	}
	for _, e := range entries {
		data, err := json.Marshal(e)
		require.NoError(t, err)
		var v any
		require.NoError(t, json.Unmarshal(data, &v))
		find(string(e.Kind), v)
	}
	return out
}

// What a person answers in another language is stored without a word of it: from the hand-off to the signs of danger.
// Sentences that the record keeps as they were read stand beside the keys that they are of.
func TestNoLineHoldsTheLanguageOfTheProgram(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())
	x := sit(t, screentest.Tetanus(), screentest.Blood())
	x.deps.Steps, x.deps.Routines = steps.Table(), steps.Routines()
	allSteps := func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }
	procedureOf := func(n script.Name) func(*plain.Session, exam.VisitID, int) error {
		return func(s *plain.Session, id exam.VisitID, number int) error { return s.Procedure(n, id, number) }
	}
	var shown strings.Builder
	for _, at := range []struct {
		do    func(*plain.Session, exam.VisitID, int) error
		lines []string
	}{
		{(*plain.Session).HandOff, []string{"", "Dr. Olga Sommer", "1", "", "1"}},
		{(*plain.Session).Inject, vaccine("1", "20 G, 1.5 in", "in", "c", "given", "")},
		{(*plain.Session).Watch, []string{"x", "o"}},
		{(*plain.Session).Draw, []string{"blood count", exam.TubeEDTA.String(), "", "450 kg", "", "", "", "c", "u", "t", "v", "b", "x", "c"}},
		{allSteps, slices.Repeat([]string{"1", "2"}, 60)},
		{allSteps, slices.Repeat([]string{"3", "30", "not done unsafe"}, 60)},
		{procedureOf(script.Record), []string{"1", "J. Marlowe", "sedation", "", "", ""}},
		{procedureOf(script.Danger), []string{"1", "b", "r"}},
		{procedureOf(script.Record), []string{"2", "quit"}},
	} {
		out, _ := x.typed(at.do, at.lines...)
		shown.WriteString(out)
	}
	out := shown.String()
	v := x.visit()
	require.Greater(t, len(v.Findings), 30, out)
	require.Len(t, v.HandOffs, 1, out)
	require.NotEmpty(t, v.Watches, out)
	require.Equal(t, exam.OwnerObserves, v.Watches[0].Why, out)
	require.Len(t, v.Draws, 1, out)
	require.Len(t, v.Notes, 1, out)
	assert.Contains(t, out, "Enter alone: "+exam.ConsentSaid.String()+".", "what stands in a field is told in words")

	entries, err := x.store.Entries(x.id)
	require.NoError(t, err)
	found := spoken(t, entries)
	for _, sentence := range []string{"note.note", "watch.watch.sign_words"} {
		delete(found, sentence)
	}
	assert.Empty(t, found)
}
