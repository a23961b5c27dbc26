package intake_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/steps"
)

func latest() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }

func look(table string) (*intake.Proposal, error) {
	return intake.Look(strings.NewReader(table), "yard.csv", intake.How{}, steps.Table(), latest())
}

func meansOf(t *testing.T, table, name string) *intake.Guess {
	t.Helper()
	p, err := look(table)
	require.NoError(t, err)
	for _, g := range p.Columns {
		if g.Name == name {
			return g
		}
	}
	t.Fatalf("no column %q", name)
	return nil
}

// What people write above a column, as common practice of the trade has it, and what it is taken for.
func TestNamesOfColumns(t *testing.T) {
	for name, c := range map[string]struct{ cell, means, unit string }{
		"Temp (F)":            {"101.2", "temp.rectal", "F"},
		"T":                   {"38.1", "temp.rectal", "C"},
		"HR /min":             {"40", "heart.rate", ""},
		"Resp. rate":          {"12", "breath.rate", ""},
		"Wt lbs":              {"1100", "weight.body", "lb"},
		"Weight":              {"500", "weight.body", "ask"},
		"Gut UL":              {"++", "gut.sounds:left upper", ""},
		"RL gut sounds":       {"++", "gut.sounds:right lower", ""},
		"Digital pulse LF":    {"faint", "limb.digitalpulse:left fore", ""},
		"Eyes":                {"clear", "eye.look:left, eye.look:right", ""},
		"Mucous membranes":    {"pink", "gum.colour", ""},
		"T/P/R":               {"38/40/12", "temp.rectal, heart.rate, breath.rate", ""},
		"DOB":                 {"2012", "birth", ""},
		"gut.sounds:overall":  {"heard", "gut.sounds:overall", ""},
		"Invoice no.":         {"77", "ignore", ""},
		"Mood of the weather": {"fine", "note", ""},
		"Pulse":               {"strong today", "note", ""}, // its name says a number, its cells are none
	} {
		g := meansOf(t, "Horse,Date,"+name+"\nBramble,2019-05-04,"+c.cell+"\n", name)
		assert.Equal(t, []string{c.means, c.unit}, []string{g.Means, g.Unit}, name)
		assert.NotEmpty(t, g.Why, name)
	}
}

// Each word is listed with how often it is there and what it would become.
func TestWordsOfAColumn(t *testing.T) {
	g := meansOf(t, "Horse,Date,Gums\nB,2019-05-04,WNL\nB,2019-05-05,wnl\nB,2019-05-06,P\nB,2019-05-07,muddy\nB,2019-05-08,odd\nB,2019-05-09,n/a\n", "Gums")
	got := map[string]string{}
	for _, w := range g.Words {
		got[w.Text] = w.Becomes
	}
	assert.Equal(t, map[string]string{"WNL": "usual", "P": "pink", "muddy": "purple", "odd": "", "n/a": "not done"}, got)
	assert.Equal(t, 2, g.Words[0].Count)
}

// A kind of animal that is not known is a question, because another kind has other ranges; its rows stay out until then.
func TestAnUnknownKindIsAsked(t *testing.T) {
	table := "Horse,Date,Kind,HR\nB,2019-05-04,TB,40\nC,2019-05-04,zebra,44\n"
	p, err := look(table)
	require.NoError(t, err)
	assert.True(t, p.Asks())
	m, err := p.Map()
	require.NoError(t, err)
	r, err := m.Read(strings.NewReader(table), "yard.csv")
	require.NoError(t, err)
	assert.Len(t, r.Bad, 1)
	g := p.Columns[2]
	require.Len(t, p.Options(g), len(exam.Animals()))
	p.Answer(g, "donkey")
	assert.False(t, p.Asks())
	m, err = p.Map()
	require.NoError(t, err)
	r, err = m.Read(strings.NewReader(table), "yard.csv")
	require.NoError(t, err)
	require.Len(t, r.Exams, 2)
	assert.Equal(t, exam.AnimalDonkey, r.Exams[1].Horse.Kind)
}

// Every form that a question proposes is taken by the map.
func TestTheFormsThatAreProposedAreTaken(t *testing.T) {
	for table, forms := range map[string][]string{
		"Name,Seen,Temp\nBracken,3/4/2019,38.1\n": {"DD/MM/YYYY", "MM/DD/YYYY"},
		"Name,Seen,Temp\nBracken,3.4.2019,38.1\n": {"D.M.YYYY", "M.D.YYYY"},
		"Name,Seen,Temp\nBracken,43589,38.1\n":    {"serial 1900", "serial 1904"},
	} {
		_, err := apply(t, short, table)
		require.Error(t, err)
		got := map[string]bool{}
		for _, form := range forms {
			assert.Contains(t, err.Error(), "format: "+form)
			visits, err := apply(t, strings.Replace(short, "Seen: date", "Seen: {is: date, format: "+form+"}", 1), table)
			require.NoError(t, err, form)
			got[days(t, visits)[0]] = true
		}
		assert.Len(t, got, 2, "each is another day")
	}
}

// A time of day stands behind the date or in a column of its own.
func TestTimesOfDay(t *testing.T) {
	for text, want := range map[string]string{
		"14:30": "14:30", "14.30": "14:30", "2:30 pm": "14:30", "2 PM": "14:00", "0930": "09:30", "17h": "17:00", "12 am": "00:00", "12:15 p.m.": "12:15", "0.604166666666667": "14:30",
	} {
		visits, err := apply(t, strings.Replace(short, "  Seen: date", "  Seen: date\n  At: time", 1), "Name,Seen,At,Temp\nBracken,2019-05-04,"+text+",38.1\n")
		require.NoError(t, err, text)
		assert.Equal(t, "2019-05-04 "+want, days(t, visits)[0], text)
	}
	for _, text := range []string{"25:00", "9", "14:61", "13 pm", "noonish"} {
		_, err := apply(t, strings.Replace(short, "  Seen: date", "  Seen: date\n  At: time", 1), "Name,Seen,At,Temp\nBracken,2019-05-04,"+text+",38.1\n")
		require.ErrorContains(t, err, "no time of day", text)
	}
}

// Names that may be one horse in two spellings are asked about; names that differ in a digit, a chip or an owner are not.
func TestSpellings(t *testing.T) {
	for _, c := range []struct {
		a, b intake.HorseName
		ask  bool
	}{
		{intake.HorseName{Text: "Bramble", Line: 2, Times: 9}, intake.HorseName{Text: "Brambel", Line: 3, Times: 1}, true},
		{intake.HorseName{Text: "Bramble", Line: 2}, intake.HorseName{Text: "Brambles", Line: 3}, true},
		{intake.HorseName{Text: "Bella", Line: 2}, intake.HorseName{Text: "Della", Line: 3}, true},
		{intake.HorseName{Text: "Horse 1", Line: 2}, intake.HorseName{Text: "Horse 2", Line: 3}, false},
		{intake.HorseName{Text: "Bramble", Line: 2, Chip: "1"}, intake.HorseName{Text: "Brambel", Line: 3, Chip: "2"}, false},
		{intake.HorseName{Text: "Bramble", Line: 2, Owner: "A"}, intake.HorseName{Text: "Brambel", Line: 3, Owner: "B"}, false},
		{intake.HorseName{Text: "Bracken", Line: 2}, intake.HorseName{Text: "Bramble", Line: 3}, false},
		{intake.HorseName{Text: "Al", Line: 2}, intake.HorseName{Text: "Ali", Line: 3}, false},
	} {
		list := intake.Spellings([]intake.HorseName{c.a, c.b}, func(string) bool { return false })
		assert.Len(t, list, map[bool]int{true: 1}[c.ask], "%s %s", c.a.Text, c.b.Text)
		assert.Empty(t, intake.Spellings([]intake.HorseName{c.a, c.b}, func(name string) bool { return name == c.b.Text }))
	}
}

// A weight that no grown animal of its kind has is asked about; a foal's is not.
func TestWeightsOfGrownAnimals(t *testing.T) {
	mapping := "horse: {kind: horse}\nvisit: {by: Sue Hart}\ncolumns:\n  Name: horse name\n  Seen: date\n  Born: birth\n  Wt: {step: weight.body, unit: kg}\n"
	table := "Name,Seen,Born,Wt\nBramble,2019-05-04,2010,45\nPip,2019-05-04,2019-04-20,45\nTeasel,2019-05-04,,1500\nMerlin,2019-05-04,,520\n"
	m, err := mapOf(mapping)
	require.NoError(t, err)
	r, err := m.Read(strings.NewReader(table), "yard.csv")
	require.NoError(t, err)
	require.Len(t, r.Bad, 2)
	assert.Contains(t, r.Bad[0].Why(), "45 kg is no weight of a grown horse")
	assert.Contains(t, r.Bad[1].Why(), "1500 kg is no weight")
	for answer, want := range map[string]int{"take": 4, "leave out": 4, "ask": 2} {
		m, err := mapOf(strings.Replace(mapping, "unit: kg", "unit: kg, weights: "+answer, 1))
		require.NoError(t, err)
		r, err := m.Read(strings.NewReader(table), "yard.csv")
		require.NoError(t, err)
		assert.Len(t, r.Exams, want, answer)
		f, _ := fold(t, r.Visit(0)).Finding(exam.Key{Step: "weight.body"})
		assert.Equal(t, answer == "take" || want == 2, f.Done(), answer)
	}
}

// An origin reads back as what it was, however long its parts.
func TestOrigins(t *testing.T) {
	at := time.Date(2026, 3, 1, 9, 0, 0, 0, time.FixedZone("", 3600))
	for _, o := range []intake.ImportedFrom{
		{File: "yard.csv", Line: 7, Digest: "0123456789abcdef0123456789abcdef", At: at, By: "Ann by the line 3"},
		{File: strings.Repeat("long name ", 30) + ".csv", Line: 100_000, Digest: "0123456789abcdef0123456789abcdef", At: at, By: strings.Repeat("Ann ", 60)},
		{File: "a line 4, imported.csv", Line: 1, Digest: "01"},
		{File: "a line 4, imported 2020-01-01T00:00:00Z by Bo (SHA-256 00).csv", Line: 5, Digest: "02", At: at, By: "Ann (SHA-256 01)"},
	} {
		text := o.String()
		assert.Less(t, len([]rune(text)), 200, "an opening keeps the whole line")
		got, ok := intake.ReadOrigin(text)
		require.True(t, ok, text)
		assert.Equal(t, o.Line, got.Line)
		assert.True(t, o.At.Equal(got.At))
		assert.Equal(t, text, got.String())
		assert.Equal(t, o.Number(), got.Number())
	}
	for _, text := range []string{"", "rehearsal colic seed 7 of 0123", "visit 01, which was entered for Bramble and voided"} {
		_, ok := intake.ReadOrigin(text)
		assert.False(t, ok, text)
	}
}

// Whatever the sheet, a proposal without an open question is a map that is taken as it stands; nothing of it can move the
// cursor.
func FuzzLook(f *testing.F) {
	f.Add([]byte("Horse,Date,Temp,Gums\nBramble,2019-05-04,38.1,P\n"))
	f.Add([]byte("a: b;- c;\"x\";#y\nBramble;2019-05-04;{1};[2]\n"))
	f.Add([]byte("Name\tDate\tTest\tValue\nB\t2019-05-04\tHR\tN\n"))
	f.Add([]byte("[{\"horse\":\"B\",\"date\":\"2019-05-04\",\"hr\":40}]"))
	f.Add([]byte("Temp,Temp (2),Temp,TEMP,,\n1,2,3,4,5,6\n\"x\ny\",y,n,~,null,0x1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := intake.Look(bytes.NewReader(data), "yard.csv", intake.How{}, steps.Table(), latest())
		if err != nil {
			problemsOf(t, err)
			return
		}
		for _, line := range strings.Split(p.YAML(), "\n") {
			assertClean(t, line)
		}
		m, err := p.Map()
		if err != nil {
			if !p.Asks() && !strings.Contains(err.Error(), "nothing says") && !strings.Contains(err.Error(), "no column holds a step") && !strings.Contains(err.Error(), "no columns") && !strings.Contains(err.Error(), "list of keys") {
				t.Fatalf("%v\n%s", err, p.YAML())
			}
			return
		}
		m.Latest = latest()
		r, err := m.Read(bytes.NewReader(data), "yard.csv")
		if err != nil {
			problemsOf(t, err)
			return
		}
		for i := range r.Exams {
			fold(t, r.Visit(i))
		}
	})
}
