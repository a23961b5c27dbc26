package plain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

func TestMedicineIsALineAnyTime(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle",
		"medicine", "medicine paste", "medicine none: x", "medicine for pain or fever, to calm: A paste, 07:00", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Equal(t, exam.Context{Medicines: []exam.Medicine{exam.ForPain, exam.ToCalm}, Given: "A paste, 07:00"}, v.Context)
	assert.Contains(t, out, "Medicine in the last 24 hours: not asked.")
	assert.Contains(t, out, "it is one of none, not known")
	assert.Contains(t, out, `"none" stands alone`)
	assert.Contains(t, out, "Saved. Medicine in the last 24 hours: for pain or fever, to calm (A paste, 07:00).")
	assert.Empty(t, v.Findings, "no line answered a step")
}

// A person at a terminal is asked once, before the first step.
func TestMedicineIsAskedOnce(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	begun, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"}})
	require.NoError(t, err)
	at := func(lines string) string {
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader(lines), Out: &b, Person: "Ann Bell", Terminal: true}
		require.ErrorIs(t, s.Exam(begun.ID), plain.ErrLeft)
		return b.String()
	}
	assert.Equal(t, 1, strings.Count(at("\nquit\n"), "Enter alone: not asked."))
	assert.Contains(t, at("perhaps\nnot known\nquit\n"), "Saved. Medicine in the last 24 hours: not known.")
	assert.NotContains(t, at("quit\n"), "Enter alone")
	v, err := store.Visit(begun.ID)
	require.NoError(t, err)
	assert.Equal(t, []exam.Medicine{exam.MedicineNotKnown}, v.Context.Medicines)
}

func TestWhoGoesOnIsAsked(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	begun, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Bo Lind", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"}})
	require.NoError(t, err)
	for lines, want := range map[string]string{"\nto temp\n38.4\nquit\n": "Ann Bell", "Cora Maas\nto temp\n38.4\nquit\n": "Cora Maas"} {
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader(lines), Out: &b, Person: "Ann Bell", Before: "Bo Lind"}
		require.ErrorIs(t, s.Exam(begun.ID), plain.ErrLeft)
		assert.Contains(t, b.String(), "Bo Lind worked on this visit last. Who is working now? Enter alone: Ann Bell.")
		v, err := store.Visit(begun.ID)
		require.NoError(t, err)
		assert.Equal(t, want, v.Worker())
	}
}
