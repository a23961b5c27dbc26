package screentest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

// History adds Fern, an invented filly, with visits from her first week to two
// years: her class changes, one temperature was typed in F, one step was
// refused, one visit was after work, and the gums were pale once.
func History(t testing.TB, s exam.Store) exam.Horse {
	t.Helper()
	h, err := s.SaveHorse(exam.Horse{
		Revision: 1, Name: "Fern", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born("2024-03-01", "seen"),
		Owner: "P. Duarte", Place: "Long Meadow", Cautions: []string{"strikes"},
	}, "Ann Bell", Now())
	require.NoError(t, err)
	for i, v := range []struct {
		date        string
		temp, heart float64
		unit        notation.Unit
		gums        string
	}{
		{"2024-03-06", 38.6, 96, notation.Celsius, "pink"},
		{"2024-05-02", 38.4, 72, notation.Celsius, "pink"},
		{"2024-10-14", 38.2, 56, notation.Celsius, "pink"},
		{"2025-03-20", 38.0, 48, notation.Celsius, "pink"},
		{"2025-05-11", 100.6, 44, notation.Fahrenheit, "pink"},
		{"2025-07-30", 39.6, 68, notation.Celsius, "pale pink"},
		{"2025-10-02", 37.9, 42, notation.Celsius, "pink"},
		{"2026-01-15", 38.1, 40, notation.Celsius, "pink"},
		{"2026-02-27", 38.3, 44, notation.Celsius, "pink"},
	} {
		at, err := time.ParseInLocation("2006-01-02 15:04", v.date+" 09:30", time.UTC)
		require.NoError(t, err)
		visit, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: steps.Default}})
		require.NoError(t, err)
		if i == 5 {
			add(t, s, visit, exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateWorked, exam.StateHot}}})
		}
		Number(t, s, visit, "temp.rectal", exam.NoSite, v.temp, v.unit)
		if i == 6 {
			add(t, s, visit, exam.Entry{Kind: exam.EntryNotDone, Step: "heart.rate", Reason: string(exam.ReasonRefused)})
		} else {
			Number(t, s, visit, "heart.rate", exam.NoSite, v.heart, notation.PerMinute)
		}
		pick(t, s, visit, "gum.colour", exam.NoSite, v.gums)
		if i != 3 {
			pick(t, s, visit, "limb.digitalpulse", exam.LeftFore, "usual")
		}
		add(t, s, visit, exam.Entry{Kind: exam.EntryClosed})
	}
	return h
}

// Full adds closed visits of a horse, a week apart, with an answer at every step and site of all.
func Full(t testing.TB, s exam.Store, all *exam.Steps, h exam.Horse, visits int) {
	t.Helper()
	for i := range visits {
		at := Now().AddDate(0, 0, -7*(visits-i))
		v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: steps.Default}})
		require.NoError(t, err)
		for _, step := range all.All() {
			sites := step.Sites
			if len(sites) == 0 {
				sites = []exam.Site{exam.NoSite}
			}
			for _, site := range sites {
				value := answer(step, i)
				add(t, s, v, exam.Entry{Kind: exam.EntryFinding, Step: step.ID, Site: site, Value: &value})
			}
		}
		add(t, s, v, exam.Entry{Kind: exam.EntryClosed})
	}
}

// answer is some answer to a step, another one at each visit.
func answer(step exam.Step, i int) exam.Value {
	switch step.Kind {
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		c := step.Choices[i%len(step.Choices)]
		return exam.Value{Kind: step.Kind, Words: []string{c.Key}}
	case exam.KindEvent:
		return step.SeenAt(time.Time{})
	case exam.KindNote:
		return exam.Value{Kind: step.Kind, Text: "a few words"}
	case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
	}
	span := step.Likely
	if span == (exam.Span{}) {
		span = step.Possible
	}
	q := notation.Quantity{Value: span.Low + (span.High-span.Low)*float64(i%5)/5, Unit: step.Unit}
	return exam.Value{Kind: step.Kind, Number: &q}
}
