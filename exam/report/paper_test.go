package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func theJudge(t *testing.T) *judge.Judge {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return judge.New(table, steps.Table())
}

// The owner reads what was found and what was given; remarks, levels, notes and
// cautions are for the veterinarian and the handler.
func TestTheOwnersPageKeepsBackWhatIsForTheVeterinarian(t *testing.T) {
	p := whole(t)
	hot := temp(40.2)
	p.Visit.Findings[0].Value = *hot
	p.Visit.Findings[0].Note = "looks bad to me"
	p.Verdict = theJudge(t).Visit(p.Visit, nil)
	require.NotEmpty(t, p.Verdict.Remarks)
	text := report.SetText(report.OwnerBlocks(p, theJudge(t)), 200)
	for _, want := range []string{"40.2 C; usual", "Vaccine R, 1 mL, lot R123", "next due 2 Mar 2027", "look at the neck", "Dr Vale has the findings", "not a diagnosis", "If your horse looks ill or in pain, or", "542 kg (weight tape)"} {
		assert.Contains(t, text, want)
	}
	for _, never := range []string{"tell the vet", "recheck ", "looks bad", "kicks", p.Verdict.Remarks[0].Why} {
		assert.NotContains(t, text, never)
	}
}

// Sites that were found alike are one line.
func TestTheOwnersPageIsShort(t *testing.T) {
	var entries []exam.Entry
	for _, site := range []exam.Site{exam.LeftFore, exam.RightFore, exam.LeftHind, exam.RightHind} {
		entries = append(entries, exam.Entry{Kind: exam.EntryFinding, Step: "hoof.heat", Site: site, Value: &exam.Value{Kind: exam.KindPick, Words: []string{"even"}}})
	}
	text := report.SetText(report.OwnerBlocks(page(t, entries...), theJudge(t)), 80)
	assert.Equal(t, 1, strings.Count(text, "Hoof heat"))
	assert.Contains(t, text, "at all 4 sites")
}

// Every place of every routine has its blank on the sheet, and a horse's sheet
// says what is usual for it.
func TestTheSheetAsksEveryPlace(t *testing.T) {
	table := steps.Table()
	for _, r := range steps.Routines() {
		s := report.NewSheet(r, table, nil, nil, exam.Class{}, theJudge(t))
		n := 0
		for _, part := range s.Parts {
			n += len(part.Rows)
		}
		if grown := r.For(exam.Class{}, table); 2*len(grown.Asks) > len(r.Asks) {
			r = grown // without a horse it is for a grown one
		}
		assert.Len(t, r.Asks, n, r.Name)
		text := report.SheetText(s, 80)
		for _, ask := range r.Asks {
			step, _ := table.ByID(ask.Step)
			assert.Contains(t, text, step.Name, r.Name)
		}
		for _, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 80, line)
		}
		assert.NotContains(t, text, "(usual ", "without a horse no range is printed")
	}
	donkey := exam.Horse{Name: "Pepper", Kind: exam.AnimalDonkey, Birth: exam.Birth{Precision: exam.BornAdult}, Cautions: []string{"kicks"}}
	text := report.SheetText(report.NewSheet(steps.Routines()[0], table, nil, &donkey, exam.ClassOf(donkey, page(t).Visit.OpenedAt), theJudge(t)), 80)
	assert.Contains(t, text, "Horse: Pepper")
	assert.Contains(t, text, "Caution: kicks")
	assert.Contains(t, text, "Heart rate (usual 31-53 /min)") // the donkey's own row
	assert.Contains(t, text, "0 not felt   1 faint", "a score has its own numbers")
	assert.Contains(t, text, "1 = none   2 = reduced", "a list for several blanks is numbered")
	assert.NotContains(t, text, "Navel")
}

// A guess by eye is marked once, behind its number; any other way of weighing stands in brackets.
func TestTheOwnersPageMarksAGuessOnce(t *testing.T) {
	for method, want := range map[exam.WeighMethod]string{exam.WeightEye: "500 kg by eye", exam.WeightTape: "500 kg (weight tape)"} {
		v := exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 500, Unit: notation.Kilograms}, Weight: &exam.Weight{Method: method}}
		p := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "weight.body", Value: &v})
		text := strings.Join(strings.Fields(report.SetText(report.OwnerBlocks(p, theJudge(t)), 80)), " ")
		assert.Contains(t, text, want)
		assert.NotContains(t, text, "by eye (by eye)")
	}
}
