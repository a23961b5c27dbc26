package rehearse

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/steps"
)

// rehearsal plays a whole rehearsal and returns its stored entries.
func rehearsal(t testing.TB, h *Horse, routine exam.Routine, s Slips) []exam.Entry {
	t.Helper()
	return played(t, h, routine, Trainee{By: "Nell Harrow", To: "Dr. Olga Sommer", Slips: s})
}

// played is the same by any trainee.
func played(t testing.TB, h *Horse, routine exam.Routine, who Trainee) []exam.Entry {
	t.Helper()
	written, err := who.Rehearse(h, routine)
	require.NoError(t, err)
	store := examtest.NewRehearsals()
	animal, err := store.SaveHorse(h.Animal, "Nell Harrow", opened())
	require.NoError(t, err)
	written[0].Opening.Horse = animal
	v, err := store.Begin(written[0])
	require.NoError(t, err)
	for _, e := range written[1:] {
		e.Visit = v.ID
		_, err := store.Append(e)
		require.NoError(t, err)
	}
	entries, err := store.Entries(v.ID)
	require.NoError(t, err)
	return entries
}

func routineOf(t testing.TB, name string) exam.Routine {
	t.Helper()
	r, ok := steps.Find(routinesOnce(), name)
	require.True(t, ok, name)
	return r
}

// faultsOf lists the faults that are not remarks, as text, sorted; and the remarks.
func faultsOf(m Marks) (own, remarks []string) {
	for _, f := range m.Faults() {
		text := strings.TrimSpace(fmt.Sprintf("%s: %s %s", f.Kind, f.Step, f.Site))
		if f.Kind == FaultSafety {
			text = fmt.Sprintf("%s: %s", f.Kind, f.Words)
		}
		if f.Kind == FaultRemark {
			remarks = append(remarks, text)
			continue
		}
		own = append(own, text)
	}
	slices.Sort(own)
	return own, remarks
}
