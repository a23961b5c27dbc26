package judge_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// day is the date of every visit that needs no other.
func day() time.Time { return time.Date(2026, 3, 12, 9, 0, 0, 0, time.UTC) }

func builtIn(t testing.TB) *ranges.Table {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return table
}

// numbers is a table of the measured steps alone.
func numbers() *exam.Steps {
	return exam.NewSteps([]exam.Step{
		{ID: "temp.rectal", Name: "Rectal temperature", Kind: exam.KindNumber, Unit: notation.Celsius, Units: []notation.Unit{notation.Celsius, notation.Fahrenheit}, Decimals: 1, Range: ranges.TempRectal},
		{ID: "weight.body", Name: "Body weight", Kind: exam.KindWeight, Unit: notation.Kilograms, Decimals: 0},
		{ID: "heart.rate", Name: "Heart rate", Kind: exam.KindCount, Unit: notation.PerMinute, Decimals: 1, Range: ranges.HeartRate},
		{ID: "breath.rate", Name: "Breathing rate", Kind: exam.KindCount, Unit: notation.PerMinute, Decimals: 1, Range: ranges.BreathRate},
		{ID: "gum.refill", Name: "Refill", Kind: exam.KindTime, Unit: notation.Seconds, Decimals: 1, Range: ranges.GumRefill},
		{ID: "skin.tent", Name: "Skin tent", Kind: exam.KindTime, Unit: notation.Seconds, Decimals: 1, Range: ranges.SkinTent},
	})
}

// horseOf makes a horse whose class on day is the given one.
func horseOf(t testing.TB, class ranges.Class) exam.Horse {
	t.Helper()
	h := exam.Horse{ID: "h1", Name: "Bracken", Kind: exam.AnimalHorse}
	born := func(age time.Duration) exam.Birth {
		return exam.Birth{At: day().Add(-age), Precision: exam.BornMinute}
	}
	const d = 24 * time.Hour
	h.Birth = born(9 * 365 * d)
	switch class {
	case ranges.AdultLight:
	case ranges.Draft:
		h.Kind = exam.AnimalDraft
	case ranges.Pony:
		h.Kind = exam.AnimalPony
	case ranges.Miniature:
		h.Kind = exam.AnimalMiniature
	case ranges.DonkeyAdult:
		h.Kind = exam.AnimalDonkey
	case ranges.DonkeyYoung:
		h.Kind, h.Birth = exam.AnimalDonkey, born(300*d)
	case ranges.DonkeyNewborn:
		h.Kind, h.Birth = exam.AnimalDonkey, born(3*d)
	case ranges.Mule:
		h.Kind = exam.AnimalMule
	case ranges.MuleFoalFirstDay:
		h.Kind, h.Birth = exam.AnimalMule, born(10*time.Hour)
	case ranges.MuleFoalFirstWeek:
		h.Kind, h.Birth = exam.AnimalMule, born(3*d)
	case ranges.MuleFoalFirstMonth:
		h.Kind, h.Birth = exam.AnimalMule, born(20*d)
	case ranges.MuleFoalSixMonths:
		h.Kind, h.Birth = exam.AnimalMule, born(100*d)
	case ranges.MuleWeanling:
		h.Kind, h.Birth = exam.AnimalMule, born(250*d)
	case ranges.MuleFoalUnknown:
		h.Kind, h.Birth = exam.AnimalMule, exam.Birth{Precision: exam.BornFoal}
	case ranges.MareInFoal:
		h.Sex, h.InFoal, h.FoalDue = exam.Mare, true, day().AddDate(0, 1, 0).Format(notation.DayForm)
	case ranges.SmallMareInFoal:
		h.Kind, h.Sex, h.InFoal, h.FoalDue = exam.AnimalPony, exam.Mare, true, day().AddDate(0, 1, 0).Format(notation.DayForm)
	case ranges.DonkeyFirstDay:
		h.Kind, h.Birth = exam.AnimalDonkey, born(10*time.Hour)
	case ranges.DonkeyFirstMonth:
		h.Kind, h.Birth = exam.AnimalDonkey, born(20*d)
	case ranges.DonkeyToSixMonths:
		h.Kind, h.Birth = exam.AnimalDonkey, born(100*d)
	case ranges.DonkeyFoalUnknown:
		h.Kind, h.Birth = exam.AnimalDonkey, exam.Birth{Precision: exam.BornFoal}
	case ranges.FoalFirstHour:
		h.Birth = born(20 * time.Minute)
	case ranges.FoalFirstHours:
		h.Birth = born(3 * time.Hour)
	case ranges.FoalFirstDay:
		h.Birth = born(10 * time.Hour)
	case ranges.FoalFirstWeek:
		h.Birth = born(4 * d)
	case ranges.FoalFirstMonth:
		h.Birth = born(20 * d)
	case ranges.FoalToSixMonths:
		h.Birth = born(100 * d)
	case ranges.Weanling:
		h.Birth = born(250 * d)
	case ranges.FoalAgeUnknown:
		h.Birth = exam.Birth{Precision: exam.BornFoal}
	case ranges.Yearling:
		h.Birth = born(500 * d)
	case ranges.TwoThree:
		h.Birth = born(1000 * d)
	}
	require.Equal(t, class, exam.ClassOf(h, day()).Name)
	return h
}

// visitOf is a closed visit of a horse on day.
func visitOf(h exam.Horse, findings ...exam.Finding) exam.Visit {
	closed := day().Add(time.Hour)
	return exam.Visit{ID: "v0", Horse: h, By: "Ann", OpenedAt: day(), ClosedAt: &closed, Findings: findings}
}

func measured(step exam.StepID, v float64, u notation.Unit) exam.Finding {
	kind := exam.KindNumber
	if u == notation.PerMinute {
		kind = exam.KindCount
	}
	return exam.Finding{Step: step, Value: exam.Value{Kind: kind, Number: &notation.Quantity{Value: v, Unit: u}}}
}

func tapped(step exam.StepID, v, halfWidth float64) exam.Finding {
	f := measured(step, v, notation.PerMinute)
	f.Value.Count = &exam.Count{Method: exam.CountTapped, HalfWidth: halfWidth}
	return f
}

func adult(t testing.TB, findings ...exam.Finding) exam.Visit {
	t.Helper()
	return visitOf(horseOf(t, ranges.AdultLight), findings...)
}

// past makes earlier visits of the horse, a month apart, newest first, with one value each.
func past(h exam.Horse, step exam.StepID, u notation.Unit, values ...float64) []exam.Visit {
	out := make([]exam.Visit, len(values))
	for i, v := range values {
		at := day().AddDate(0, -(i + 1), 0)
		out[i] = exam.Visit{ID: exam.VisitID(rune('a' + i)), Horse: h, OpenedAt: at, ClosedAt: &at, Findings: []exam.Finding{measured(step, v, u)}}
	}
	return out
}

func onlyNumbers(t testing.TB) *judge.Judge {
	t.Helper()
	return judge.New(builtIn(t), numbers())
}
