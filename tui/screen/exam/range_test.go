package exam_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	screen "loosebox/tui/screen/exam"
	"loosebox/tui/screentest"
)

// An earlier temperature stands in the unit of the range beside it, whatever it was typed in.
func TestTheLastValueIsInTheUnitOfItsRange(t *testing.T) {
	for _, c := range []struct {
		set         notation.Unit
		usual, last string
	}{{notation.NoUnit, "usual 36.5-38.3 C", "last 38.7 C"}, {notation.Celsius, "usual 36.5-38.3 C", "last 38.7 C"}, {notation.Fahrenheit, " F ", "last 101.7 F"}} {
		deps, store := screentest.Deps(t)
		if c.set != notation.NoUnit {
			deps.Settings.Units = notation.Units{notation.Celsius: c.set, notation.Fahrenheit: c.set}
		}
		h := screentest.Yard(t, store)["Thistle"]
		began := func(ago time.Duration) exam.Visit {
			v, err := store.Begin(exam.Entry{
				Kind: exam.EntryOpened, At: screentest.Now().Add(-ago), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"},
			})
			require.NoError(t, err)
			return v
		}
		v := began(time.Hour)
		screentest.Number(t, store, v, "temp.rectal", exam.NoSite, 101.7, notation.Fahrenheit)
		_, err := store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: screentest.Now(), By: "Ann Bell"})
		require.NoError(t, err)
		d := screentest.New(t, deps, screen.New, nav.Address{Visit: began(0).ID}, wide())
		d.GoTo(t, "Rectal temperature")
		assert.True(t, d.Shows(c.usual), d.View())
		assert.True(t, d.Shows(c.last), d.View())
	}
}

// The evidence of a range stands beside it at 80 columns, in a line of its own where the name of the class is long.
func TestTheEvidenceOfARangeStandsBesideIt(t *testing.T) {
	deps, store := screentest.Deps(t)
	wrapped := 0
	for name, days := range map[string]int{"Wren": 20, "Dusty": 500, "Moth": 4000} { // donkeys have the longest names of classes
		h, err := store.SaveHorse(exam.Horse{
			Revision: 1, Name: name, Kind: exam.AnimalDonkey, Sex: exam.Mare, Birth: exam.Birth{At: screentest.Now().AddDate(0, 0, -days), Precision: exam.BornDay},
		}, "Ann Bell", screentest.Now())
		require.NoError(t, err)
		v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"}})
		require.NoError(t, err)
		d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
		for _, id := range []exam.StepID{"temp.rectal", "heart.rate", "breath.rate"} {
			step, _ := deps.Steps.ByID(id)
			text, ok := deps.Judge.Range(v.Class(), step, step.Unit)
			require.True(t, ok)
			d.GoTo(t, step.Name)
			row := strings.TrimRight(d.Row("usual "), " ")
			require.NotEmpty(t, row, "%s, %s: %s", name, id, d.View())
			if !strings.HasSuffix(row, ", "+text.Evidence.String()) {
				wrapped++
				assert.Regexp(t, `(?m)│ +`+text.Evidence.String()+` *$`, d.View(), "%s, %s", name, id)
			}
		}
	}
	assert.Positive(t, wrapped)
}
