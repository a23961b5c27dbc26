package examtest

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// Simulating lets a store of rehearsals go through the checks of every store: an opening without a source becomes that of
// an invented rehearsal.
func Simulating(s exam.Store) exam.Store { return simulating{s} }

type simulating struct{ exam.Store }

func (s simulating) Begin(first exam.Entry) (exam.Visit, error) {
	if first.Opening != nil && first.Opening.Source == "" {
		o := *first.Opening
		o.Source = exam.SimulatedSource("healthy-adult", 7, "0123456789ab")
		first.Opening = &o
	}
	return s.Store.Begin(first)
}

// RunApart checks that two stores of one record keep visits and rehearsals apart: neither takes what belongs to the other,
// and neither list ever shows it.
func RunApart(t *testing.T, visits, rehearsals exam.Store) {
	t.Helper()
	opening := func(s exam.Store, source string) (exam.Visit, error) {
		h := saved(t, s, "Bracken")
		return s.Begin(exam.Entry{
			Kind: exam.EntryOpened, At: noon(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full", Source: source},
		})
	}
	simulated := exam.SimulatedSource("colic-quiet-gut", 18446744073709551615, "0123456789ab")
	for source, s := range map[string]exam.Store{simulated: visits, "": rehearsals, "old.csv row 3": rehearsals} {
		_, err := opening(s, source)
		require.ErrorContains(t, err, "nothing was saved", "source %q", source)
		recent, err := s.Recent(0)
		require.NoError(t, err)
		assert.Empty(t, recent)
	}
	real, err := opening(visits, "rehearsal.csv row 3")
	require.NoError(t, err, "a file may be called anything")
	rehearsed, err := opening(rehearsals, simulated)
	require.NoError(t, err)
	alone(t, visits, real, rehearsed)
	alone(t, rehearsals, rehearsed, real)
}

// alone asserts that a store shows its own visit everywhere and the other nowhere.
func alone(t *testing.T, s exam.Store, own, other exam.Visit) {
	t.Helper()
	for _, list := range []func() ([]exam.Visit, error){
		func() ([]exam.Visit, error) { return s.Recent(0) },
		s.Unfinished,
		func() ([]exam.Visit, error) { return s.Past(own.Horse.ID, 0) },
	} {
		visits, err := list()
		require.NoError(t, err)
		require.Len(t, visits, 1)
		assert.Equal(t, own.ID, visits[0].ID)
		assert.Equal(t, own.Source, visits[0].Source)
	}
	found, err := s.Horses()
	require.NoError(t, err)
	for _, f := range found {
		assert.Equal(t, "Bracken", f.Horse.Name)
		assert.NotEqual(t, other.ID, f.Open)
	}
	if own.ID == other.ID {
		return // two stores that count their identities alike
	}
	_, err = s.Visit(other.ID)
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = s.Entries(other.ID)
	require.ErrorIs(t, err, exam.ErrNotFound)
	past, err := s.Past(other.Horse.ID, 0)
	require.NoError(t, err)
	assert.Empty(t, past)
	_, err = s.Append(exam.Entry{Visit: other.ID, At: noon(), By: "Ann", Kind: exam.EntryNote, Note: "astray"})
	require.ErrorIs(t, err, exam.ErrNotFound)
}
