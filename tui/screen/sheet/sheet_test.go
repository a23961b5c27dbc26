package sheet_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/intake"
	"loosebox/exam/steps"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/sheet"
	"loosebox/tui/screentest"
)

const yard = "Hollow Farm\nHorse,Date,Temp,Gums,Weight,Remarks\n" +
	"Bramble,4/5/2019,38.1,P,500,ate well\nBramble,5/6/2019,100.4,pk,45,\nBrambel,6/7/2019,38.0,odd,510,\nTeasel,7/8/2019,38.4,WNL,480,\n"

func open(t testing.TB, table string, size layout.Size) (*screentest.Driver, *nav.SheetPlan) {
	t.Helper()
	p, err := intake.Look(strings.NewReader(table), "yard.csv", intake.How{}, steps.Table(), time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC))
	require.NoError(t, err)
	plan := &nav.SheetPlan{Proposal: p}
	deps, _ := screentest.Deps(t)
	return screentest.New(t, deps, sheet.New, nav.Address{Screen: nav.Sheet, Sheet: plan}, size), plan
}

func TestTheColumnsAreDrawnInEverySize(t *testing.T) {
	for name, press := range map[string][]string{"sheet-columns": {"down"}, "sheet-question": {"down", "enter"}, "sheet-words": {"down", "down", "down", "h"}, "sheet-change": {"e", "g", "u", "t"}} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			d, _ := open(t, yard, size)
			d.Press(press...)
			return d
		})
	}
}

// to moves the cursor to the row with a name.
func to(t testing.TB, d *screentest.Driver, name string) {
	t.Helper()
	d.Press("home")
	for range 40 {
		if strings.Contains(d.Row(name), ">") {
			return
		}
		d.Press("down")
	}
	t.Fatalf("no row %s in\n%s", name, d.View())
}

// Each question is answered once, every other line is confirmed, a word is changed; the map says all of it, and takes the
// sheet in.
func TestAnsweredColumnsMakeAMap(t *testing.T) {
	d, plan := open(t, yard, layout.Size{W: 80, H: 24})
	d.Press("f")
	assert.False(t, plan.Done, "nothing is imported before all is confirmed")
	d.Press("a", "f")
	assert.False(t, plan.Done, "nor while a question is open")
	to(t, d, "Date")
	d.Press("enter")
	assert.True(t, d.Shows("the day stands first"))
	d.Press("down", "enter")
	to(t, d, "Weight")
	d.Press("enter", "enter") // kg
	require.Contains(t, d.Row("Weight"), "- ", "one weight is no horse's")
	d.Press("enter", "enter") // not possible
	to(t, d, "your name")
	d.Press("enter")
	d.Type("Ann Bell")
	d.Press("enter")
	to(t, d, "Gums")
	d.Press("h", "down", "down", "down", "e")
	d.Type("pale pink")
	d.Press("enter", "esc")
	to(t, d, "Brambel")
	d.Press("enter", "enter")
	d.Press("f")
	require.True(t, plan.Done)
	assert.Equal(t, "Ann Bell", plan.Taker)
	m, err := plan.Proposal.Map()
	require.NoError(t, err, plan.Proposal.YAML())
	m.Latest = time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)
	r, err := m.Read(strings.NewReader(yard), "yard.csv")
	require.NoError(t, err)
	assert.Empty(t, r.Bad)
	require.Len(t, r.Exams, 4)
	assert.Equal(t, "Bramble", r.Exams[2].Horse.Name)
	assert.Equal(t, "2019-06-07", r.Exams[2].At.Format(time.DateOnly), "the month stands first")
}

// A column that is changed is looked at anew by what it is now.
func TestAColumnIsChanged(t *testing.T) {
	d, plan := open(t, "Horse,Date,Belly\nBramble,2019-05-04,12\nTeasel,2019-05-05,14\n", layout.Size{W: 80, H: 24})
	to(t, d, "Belly")
	d.Press("e")
	d.Type("breath.rate")
	d.Press("enter")
	assert.Equal(t, "breath.rate", plan.Proposal.Columns[2].Means)
	d.Press("e", "esc")
	assert.True(t, d.Shows("Breathing rate"))
	d.Press("esc")
	assert.True(t, d.Left())
}

// A weight that no grown animal has is put right in the question itself: another impossible one is refused with its reason,
// and the map takes the right one in.
func TestAWeightIsPutRightInTheQuestion(t *testing.T) {
	d, plan := open(t, yard, layout.Size{W: 80, H: 24})
	to(t, d, "Weight")
	d.Press("enter")
	if d.Shows("are the numbers of") || d.Shows("kg or lb") {
		d.Type("kg")
		d.Press("enter", "enter")
	}
	d.Type("right weight")
	require.True(t, d.Shows("type the right weight for 45"), d.View())
	d.Press("enter")
	require.True(t, d.Reads("The right weight wherever the column says 45"), d.View())
	d.Type("4500kg")
	d.Press("enter")
	require.True(t, d.Shows("Not taken"), d.View())
	d.Type("450 kg")
	d.Press("enter")
	for _, g := range plan.Proposal.Columns {
		if g.Name == "Weight" {
			assert.Empty(t, g.Ask, d.View())
			assert.Empty(t, g.Heavy)
		}
	}
	assert.Contains(t, plan.Proposal.YAML(), `450 kg`)
	assert.NotContains(t, plan.Proposal.YAML(), "weights: ask")
}
