package routinefile

import (
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

func readText(text string) (exam.Routine, error) {
	return Read(strings.NewReader(text), "own.yaml", steps.Table())
}

func TestRead(t *testing.T) {
	r, err := readText(`# mornings
name: yard-round
about: every horse, before feed
steps:
  - breath.rate     # from outside
  - temp.rectal
  - step: gut.sounds
    sites: [left upper, left lower]
    heading: left side
  - {step: gut.sounds, sites: [right upper, right lower]}
  - step: hoof.heat
    sites: overall
  - nose.discharge
`)
	require.NoError(t, err)
	assert.Equal(t, exam.Routine{
		Name: "yard-round", Title: "Yard round", About: "every horse, before feed", Own: true,
		Asks: []exam.Ask{
			{Step: "breath.rate", Sites: []exam.Site{exam.NoSite}},
			{Step: "temp.rectal", Sites: []exam.Site{exam.NoSite}},
			{Step: "gut.sounds", Sites: []exam.Site{exam.LeftUpper, exam.LeftLower}, Heading: "left side"},
			{Step: "gut.sounds", Sites: []exam.Site{exam.RightUpper, exam.RightLower}},
			{Step: "hoof.heat", Sites: []exam.Site{exam.Overall}},
			{Step: "nose.discharge", Sites: []exam.Site{exam.Left, exam.Right}},
		},
	}, r)
}

func TestReadWindowsText(t *testing.T) {
	r, err := readText("\xef\xbb\xbfname: a\r\nsteps:\r\n  - temp.rectal\r\n")
	require.NoError(t, err)
	assert.Equal(t, "A", r.Title)
}

// TestRefused gives each bad file and the very line that the message names.
func TestRefused(t *testing.T) {
	const head = "name: own\nsteps:\n"
	for name, c := range map[string]struct{ text, want string }{
		"unknown step":       {head + " - heart.rat\n", `own.yaml:3: "heart.rat" is no step; did you mean heart.rate?`},
		"name of a step":     {head + " - temperature\n", `own.yaml:3: "temperature" is no step; did you mean temp.rectal?`},
		"cut short":          {head + " - condition\n", `own.yaml:3: "condition" is no step; did you mean condition.score?`},
		"nothing near":       {head + " - saddle fit test\n", `own.yaml:3: "saddle fit test" is no step; a step is named as`},
		"twice":              {head + " - urine\n - manure\n - urine\n", `own.yaml:5: urine is asked twice (first on line 3)`},
		"twice at a site":    {head + " - eye.look\n - step: eye.look\n   sites: left\n", `own.yaml:4: eye.look at the left is asked twice (first on line 3)`},
		"left without right": {head + " - urine\n - step: gut.sounds\n   sites: [left upper]\n", `own.yaml:4: gut.sounds is asked at the left upper but never at the right upper`},
		"right without left": {head + " - step: limb.look\n   sites: [right hind]\n", `own.yaml:3: limb.look is asked at the right hind but never at the left hind`},
		"no such site":       {head + " - step: eye.look\n   sites: [left, top]\n", `own.yaml:3: eye.look has no site "top"; it has left, right`},
		"no overall":         {head + " - step: lung.sounds\n   sites: overall\n", `own.yaml:3: lung.sounds has no site "overall"`},
		"overall and a site": {head + " - step: hoof.heat\n   sites: overall\n - hoof.heat\n", `own.yaml:5: hoof.heat is asked overall and at the left fore`},
		"sites of none":      {head + " - step: urine\n   sites: [left]\n", `own.yaml:3: urine has no sites; leave sites: out`},
		"empty site":         {head + " - step: urine\n   sites: ['']\n", `own.yaml:3: urine has no sites`},
		"unknown key":        {head + " - step: urine\n   colour: red\n", `own.yaml:4: "colour" is no key of a step`},
		"unknown top key":    {"name: own\ncolor: 1\nsteps:\n - urine\n", `own.yaml:2: "color" is no key of a routine`},
		"empty file":         {"", "own.yaml: empty"},
		"only a comment":     {"# nothing\n", "own.yaml: empty"},
		"empty item":         {head + " - urine\n -\n", "own.yaml:4: a step is written as its name"},
		"no step in item":    {head + " - heading: x\n", "own.yaml:3: an item without a step"},
		"empty steps":        {"name: own\nsteps: []\n", "own.yaml:2: steps: takes a list"},
		"steps no list":      {"name: own\nsteps: urine\n", "own.yaml:2: steps: takes a list"},
		"no steps":           {"name: own\n", "own.yaml: no steps: key"},
		"no name":            {"steps:\n - urine\n", "own.yaml: no name: key"},
		"bad name":           {"name: My Own\nsteps:\n - urine\n", "own.yaml:1: a name is lower-case"},
		"built-in name":      {"name: full-exam\nsteps:\n - urine\n", "own.yaml:1: full-exam is the name of a built-in routine"},
		"wide title":         {"name: own\ntitle: " + strings.Repeat("x", 31) + "\nsteps:\n - urine\n", "own.yaml:2: title: is 31 columns wide, there is room for 30"},
		"wide heading":       {head + " - step: urine\n   heading: far too far away behind\n", "own.yaml:4: heading: is 23 columns wide"},
		"a list":             {"- urine\n- manure\n", "own.yaml:1: a routine begins with keys"},
		"plain text":         {"urine\n", "own.yaml:1: a routine begins with keys"},
		"two documents":      {head + " - urine\n---\nname: b\n", "own.yaml:5: a second document"},
		"alias":              {head + " - &a urine\n - *a\n", "own.yaml:3: a step is written as its name"},
		"key twice":          {"name: own\nname: two\nsteps:\n - urine\n", "own.yaml:2: not YAML: mapping key"},
		"broken":             {head + " - urine\n - [left\n", "own.yaml:4: not YAML"},
		"tabs":               {"name: own\nsteps:\n\t- urine\n", "own.yaml:3: not YAML"},
		"not UTF-8":          {"name: own\ntitle: \xff\xfe\n", "own.yaml:2: not UTF-8 text"},
		"zero byte":          {"name: own\ntitle: a\x00b\n", "own.yaml:2: holds a zero byte"},
		"long line":          {"name: own\ntitle: " + strings.Repeat("x", 500), "own.yaml:2: a line of more than 400"},
		"too many lines":     {strings.Repeat("\n", 1001), "own.yaml:1001: more than 1000 lines"},
		"deep":               {"a: " + strings.Repeat("[", 300) + "\nb: " + strings.Repeat("{", 300) + "\nc: " + strings.Repeat("[", 390) + "\n" + strings.Repeat("[", 390), "own.yaml:4: more than "},
		"too large":          {strings.Repeat("# x\n", 1<<18+1), "own.yaml: larger than 1 MB"},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := readText(c.text)
			require.Error(t, err)
			var bad *FileError
			require.ErrorAs(t, err, &bad)
			assert.Contains(t, err.Error(), c.want)
			assert.Equal(t, exam.Routine{}, r)
		})
	}
}

func TestEveryProblemIsNamedInOrder(t *testing.T) {
	_, err := readText("name: own\nsteps:\n - heart.rat\n - step: eye.look\n   sites: left\n - gum.color\nextra: 1\n")
	require.Error(t, err)
	var lines []string
	for _, l := range strings.Split(err.Error(), "\n")[1:] {
		lines = append(lines, strings.SplitN(l, ": ", 2)[0])
	}
	assert.Equal(t, []string{"own.yaml:3", "own.yaml:4", "own.yaml:6", "own.yaml:7"}, lines)
	many := "name: own\nsteps:\n" + strings.Repeat(" - nonsense\n", 50)
	_, err = readText(many)
	assert.Contains(t, err.Error(), "and 30 more")
}

// TestHostileText: no escape sequence, bidi control or invisible sign of a file
// reaches the screen (CWE-150, CVE-2021-42574).
func TestHostileText(t *testing.T) {
	r, err := readText("name: own\ntitle: \"a\\e[31mb\\u202Ec\\u0007\"\nabout: \"x\\u200Fy\\nz\"\nsteps:\n - step: urine\n   heading: \"\\u009b2Jat\"\n")
	require.NoError(t, err)
	for _, text := range []string{r.Title, r.About, r.Asks[0].Heading} {
		assert.Equal(t, notation.CleanLine(text, 0), text)
		assert.NotContains(t, text, "\x1b")
		assert.NotContains(t, text, "\u202e")
	}
	_, err = Read(strings.NewReader("name: own\nsteps:\n - \"\\e[2Jurin\\u202E\"\n"), "\x1b[31mown.yaml", steps.Table())
	require.Error(t, err)
	for _, l := range strings.Split(err.Error(), "\n") {
		assert.Equal(t, notation.CleanLine(l, 0), l)
	}
	assert.Contains(t, err.Error(), "did you mean urine?")
}

func TestReadFailureIsPassedOn(t *testing.T) {
	_, err := Read(iotest.ErrReader(io.ErrUnexpectedEOF), "own.yaml", steps.Table())
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
	assert.ErrorContains(t, err, "own.yaml")
}
