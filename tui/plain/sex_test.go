package plain_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/steps"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// The prompt of a step offers the choices of the horse's sheet, whatever its sex, with their numbers.
func TestAPromptOffersWhatTheSheetOffers(t *testing.T) {
	deps, store := screentest.Deps(t)
	routine, ok := steps.Find(deps.Routines, "full-exam")
	require.True(t, ok)
	several := map[int]bool{}
	for _, h := range screentest.Yard(t, store) {
		begun, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
		require.NoError(t, err)
		out, err := typed(deps, begun.ID, "to udder", "source", "penis hangs, cannot be drawn in", "to udder", "quit")
		require.ErrorIs(t, err, plain.ErrLeft)
		var offered []string
		sheet := report.NewSheet(routine, deps.Steps, nil, &h, exam.ClassOf(h, screentest.Now()), deps.Judge)
		for _, part := range sheet.Parts {
			if i := slices.IndexFunc(part.Rows, func(r report.SheetStep) bool { return r.Name == "Udder, vulva or sheath" }); i >= 0 {
				offered = part.Rows[i].Choices
			}
		}
		require.NotEmpty(t, offered, h.Name)
		several[len(offered)] = true
		list := slices.Clone(offered)
		for i, words := range offered {
			list[i] = fmt.Sprintf("%d %s", i+1, words)
		}
		assert.Contains(t, out, "Any of, with commas: "+strings.Join(list, "; ")+". ", h.Name)
		assert.Equal(t, slices.Contains(offered, "scrotum hot, hard or very sore"), strings.Contains(out, "Scrotum hot, hard or very sore: tell"), "%s: %s", h.Name, "source")
		assert.Contains(t, out, "Saved: penis hangs", "what is so is taken, whatever the record says of the sex")
		if !slices.Contains(offered, "penis hangs, cannot be drawn in") {
			assert.Contains(t, out, fmt.Sprintf("%d penis hangs, cannot be drawn in. Now: ", len(offered)+1), "and stands last, to be taken back")
		}
	}
	assert.Greater(t, len(several), 2, "mares, geldings, stallions and one that is not known")
}
