package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/screentest"
)

// s says where the numbers of the step come from, on every size; nothing typed is lost under it.
func TestSourceOfAStep(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d, store, id := begin(t, "Thistle", "tpr-recheck", size)
		d.GoTo(t, "Rectal temperature")
		d.Type("38.4")
		d.Press("s")
		assert.True(t, d.Reads("Where it comes from: Rectal temperature"))
		assert.True(t, d.Reads("source of usual from 36.5: Breuer & Schusser"))
		d.Press("9", "u", "x") // nothing happens under it
		d.Press("esc")
		d.Press("enter")
		assert.Equal(t, "38.4 C", finding(t, store, id, exam.Key{Step: "temp.rectal"}).Value.Number.String())
	}
}

// While a weight is estimated s gives every equation with its numbers, and after it is stored the same of the record.
func TestSourceOfAWeight(t *testing.T) {
	d, store, id := begin(t, "Bracken", "full-exam", wide())
	d.GoTo(t, "Body weight")
	d.Press("s")
	assert.True(t, d.Reads("By scale"))
	assert.True(t, d.Reads("Ellis & Hollands"))
	d.Press("s", "3", "s")
	assert.True(t, d.Reads("It goes into"), "where the tape goes, and what for")
	d.Press("s")
	for _, text := range []string{"193cm", "193cm", "170cm"} {
		if text == "170cm" {
			d.Type(text)
			break
		}
		d.Type(text)
		d.Press("enter")
	}
	require.True(t, d.Shows("90 of 100 animals"), d.View())
	d.Press("s")
	for _, part := range []string{"W = G² x L / 11,900 (cm, kg)", "281 of 372 weighed horses", "published error: r² 0.90", "band of 90 % of animals", "Carroll & Huntington"} {
		assert.True(t, d.Reads(part), part)
	}
	d.Press("s", "enter")
	f := finding(t, store, id, exam.Key{Step: "weight.body"})
	require.NotNil(t, f.Value.Weight)
	assert.Equal(t, exam.WeightMeasured, f.Value.Weight.Method)
}

// A running count is not covered by its source.
func TestSourceWaitsForARunningCount(t *testing.T) {
	d, _, _ := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Heart rate")
	d.Press("space", "space", "space", "s")
	assert.False(t, d.Shows("Where it comes from"))
	assert.True(t, d.Reads("A count or timer is running"))
}
