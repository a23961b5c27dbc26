package report_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
)

// A visit that closed before it opened says that the clock was set back; any other says nothing of the clock.
func TestAClockThatWasSetBackIsSaid(t *testing.T) {
	p := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(38)}, exam.Entry{Kind: exam.EntryClosed})
	said := func() bool {
		return strings.Contains(strings.Join(strings.Fields(report.Text(p, 80)), " "), "before it was opened: the clock was set back")
	}
	require.NotNil(t, p.Visit.ClosedAt)
	assert.False(t, p.Visit.ClosedBeforeOpened())
	assert.False(t, said())
	earlier := p.Visit.OpenedAt.Add(-24 * time.Hour)
	p.Visit.ClosedAt = &earlier
	assert.True(t, p.Visit.ClosedBeforeOpened())
	assert.True(t, said())
}
