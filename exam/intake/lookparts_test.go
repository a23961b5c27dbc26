package intake_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// Several numbers in one cell are proposed to be split by the names in the head, whatever stands between them, where the
// numbers are possible so; a name that is of other things, or cells that are no such numbers, stay a comment.
func TestSeveralNumbersInOneCell(t *testing.T) {
	const hr, rr, temp = "heart.rate", "breath.rate", "temp.rectal"
	for name, c := range map[string]struct {
		cell  string
		means []string
		split string
	}{
		"HR/RR":               {"36/12", []string{hr, rr}, "/"},
		"HR & RR":             {"36/12", []string{hr, rr}, "/"},
		"HR RR":               {"36-12", []string{hr, rr}, "-"},
		"P/R":                 {"36 / 12", []string{hr, rr}, "/"},
		"Pulse and breathing": {"36;12", []string{hr, rr}, ";"},
		"T/HR/RR":             {"38.1/36/12", []string{temp, hr, rr}, "/"},
		"T (F)/HR/RR":         {"101.2/36/12", []string{temp, hr, rr}, "/"},
		"Temp/Pulse/Resp":     {"38,1/36/12", []string{temp, hr, rr}, "/"},
		"Resp, Pulse":         {"12/36", []string{rr, hr}, "/"},
		"T.P.R.":              {"38.1|36|-", []string{temp, hr, rr}, "|"},
		"HR/RR/Gums":          {"36/12/pink", []string{"note"}, ""}, // gums are no number
		"HR/Weight":           {"36/500", []string{"note"}, ""},     // its number does not say its unit
		"RR/HR ":              {"see the page", []string{"note"}, ""},
		"Stall/Box":           {"36/12", []string{"note"}, ""},
	} {
		if name == "Stall/Box" {
			c.cell = "3/4" // can be no rates
		}
		g := meansOf(t, "Horse;Date;"+strings.TrimSpace(name)+"\nBramble;2019-05-04;\""+c.cell+"\"\n", strings.TrimSpace(name))
		assert.Equal(t, []string{strings.Join(c.means, ", "), c.split, ""}, []string{g.Means, g.Split, g.Ask}, "%s: %s", name, g.Why)
	}
}

// Where the numbers fit another order than the one that the name says, or the name says nothing, it is asked; nothing comes in
// before that.
func TestWhichNumberIsWhichIsAsked(t *testing.T) {
	for name, c := range map[string]struct{ cells, answer string }{
		"RR/HR": {"44/10 36/12 40/8", "heart.rate, breath.rate"},
		"Obs":   {"38.1/36/12 101.2/40/10 38.3/44/16", "temp.rectal, heart.rate, breath.rate"},
	} {
		table := "Horse,Date," + name + "\n"
		for i, cell := range strings.Fields(c.cells) {
			table += "Bramble,2019-05-0" + string(rune('1'+i)) + "," + cell + "\n"
		}
		p, err := look(table)
		require.NoError(t, err)
		g := p.Columns[2]
		require.NotEmpty(t, g.Ask, "%s: %s %s", name, g.Means, g.Why)
		m, err := p.Map()
		require.NoError(t, err)
		_, err = m.Read(strings.NewReader(table), "yard.csv")
		require.ErrorContains(t, err, "which of its numbers is which", p.YAML())
		var answers []string
		for _, o := range p.Options(g) {
			answers = append(answers, o.Value)
			assert.NotEmpty(t, o.Words)
		}
		assert.Contains(t, answers, c.answer)
		assert.Contains(t, answers, "note")
		p.Answer(g, c.answer)
		assert.Empty(t, g.Ask)
		m, err = p.Map()
		require.NoError(t, err, p.YAML())
		r, err := m.Read(strings.NewReader(table), "yard.csv")
		require.NoError(t, err)
		require.Empty(t, r.Bad)
		require.Len(t, r.Exams, 3)
		f, ok := fold(t, r.Visit(1)).Finding(exam.Key{Step: "heart.rate"})
		require.True(t, ok)
		assert.InDelta(t, map[string]float64{"RR/HR": 36, "Obs": 40}[name], f.Value.Number.Value, 0)

		p, err = look(table)
		require.NoError(t, err)
		p.Answer(p.Columns[2], "note")
		assert.Equal(t, []string{"note", ""}, []string{p.Columns[2].Means, p.Columns[2].Ask})
	}
}

// A step that has a column of its own is not taken out of another column as well.
func TestAStepIsInOneColumn(t *testing.T) {
	p, err := look("Horse,Date,HR,HR/RR\nBramble,2019-05-04,36,36/12\n")
	require.NoError(t, err)
	assert.Equal(t, "note", p.Columns[3].Means)
	_, err = p.Map()
	require.NoError(t, err)
}
