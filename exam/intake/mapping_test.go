package intake_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/steps"
)

// yard is an invented mapping with one column of each kind.
const yard = `about: the yard book
horse:
  kind: pony
  place: Low Farm
visit:
  by: Sue Hart
  routine: tpr-recheck
  reason: yard round
  note: copied from the yard book
columns:
  Name: horse name
  Seen: {is: date, format: DD/MM/YYYY hh:mm}
  Born: birth
  Sex:
    is: sex
    values: {f: mare, m: gelding}
  Temp: {step: temp.rectal, unit: F}
  Gut LU: gut.sounds:left upper
  Gums:
    step: gum.colour
    values: {P: pink, W: white, "?": "not done: too dark"}
  CRT:
    step: gum.refill
    values: {slow: 3 s or more, "n/a": not done}
  Look:
    steps: [demeanour, pain.signs]
    values:
      well: {demeanour: bright, pain.signs: none}
      sore: {pain.signs: "flank, paws"}
  Rest: at rest
  Remarks: {note: remarks}
  Invoice: ignore
`

const yardHead = "Name,Seen,Born,Sex,Temp,Gut LU,Gums,CRT,Look,Rest,Remarks,Invoice\n"

func mapOf(text string) (intake.Map, error) {
	return intake.ReadMap(strings.NewReader(text), "yard.yaml", steps.Table())
}

func apply(t testing.TB, mapping, table string) ([]intake.Visit, error) {
	t.Helper()
	m, err := mapOf(mapping)
	require.NoError(t, err)
	m.Zone = time.FixedZone("", 3600)
	m.Latest = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	return m.Apply(strings.NewReader(table), "yard.csv")
}

func TestMapMakesVisits(t *testing.T) {
	rows, err := apply(t, yard, yardHead+
		"Bramble,04/05/2019 14:30,2012,f,101.2,none,?,2.5,sore,yes,left some hay,77\n"+
		"Bramble,05/05/2019 08:00,2012,f,,heard,P,slow,well,no,,78\n"+
		"Teasel,05/05/2019 08:30,,m,38.4C,,W,N/A,,,,79\n")
	require.NoError(t, err)
	require.Len(t, rows, 3)
	v := fold(t, rows[0])
	assert.Equal(t, time.Date(2019, 5, 4, 14, 30, 0, 0, time.FixedZone("", 3600)).Unix(), v.OpenedAt.Unix())
	assert.Equal(t, []any{"Bramble", exam.AnimalPony, exam.Mare, "Low Farm", exam.BornYear}, []any{v.Horse.Name, v.Horse.Kind, v.Horse.Sex, v.Horse.Place, v.Horse.Birth.Precision})
	assert.Equal(t, []string{"Sue Hart", "tpr-recheck", "yard round"}, []string{v.By, v.Routine, v.Reason})
	assert.True(t, v.Closed())
	assert.Equal(t, []exam.State{exam.StateRest}, v.Context.States)
	require.Len(t, v.Notes, 2)
	assert.Equal(t, "remarks: left some hay", v.Notes[1].Text)

	type want struct {
		row   int
		step  exam.StepID
		site  exam.Site
		shown string // or the reason why it was not done
	}
	for _, w := range []want{
		{0, "temp.rectal", "", "101.2 F"},
		{0, "gut.sounds", exam.LeftUpper, "none"},
		{0, "gum.colour", "", "not done: too dark"},
		{0, "gum.refill", "", "2.5 s"},
		{0, "demeanour", "", "not done: not recorded"},
		{0, "pain.signs", "", "looks at its flank, paws"},
		{1, "temp.rectal", "", "not done: not recorded"},
		{1, "gum.refill", "", "3 s or more"},
		{1, "demeanour", "", "bright and alert"},
		{1, "pain.signs", "", "none seen"},
		{2, "temp.rectal", "", "38.4 C"},
		{2, "gut.sounds", exam.LeftUpper, "not done: not recorded"},
		{2, "gum.colour", "", "white"},
		{2, "gum.refill", "", "not done: not recorded"},
		{2, "demeanour", "", "not done: not recorded"},
	} {
		f, ok := fold(t, rows[w.row]).Finding(exam.Key{Step: w.step, Site: w.site})
		require.True(t, ok, w)
		step, _ := steps.Table().ByID(w.step)
		shown := f.Value.Show(step)
		if !f.Done() {
			shown = "not done: " + f.NotDone.String()
		}
		assert.Equal(t, w.shown, shown, w)
	}
	horses := intake.ByHorse(rows)
	require.Len(t, horses, 2)
	assert.Len(t, horses[0].Visits, 2)
}

func TestMapRefusesRowsByLine(t *testing.T) {
	good := "Bramble,04/05/2019 14:30,2012,f,101.2,none,P,2.5,sore,yes,,1\n"
	for name, c := range map[string]struct {
		table, column string
		line          int
		what          string
	}{
		"unmapped":    {strings.Replace(yardHead, "Invoice", "Invoice,Tempp", 1) + "Bramble,04/05/2019 14:30,2012,f,101.2,none,P,2.5,sore,yes,,1,2\n", "Tempp", 1, "did you mean Temp"},
		"missing":     {strings.Replace(yardHead, ",Invoice", "", 1) + "Bramble,04/05/2019 14:30,2012,f,101.2,none,P,2.5,sore,yes,\n", "Invoice", 1, "the file does not"},
		"celsius":     {yardHead + good + strings.Replace(good, "101.2", "38.4", 1), "Temp", 3, "did you mean 38.4 C"},
		"impossible":  {yardHead + strings.Replace(good, "101.2", "1012", 1), "Temp", 2, "not possible"},
		"word":        {yardHead + strings.Replace(good, ",P,", ",pink,", 1), "Gums", 2, "not among the values"},
		"several":     {yardHead + strings.Replace(good, "sore", "soar", 1), "Look", 2, "did you mean sore"},
		"sex":         {yardHead + strings.Replace(good, ",f,", ",x,", 1), "Sex", 2, "not among the values"},
		"birth":       {yardHead + strings.Replace(good, "2012", "long ago", 1), "Born", 2, "birth date"},
		"date":        {yardHead + strings.Replace(good, "04/05/2019 14:30", "4 Floreal 2019", 1), "Seen", 2, "no date"},
		"month 13":    {yardHead + strings.Replace(good, "04/05", "04/13", 1), "Seen", 2, "no date"},
		"future":      {yardHead + strings.Replace(good, "2019", "2031", 1), "Seen", 2, "in the future"},
		"no date":     {yardHead + strings.Replace(good, "04/05/2019 14:30", "", 1), "Seen", 2, "when the exam was"},
		"no name":     {yardHead + strings.Replace(good, "Bramble", "", 1), "Name", 2, "which horse"},
		"rest":        {yardHead + strings.Replace(good, "yes", "maybe", 1), "Rest", 2, "neither yes nor no"},
		"row twice":   {yardHead + good + good, "", 3, "the same as line 2"},
		"few fields":  {yardHead + "Bramble,04/05/2019\n", "", 2, "2 fields"},
		"column twin": {strings.Replace(yardHead, "Invoice", "Temp", 1) + good, "Temp (2)", 1, "does not say what this column means"},
	} {
		t.Run(name, func(t *testing.T) {
			rows, err := apply(t, yard, c.table)
			assert.Empty(t, rows)
			p := problemsOf(t, err)[0]
			assert.Equal(t, c.line, p.Line, p.What)
			assert.Equal(t, c.column, p.Column, p.What)
			assert.Contains(t, p.What, c.what)
		})
	}
}

func TestOneHorseCannotBeTwoKinds(t *testing.T) {
	mapping := strings.Replace(yard, "  Invoice: ignore", "  Invoice: kind", 1)
	_, err := apply(t, mapping, yardHead+
		"Bramble,04/05/2019 14:30,,f,101.2,none,P,2.5,sore,yes,,pony\nbramble,05/05/2019 14:30,,f,101.2,none,P,2.5,sore,yes,,donkey\n")
	assert.Contains(t, problemsOf(t, err)[0].What, "is a donkey here and a pony in line 2")
}
