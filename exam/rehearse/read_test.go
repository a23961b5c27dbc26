package rehearse

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

const goodCase = `name: own-case
title: Own case
about: a case of our own
reason: to try
routine: tpr-recheck
horse:
  name: Teal
  age: 9 years
truth:
  temp.rectal: 38.9
  heart.rate: 50 to 55
find: [temp.rectal]
tell:
  - temp.rectal
teaching:
  - text: "A point."
    source: BELL
`

func readOwn(t *testing.T, text string) (Case, error) {
	t.Helper()
	return ReadCase(strings.NewReader(text), "own.yaml", steps.Table(), held(t))
}

func TestATeacherWritesACase(t *testing.T) {
	c, err := readOwn(t, goodCase)
	require.NoError(t, err)
	assert.Equal(t, "own-case", c.Name)
	assert.Equal(t, exam.AnimalHorse, c.Horse.Kind)
	assert.Equal(t, Calm, c.Temper)
	assert.Len(t, c.Digest, 12)
	assert.Equal(t, []exam.Key{{Step: "temp.rectal"}}, c.Tell)
	h, err := New(c, 4, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	v, _ := h.Truth(exam.Key{Step: "temp.rectal"})
	assert.Equal(t, notation.Quantity{Value: 38.9, Unit: notation.Celsius}, *v.Number)
	for seed := range uint64(30) {
		h, err := New(c, seed, opened(), steps.Table(), held(t))
		require.NoError(t, err)
		assert.GreaterOrEqual(t, h.rate("heart.rate"), 50.0)
		assert.LessOrEqual(t, h.rate("heart.rate"), 55.0)
	}
	windows, err := readOwn(t, "\xef\xbb\xbf"+strings.ReplaceAll(goodCase, "\n", "\r\n"))
	require.NoError(t, err)
	assert.Equal(t, c.Given, windows.Given)
	f, err := readOwn(t, strings.Replace(goodCase, "38.9", "102 F", 1))
	require.NoError(t, err)
	h, err = New(f, 4, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	v, _ = h.Truth(exam.Key{Step: "temp.rectal"})
	assert.InDelta(t, 38.9, v.Number.Value, 0.02)
}

// Every fault is named with its line.
func TestABadCaseIsRefusedWithLineAndReason(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{"name: own-case", "name: Own Case", "own.yaml:1: a name is lower-case"},
		{"title: Own case", "title: [a, b]", "own.yaml:2: title: takes one line"},
		{"about: a case of our own", "about: " + strings.Repeat("x", 80), "own.yaml:3: about: is 80 columns wide"},
		{"reason: to try\n", "", "own.yaml: no reason: key"},
		{"  age: 9 years", "  age: nine", "own.yaml:8: an age is written like"},
		{"  age: 9 years", "  age: 9 to 3 years", "own.yaml:8: an age runs from"},
		{"  age: 9 years\n", "", "own.yaml:6: a horse needs name: and age:"},
		{"  name: Teal", "  name: Teal\n  kind: zebra", "own.yaml:8: kind: takes one of horse, pony"},
		{"  name: Teal", "  name: Teal\n  shoe: iron", `own.yaml:8: "shoe" is no key of a horse`},
		{"truth:", "temper: wild\ntruth:", "own.yaml:9: temper: takes one of calm, stoic"},
		{"truth:", "states: [asleep]\ntruth:", `own.yaml:9: "asleep" is no state`},
		{"truth:", "pause-every: 9\ntruth:", "own.yaml:9: pause-every: takes a whole number from 3 to 6"},
		{"temp.rectal: 38.9", "temp.oral: 38.9", `own.yaml:10: "temp.oral" is no step`},
		{"temp.rectal: 38.9", "temp.rectal:left: 38.9", `own.yaml:10: temp.rectal has no site "left"`},
		{"temp.rectal: 38.9", "temp.rectal: 389", "own.yaml:10: temp.rectal: "},
		{"temp.rectal: 38.9", "temp.rectal: {low: 1}", "own.yaml:10: temp.rectal: takes the answer"},
		{"temp.rectal: 38.9", "temp.rectal: 38.9\n  heart.rhythm: unsure", "own.yaml:11: heart.rhythm: an examiner can be unsure"},
		{"temp.rectal: 38.9", "temp.rectal: 38.9\n  note: hello", "own.yaml:11: note: a note has no truth"},
		{"temp.rectal: 38.9", "temp.rectal: 38.9\n  gum.colour: green", `own.yaml:11: gum.colour: "green" is no choice`},
		{"50 to 55", "55 to 50", "own.yaml:11: heart.rate: a span runs"},
		{"50 to 55", "50 to 5000", "own.yaml:11: heart.rate: the span holds numbers"},
		{"find: [temp.rectal]", "find: [gum.colour]", "own.yaml:12: gum.colour is to be found, but truth: does not give it"},
		{"find: [temp.rectal]", "find: gum.colour", "own.yaml:12: takes a list"},
		{"source: BELL", "source: NOWHERE", `"NOWHERE" is no source`},
		{"source: BELL", "page: 9", `own.yaml:17: "page" is no key of a teaching point`},
		{"truth:", "milestones: {walks: 60}\ntruth:", `own.yaml:9: "walks" is no milestone; there are lies on its breast`},
		{"truth:", "milestones: {stands: soon}\ntruth:", "own.yaml:9: stands: takes a whole number from 1 to 1440"},
		{"find:", "score: 9\nfind:", `own.yaml:12: "score" is no key of a case`},
		{"horse:\n", "horse: [\n", "not YAML"},
	} {
		_, err := readOwn(t, strings.Replace(goodCase, c.old, c.new, 1))
		var bad *FileError
		require.True(t, errors.As(err, &bad), "%s: %v", c.new, err)
		assert.ErrorContains(t, err, c.says)
		assert.ErrorContains(t, err, "own.yaml is refused as a case; the other cases stay as they were")
	}
}

func TestHostileFilesAreRefused(t *testing.T) {
	for _, text := range []string{
		"", "# nothing\n", "just text\n", "- a\n- b\n", "a: 1\n---\nb: 2\n", "\xff\xfe\x00", "name: a\x00b\n",
		strings.Repeat("x", int(caseFile().Bytes)+1), strings.Repeat("a: b\n", caseFile().Lines+5), strings.Repeat("[", 5000), "x: &a [*a]\n",
		"x: " + strings.Repeat("y", caseFile().Columns), "? [a]\n: b\n", "truth:\n  - x\n", "horse: {name: [x], age: {}}\n", "teaching: [1, {text: 2}]\n",
	} {
		_, err := readOwn(t, text)
		var bad *FileError
		assert.True(t, errors.As(err, &bad), "%.20q: %v", text, err)
	}
	_, err := readOwn(t, strings.Repeat("bad: x\n", 40))
	assert.Error(t, err)
}

// A teacher's case has a name of its own and a routine that is there; both are said with their lines.
func TestAnOwnCaseIsHeldAgainstWhatIsThere(t *testing.T) {
	known := Existing{Routines: steps.Routines(), Cases: builtInCases(t)}
	read := func(text string) error {
		_, err := ReadOwnCase(strings.NewReader(text), "own.yaml", steps.Table(), held(t), known)
		return err
	}
	require.NoError(t, read(goodCase))
	err := read(strings.NewReplacer("name: own-case", "name: tarn", "routine: tpr-recheck", "routine: tpr-rechek").Replace(goodCase))
	require.Error(t, err)
	assert.Contains(t, err.Error(), `own.yaml:1: the name "tarn" belongs to the case`)
	assert.Contains(t, err.Error(), `own.yaml:5: no routine is called "tpr-rechek"; there are: full-exam, tpr-recheck`)

	// What no screen offers of the sex, wherever the horse stands in the file, and in a variant too.
	mares := strings.Replace(goodCase, "38.9\n", "38.9\n  udder.sheath: placenta\n", 1)
	require.NoError(t, read(mares), "the sex is not given")
	require.NoError(t, read(strings.Replace(mares, "  name: Teal", "  name: Teal\n  sex: mare", 1)))
	horse := "horse:\n  name: Teal\n  age: 9 years\n"
	geldings := strings.Replace(mares, horse, "", 1) + horse + "  sex: gelding\n"
	require.ErrorContains(t, read(geldings), `own.yaml:8: udder.sheath: "afterbirth not out after 3 hours" cannot be of a gelding`)
	require.ErrorContains(t, read(strings.Replace(goodCase, horse, horse+"  sex: stallion\nvariants:\n  - truth:\n      udder.sheath: wax\n", 1)), "own.yaml:12: udder.sheath: ")
	_, err = readOwn(t, geldings)
	require.NoError(t, err, "what was played once is read as it is")
}

func TestModesComeBackFromTheRecord(t *testing.T) {
	for _, m := range []Modes{{}, {Blind: true}, {Timed: true}, {Blind: true, Timed: true}} {
		note := m.Entry().Note
		assert.True(t, IsOwnNote(note), note)
		assert.Equal(t, m, ModesIn(exam.Visit{Notes: []exam.VisitNote{{Text: "a note"}, {Text: note}}}))
	}
	assert.Equal(t, Modes{}, ModesIn(exam.Visit{Notes: []exam.VisitNote{{Text: "I wrote: rehearsal: modes [blind]"}}}))
}

func FuzzReadCase(f *testing.F) {
	f.Add(goodCase)
	text, _ := CaseFile("tarn")
	f.Add(text)
	table, rows := steps.Table(), held(f)
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ReadCase(strings.NewReader(text), "f", table, rows)
		if err != nil {
			return
		}
		if h, err := New(c, 1, opened(), table, rows); err == nil {
			for _, step := range table.All() {
				for _, k := range placesOf(step) {
					h.Look(k, 0)
				}
			}
			h.Beats(0, 100)
			h.Told()
		}
	})
}

func TestBuiltInCasesAreWhole(t *testing.T) {
	table := steps.Table()
	cases := builtInCases(t)
	entries, err := files.ReadDir("cases")
	require.NoError(t, err)
	var inFolder, listed []string
	for _, e := range entries {
		inFolder = append(inFolder, e.Name())
	}
	for _, c := range cases {
		listed = append(listed, c.Name+".yaml")
	}
	require.ElementsMatch(t, inFolder, listed, "every file of exam/rehearse/cases is named in Cases")
	names := map[string]bool{}
	for _, c := range cases {
		assert.False(t, names[c.Horse.Name], "an invented name of its own")
		names[c.Horse.Name] = true
		r, ok := steps.Find(steps.Routines(), c.Routine)
		require.True(t, ok, c.Name)
		asked := map[exam.Key]bool{}
		h := horse(t, c.Name, 1)
		for _, ask := range r.For(h.Class, table).Asks {
			for _, k := range ask.Keys() {
				asked[k] = true
			}
		}
		places := slices.Concat(c.Find, c.Tell)
		for _, v := range c.Variants {
			places = slices.Concat(places, v.Find, v.Tell)
		}
		for _, k := range places {
			assert.True(t, asked[k], "%s: %s is not asked by %s", c.Name, k.Step, c.Routine)
		}
		assert.GreaterOrEqual(t, len(c.Teaching), 3, c.Name)
		text, err := CaseFile(c.Name)
		require.NoError(t, err)
		assert.Contains(t, text, "name: "+c.Name)
	}
	_, err = CaseFile("nosuch")
	require.ErrorIs(t, err, exam.ErrNotFound)
	seen := map[string]bool{}
	for seed := range uint64(200) {
		c, ok := AnyCase(cases, seed)
		require.True(t, ok)
		seen[c.Name] = true
	}
	assert.Len(t, seen, len(cases))
}
