package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/html"
	"loosebox/exam/report/pdf"
	"loosebox/exam/steps"
)

// checksOf are visits half an hour apart, newest first, whose heart rates are given oldest first.
func checksOf(t *testing.T, rates ...float64) []exam.Visit {
	t.Helper()
	base := page(t).Visit
	var out []exam.Visit
	for i, rate := range rates {
		v := base
		v.ID, v.Routine = exam.VisitID(fmt.Sprintf("v%d", i)), steps.FiveMinutes
		v.OpenedAt = base.OpenedAt.Add(time.Duration(i) * 30 * time.Minute)
		closed := v.OpenedAt.Add(5 * time.Minute)
		v.ClosedAt = &closed
		v.Findings = []exam.Finding{
			{Step: "heart.rate", At: v.OpenedAt, Value: exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: rate, Unit: notation.PerMinute}}},
			{Step: "temp.rectal", At: v.OpenedAt, Value: *temp(39.4)},
		}
		out = append([]exam.Visit{v}, out...)
	}
	return out
}

// The page of an episode has the animal, the next check, what changed, what was given, and every check with its time, in
// the person's units; it is set as text, HTML and PDF like the page of a visit.
func TestThePageOfAnEpisode(t *testing.T) {
	visits := checksOf(t, 44, 48, 52, 56, 60, 64, 68, 72)
	visits[1].Context.Given = "1 tube of paste, the owner"
	at := visits[0].OpenedAt.Add(30 * time.Minute)
	units := notation.Units{notation.Celsius: notation.Fahrenheit}
	now := at.Add(12 * time.Minute)
	c := report.EpisodeInput{Horse: visits[0].Horse, Now: now, Episode: episode.Make(units, visits, nil, theJudge(t), steps.Table(), now)}
	c.Episode.Next = &exam.Recheck{RecheckLine: exam.RecheckLine{Time: &at, What: "look again"}}
	text := report.SetText(c.Blocks(), 110)
	for _, want := range []string{
		"Bracken", "kicks", "8 checks", "12 min late", "68 -> 72 /min, further from usual; tell the vet", "1 tube of paste, the owner",
		"CHECKS 1 TO 6 OF 8", "CHECKS 7 TO 8 OF 8", "09:00", "12:30", "102.9", "no diagnosis",
	} {
		assert.Contains(t, text, want)
	}
	for i, v := range visits {
		assert.Contains(t, text, v.OpenedAt.Format("15:04"), "check %d", i)
	}
	assert.NotContains(t, text, "39.4")
	assert.Less(t, strings.Index(text, "11:30"), strings.Index(text, "12:30"), "the oldest at the left")

	charts := c.Charts(theJudge(t), steps.Table(), units, visits)
	require.Len(t, charts, 2)
	var out bytes.Buffer
	require.NoError(t, html.Write(&out, html.Page{Title: c.Title(), Foot: c.Foot(), Blocks: c.Blocks(), Charts: charts}))
	assert.Contains(t, out.String(), "<th scope=\"col\">12:30</th>")
	out.Reset()
	_, err := pdf.Write(&out, pdf.A4, pdf.Page{Title: c.Title(), Foot: c.Foot(), At: now, Blocks: c.Blocks(), Charts: charts})
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(out.Bytes(), []byte("%PDF-")))
}
