package script_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/screentest"
)

// A clock that is a year behind the horse's newest visit is said on the order form of an injection and of a draw, and a product
// that had expired at the day of that visit does not look good by it.
func TestAClockBehindIsSaidBeforeTheNeedle(t *testing.T) {
	covers := []exam.CoveredProcedure{screentest.Tetanus(), {Kind: exam.Drawing}}
	for _, kind := range []script.Name{script.Injection, script.BloodDraw} {
		for years, behind := range map[int]bool{0: false, -1: true} {
			w := begin(t, start{kind: kind})
			w.now = w.now.AddDate(years, 0, 0)
			w.add(exam.Entry{Kind: exam.EntryDecision, At: w.now, By: "Ann Bell", Decision: &exam.Decision{Words: "Do it.", Vet: "Dr. R. Sommer", How: exam.Here, Ruling: exam.GoAhead, Covers: covers}})
			var err error
			w.at.Stand, err = order.Look(w.desk, w.id)
			require.NoError(t, err)
			w.move(script.Move{})
			require.NotNil(t, w.q.Form, "%s", w.q.ID)
			said := ""
			for _, l := range w.q.Head {
				said += l.Words
			}
			assert.Equal(t, behind, strings.Contains(said, "The clock says 2 Mar 2025"), said)
			for _, f := range w.q.Form.Fields {
				if f.Key == order.Expiry && behind {
					assert.Equal(t, "Check: at the day of the newest visit it had expired, on 30 Jun 2025. Set the clock first", f.Hint("06/25"))
					assert.Equal(t, "may be used up to 30 Jun 2026", f.Hint("06/26"))
				}
			}
		}
	}
}
