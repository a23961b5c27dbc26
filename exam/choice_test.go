package exam_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// rear is a step with a choice of mares before one that every animal can have, and one of stallions behind it.
func rear() exam.Step {
	return exam.Step{
		ID: "udder.sheath", Name: "Udder or sheath", Kind: exam.KindMarks,
		Choices: []exam.Choice{
			{Key: "good", Words: "nothing found"},
			{Key: "wax", Words: "wax on the teats", Of: []exam.Sex{exam.Mare, exam.Filly}},
			{Key: "dirt", Words: "smegma or dirt"},
			{Key: "scrotum", Words: "scrotum hot", Of: []exam.Sex{exam.Stallion, exam.Colt}},
		},
	}
}

func keysOf(choices []exam.Choice) (out []string) {
	for _, c := range choices {
		out = append(out, c.Key)
	}
	return out
}

func TestAStepOffersWhatTheSexCanHave(t *testing.T) {
	all := keysOf(rear().Choices)
	for sex, want := range map[exam.Sex][]string{
		exam.Mare: {"good", "wax", "dirt"}, exam.Gelding: {"good", "dirt"}, exam.Stallion: {"good", "dirt", "scrotum"}, exam.SexUnknown: all, "": all,
	} {
		assert.Equal(t, want, keysOf(rear().For(exam.Horse{Sex: sex}).Choices), sex)
	}
	disputed := exam.Horse{Sex: exam.Mare, Differ: []exam.HorseDispute{{Field: "sex"}}}
	assert.Equal(t, all, keysOf(rear().For(disputed).Choices), "two laptops differ about its sex")
}

// What was stored of another sex is offered last, so that it can be taken back; it is shown in its words everywhere, and read
// by them: a mare in the record may be a stallion in the box.
func TestAChoiceOfAnotherSexStaysReadable(t *testing.T) {
	stored := exam.Value{Kind: exam.KindMarks, Words: []string{"wax", "dirt"}}
	step := rear().For(exam.Horse{Sex: exam.Stallion}, stored)
	assert.Equal(t, []string{"good", "dirt", "scrotum", "wax"}, keysOf(step.Choices))

	step = rear().For(exam.Horse{Sex: exam.Stallion})
	assert.Equal(t, "wax on the teats, smegma or dirt", stored.Show(step))
	for text, want := range map[string]string{"2": "dirt", "3": "scrotum", "wax": "wax", "WAX on the teats": "wax", "dirt, wax on the teats": "dirt wax"} {
		v, err := step.ReadAnswer(text, "")
		require.NoError(t, err, text)
		assert.Equal(t, want, strings.Join(v.Words, " "), text)
	}
	_, err := step.ReadAnswer("4", "")
	require.ErrorContains(t, err, `"4" is no choice of udder or sheath: nothing found, smegma or dirt, scrotum hot`)
	_, err = step.ReadAnswer("wa", "")
	require.Error(t, err, "the beginning of what is not offered is nothing")
}
