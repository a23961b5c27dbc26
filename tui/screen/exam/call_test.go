package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	screen "loosebox/tui/screen/exam"
	"loosebox/tui/screen/handoff"
	"loosebox/tui/screen/review"
	"loosebox/tui/screentest"
)

// Where the veterinarian is to be told the telephone number stands beside it, in the smallest window too; nowhere else.
func TestTheTelephoneStandsWhereTheVetIsToBeTold(t *testing.T) {
	for _, size := range []layout.Size{{W: 60, H: 20}, wide()} {
		deps, store := screentest.Deps(t)
		deps.Settings.VetPhone, deps.Settings.VetNight = "555 0142", "555 0199"
		horses := screentest.Yard(t, store)
		v, err := store.Begin(exam.Entry{
			Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"},
		})
		require.NoError(t, err)
		d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, size)
		d.GoTo(t, "Rectal temperature")
		d.Type("37.9")
		d.Press("enter")
		assert.False(t, d.Reads("555 0142"), "%v: nothing to tell\n%s", size, d.View())
		d.Press("backspace")
		d.GoTo(t, "Rectal temperature")
		d.Type("39.4")
		d.Press("enter")
		assert.True(t, d.Reads("555 0142"), "%v\n%s", size, d.View())
		for name, make := range map[string]nav.Maker{"review": review.New, "hand-off": handoff.New} {
			d := screentest.New(t, deps, make, nav.Address{Visit: v.ID}, size)
			assert.True(t, d.Reads("555 0142"), "%s, %v\n%s", name, size, d.View())
			assert.True(t, d.Reads("555 0199"), "%s, %v\n%s", name, size, d.View())
		}
	}
}
