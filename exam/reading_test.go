package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// chained are entries with their numbers and hashes.
func chained(t *testing.T, list ...exam.Entry) []exam.Entry {
	t.Helper()
	var prev exam.Hash
	for i := range list {
		list[i].Visit, list[i].Seq, list[i].Prev = "v", i+1, prev
		list[i].At = time.Date(2026, 3, 2, 9, i, 0, 0, time.UTC)
		err := exam.Seal(&list[i])
		require.NoError(t, err)
		prev = list[i].Hash
	}
	return list
}

// A veterinarian's reading signs off what was saved until then; a colleague's does not, a later line is not part of it,
// and a corrected reading stands once.
func TestWhoReadAVisitAndWhatCameAfter(t *testing.T) {
	temp := func(v float64) exam.Entry {
		return exam.Entry{By: "Ann", Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}}}
	}
	read := func(by string, role exam.ReaderRole, corrects int) exam.Entry {
		return exam.Entry{By: by, Kind: exam.EntryRead, Corrects: corrects, Reading: &exam.ReadingLine{Role: role, Words: "seen"}}
	}
	lines := chained(t, exam.Entry{By: "Ann", Kind: exam.EntryOpened, Opening: &exam.Opening{}}, temp(38), read("Bo", exam.ReadByColleague, 0),
		read("Dr Vale", exam.ReadByVet, 0), exam.Entry{By: "Ann", Kind: exam.EntryClosed}, temp(39), read("Cy", exam.ReadByColleague, 0))
	v, err := exam.Fold(lines[:3])
	require.NoError(t, err)
	_, _, ok := v.SignedOff()
	assert.False(t, ok, "a colleague signs nothing off")
	assert.Empty(t, v.Told())
	v, err = exam.Fold(lines[:4])
	require.NoError(t, err)
	r, since, ok := v.SignedOff()
	assert.True(t, ok)
	assert.Equal(t, "Dr Vale", r.By)
	assert.Zero(t, since)
	assert.True(t, exam.AnyHas(v.Told(), 4), "who read it knows of it")
	v, err = exam.Fold(lines)
	require.NoError(t, err)
	_, since, _ = v.SignedOff()
	assert.Equal(t, 2, since, "the closing and the finding, not the colleague's reading")
	assert.Contains(t, v.SignedOffWords(), "2 lines were saved after it")

	v, err = exam.Fold(chained(t, append(append([]exam.Entry(nil), lines[:4]...), read("Dr Ines Vale", exam.ReadByVet, 4))...))
	require.NoError(t, err)
	require.Len(t, v.Readings, 2)
	assert.Equal(t, "Dr Ines Vale", v.Readings[1].By)
}

func TestAReadingNeedsANameARoleAndSomethingToRead(t *testing.T) {
	v := exam.Visit{Findings: []exam.Finding{{Step: "temp.rectal"}}}
	e := exam.Entry{By: "Dr Vale", Reading: &exam.ReadingLine{Role: exam.ReadByVet}}
	require.NoError(t, v.CheckReading(e))
	require.Error(t, exam.Visit{}.CheckReading(e))
	e.By = " \t"
	require.Error(t, v.CheckReading(e))
	e.By, e.Reading = "Dr Vale", &exam.ReadingLine{Role: "owner"}
	require.Error(t, v.CheckReading(e))
}
