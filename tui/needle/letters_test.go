package needle_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/internal/screentest"
	"loosebox/tui/keys"
	"loosebox/tui/needle"
)

// elsewhere are the keys that work on every screen of a needle.
func elsewhere() []string {
	var out []string
	for _, b := range []keys.Binding{keys.Cautions(), keys.Source(), keys.Help(), keys.NotDone(), keys.Accept(), keys.Up(), keys.Down()} {
		out = append(out, b.Keys...)
	}
	return out
}

// lists are the check lists that there are: of a dose, of one that went in already,
// and of a draw of too much blood.
func lists(t *testing.T) map[string][]needle.Point {
	deps, store, s := bracken(t, screentest.Tetanus(), exam.Cover{Kind: exam.Drawing})
	decided, err := s.Covering(*screentest.Ordered(), 0, deps.Now())
	require.NoError(t, err)
	out := map[string][]needle.Point{"a dose": needle.Points(s, *screentest.Ordered(), decided, "Ann Bell", deps.Now())}
	screentest.Given(t, store, s.Visit.ID)
	s = look(t, deps, s.Visit.ID)
	out["once more"] = needle.Points(s, *screentest.Ordered(), decided, "Ann Bell", deps.Now())
	out["a draw"] = needle.DrawPoints(s, exam.DrawOrder{For: "x"}, []string{"too much"}, decided, deps.Now())
	return out
}

// No letter belongs to two points of a list, and none to a key that works at every
// point: ten presses of one key answer one point at most.
func TestEveryPointHasItsOwnLetters(t *testing.T) {
	for name, list := range lists(t) {
		require.NotEmpty(t, list, name)
		of := map[string]string{}
		for _, p := range list {
			require.NotEmpty(t, p.Answers, p.Key)
			for _, a := range p.Answers {
				if a.Press == needle.NotInOrder {
					assert.NotEmpty(t, a.Ask, "%s: what is not in order has its words", p.Key)
					continue
				}
				require.Len(t, a.Press, 1, "%s: %s %q", name, p.Key, a.Words)
				assert.Empty(t, of[a.Press], "%s: %s of %s", name, a.Press, p.Key)
				assert.NotContains(t, elsewhere(), a.Press, "%s: %s", name, p.Key)
				assert.NotContains(t, "0123456789", a.Press, "a reader of chips types digits")
				of[a.Press] = p.Key
			}
		}
	}
}

func TestTheSecondPersonHasAName(t *testing.T) {
	for _, p := range lists(t)["a dose"] {
		if p.Key != procedure.SecondPerson {
			continue
		}
		check := p.Answers[0].Check
		for _, bad := range []string{"", " ", "?", "12", "Ann Bell", "ann  bell"} {
			assert.Error(t, check(bad), "%q", bad)
		}
		for _, good := range []string{"Eva Lind", "Jo", "Åsa"} {
			assert.NoError(t, check(good), good)
		}
		assert.Equal(t, procedure.NobodyElse, p.Answers[1].Stored)
		assert.False(t, p.Answers[1].OK, "nobody checked it")
		assert.False(t, needle.Wrong(exam.Checked{Key: p.Key, Words: procedure.NobodyElse}), "and that is no fault to tell")
		return
	}
	require.Fail(t, "the list asks for no second person")
}

// While a needle is in, no letter of a question is taken by the question after it,
// so that a key that is pressed twice answers once.
func TestNoLetterGoesThroughTwoQuestions(t *testing.T) {
	give := []string{"g", "a"}
	letters := func(list []needle.Seen) []string {
		var out []string
		for _, s := range list {
			out = append(out, s.Press)
		}
		return out
	}
	in := []string{"i"}
	of := func(list []needle.Reason) []string {
		out := []string{needle.OwnWords}
		for _, r := range list {
			out = append(out, r.Press)
		}
		return out
	}
	amounts := []string{"n", "a", "k", "t"}
	seen := []string{needle.OwnWords}
	for _, d := range procedure.Dangers() {
		var of []string
		for i := range d.Seen {
			of = append(of, needle.SeenLetter(i))
		}
		require.Len(t, slices.Compact(slices.Sorted(slices.Values(of))), len(d.Seen), "%s: each line has its own letter", d.Key)
		seen = append(seen, of...)
	}
	for name, two := range map[string][2][]string{
		"needle in, muscle": {in, letters(needle.Aspirated())},
		"needle in, vein":   {in, letters(needle.InVein(0))},
		"vein 1":            {letters(needle.InVein(0)), letters(needle.InVein(1))},
		"vein 2":            {letters(needle.InVein(1)), letters(needle.InVein(2))},
		"vein 3":            {letters(needle.InVein(2))[:2], letters(needle.InVein(3))},
		"vein 4":            {letters(needle.InVein(3))[:1], give},
		"muscle":            {letters(needle.Aspirated()), give},
		"stopped":           {of(needle.WhyStopped()), amounts},
		"draw stopped":      {of(needle.WhyNotDrawn()), amounts},
		"danger, amount":    {seen, amounts},
		"danger, read out":  {append(seen, amounts...), {needle.ReadOutDone}},
		"tubes 1":           {{needle.TubeLetter(0)}, {needle.TubeLetter(1), "e", "l", "n"}},
		"tubes 15":          {{needle.TubeLetter(14)}, {needle.TubeLetter(15), "e", "l", "n"}},
		"last tube":         {{needle.TubeLetter(2)}, {"d", "e"}},
		"no more tubes":     {{"l"}, {"d", "e"}},
	} {
		for _, k := range two[0] {
			assert.NotContains(t, two[1], k, name)
			assert.NotContains(t, append(elsewhere(), keys.Order().Keys...), k, name)
		}
	}
}
