package rehearse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// A teacher's case that is kept with its rehearsal is read again without its file, whatever else has its name.
func TestACaseOutlivesItsFile(t *testing.T) {
	text, err := CaseFile("tarn")
	require.NoError(t, err)
	text = strings.Replace(text, "name: tarn", "name: my-own", 1) + "# " + strings.Repeat("a remark of the teacher ", 9) + "\n"
	for n := range 400 { // a long file takes several lines of the record
		text += "# " + strings.Repeat(string(rune('a'+n%26)), n%97) + "\n"
	}
	own, err := ReadCase(strings.NewReader(text), "own.yaml", steps.Table(), held(t))
	require.NoError(t, err)
	h, err := New(own, 3, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	v := exam.Visit{Source: h.Origin.String()}
	for i, e := range CaseEntries(own) {
		assert.LessOrEqual(t, len(e.Note), 4000)
		v.Notes = append(v.Notes, exam.VisitNote{Text: e.Note, Seq: i + 2})
	}
	back, err := CaseOf(v, nil, steps.Table(), held(t))
	require.NoError(t, err)
	assert.Equal(t, own, back)
	other := own
	other.Digest = "changed"
	back, err = CaseOf(v, []Case{other}, steps.Table(), held(t))
	require.NoError(t, err)
	assert.Equal(t, own.Digest, back.Digest, "the one that was kept")
	v.Notes = v.Notes[1:]
	_, err = CaseOf(v, nil, steps.Table(), held(t))
	require.ErrorContains(t, err, "not there any more")
}

// Several truths to a case: over seeds each of them comes up, and a perfect trainee finds it.
func TestEveryVariantComesUp(t *testing.T) {
	cases := builtInCases(t)
	assert.GreaterOrEqual(t, len(cases), 20)
	for _, c := range cases {
		require.GreaterOrEqual(t, len(c.Variants), 2, c.Name)
		seen := map[string]bool{}
		for seed := range uint64(40) {
			h := horse(t, c.Name, seed)
			key := ""
			for _, v := range c.Variants {
				same := true
				for k, g := range v.Given {
					truth, _ := h.Truth(k)
					same = same && (g.Spread || assert.ObjectsAreEqual(g.Value.Words, truth.Words))
				}
				if same {
					key += "x"
				} else {
					key += "-"
				}
			}
			seen[key] = true
		}
		assert.GreaterOrEqual(t, len(seen), 2, "%s: %v", c.Name, seen)
		for _, word := range []string{"choke", "colic", "wound", "fever", "lamin", "heart", "gut", "murmur", "donkey", "foal"} {
			assert.NotContains(t, c.Name, word, "a name tells nothing")
		}
	}
}

// A place that a case and its variant both name, or a list names twice, is asked for once.
func TestAPlaceIsFoundAndToldOnce(t *testing.T) {
	own, err := readOwn(t, goodCase+"variants:\n  - truth:\n      heart.rate: 90\n    find: [heart.rate, temp.rectal]\n    tell: [temp.rectal, heart.rate, heart.rate]\n")
	require.NoError(t, err)
	h, err := New(own, 1, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	both := []exam.Key{{Step: "temp.rectal"}, {Step: "heart.rate"}}
	assert.Equal(t, both, h.Case.Find)
	assert.Equal(t, both, h.Case.Tell)
}
