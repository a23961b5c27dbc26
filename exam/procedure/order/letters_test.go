package order_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/tui/keys"
	"loosebox/tui/screentest"
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
func lists(t *testing.T) map[string][]order.AnsweredPoint {
	s, store, look := bracken(t, screentest.Tetanus(), exam.CoveredProcedure{Kind: exam.Drawing})
	decided, err := s.Covering(*screentest.Ordered(), 0, s.Now())
	require.NoError(t, err)
	out := map[string][]order.AnsweredPoint{"a dose": order.Points(s.Stand, *screentest.Ordered(), decided, "Ann Bell", s.Now())}
	screentest.Given(t, store, s.Visit.ID)
	look()
	out["once more"] = order.Points(s.Stand, *screentest.Ordered(), decided, "Ann Bell", s.Now())
	out["a draw"] = order.DrawPoints(s.Stand, exam.DrawOrder{For: "x"}, []string{"too much"}, decided, s.Now())
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
				if a.Press == order.NotInOrder {
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
		require.EqualError(t, check("A Bell"), "A Bell may be Ann Bell, who gives it; if it is somebody else, add who: A Bell, groom")
		for _, good := range []string{"Eva Lind", "Jo", "Åsa", "A Bell, groom"} {
			assert.NoError(t, check(good), good)
		}
		assert.Equal(t, exam.NobodyElse, p.Answers[1].Stored)
		assert.False(t, p.Answers[1].OK, "nobody checked it")
		assert.False(t, order.Wrong(exam.Checked{Key: p.Key, Words: exam.NobodyElse}), "and that is no fault to tell")
		return
	}
	require.Fail(t, "the list asks for no second person")
}
