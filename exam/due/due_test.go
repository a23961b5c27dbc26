package due_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/due"
)

func on(t require.TestingT, text string) time.Time {
	at, err := time.Parse("2006-01-02", text)
	require.NoError(t, err)
	return at.Add(10 * time.Hour)
}

// given is a visit with one dose given on a day; noted one written down from papers.
func given(t require.TestingT, text, against string) exam.Visit {
	at := on(t, text)
	return exam.Visit{ID: exam.VisitID("v" + text), OpenedAt: at, Injections: []exam.Injection{{
		Number: 1, State: exam.InjectionGiven, EndAt: &at, Order: exam.Order{Product: "P", Lot: "L", Route: exam.RouteIM, Against: []string{against}},
	}}}
}

func noted(day, against string, whole bool) exam.Visit {
	return exam.Visit{ID: "noted", Injections: []exam.Injection{{
		Number: 1, State: exam.InjectionNoted, On: day, SeriesDone: whole, Basis: "passport", Order: exam.Order{Product: "P", Against: []string{against}},
	}}}
}

func born(text string) exam.Birth {
	b, err := exam.ReadBirth(text, "papers")
	if err != nil {
		panic(err)
	}
	return b
}

func item(t require.TestingT, l due.List, disease string) due.DiseaseDue {
	for _, i := range l.Items {
		if i.Disease == disease {
			return i
		}
	}
	require.Fail(t, "no item", disease)
	return due.DiseaseDue{}
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02")
}

func adult() exam.Horse {
	return exam.Horse{Name: "Bracken", Sex: exam.Gelding, Birth: born("2015-05-04")}
}

func foal(birth string, dam exam.DamVaccinated) exam.Horse {
	return exam.Horse{Name: "Wren", Sex: exam.Stallion, Birth: born(birth), Dam: dam}
}

func TestDates(t *testing.T) {
	mare := exam.Horse{Name: "Saffron", Sex: exam.Mare, InFoal: true, Birth: born("2015"), FoalDue: "2026-05-10"}
	for _, c := range []struct {
		name, today, disease string
		horse                exam.Horse
		visits               []exam.Visit
		status               due.Status
		from, by             string
		given, of            int
		why                  string
	}{
		// Repeats, month ends and leap days.
		{"a year after", "2026-03-01", "tetanus", adult(), []exam.Visit{noted("2025-03-20", "tetanus", true)}, due.Due, "2026-03-20", "2026-03-20", 1, 0, "every 12 months"},
		{"long before", "2025-12-01", "tetanus", adult(), []exam.Visit{noted("2025-03-20", "tetanus", true)}, due.Next, "2026-03-20", "2026-03-20", 1, 0, ""},
		{"on its day", "2026-03-20", "tetanus", adult(), []exam.Visit{noted("2025-03-20", "tetanus", true)}, due.Due, "2026-03-20", "2026-03-20", 1, 0, ""},
		{"the day after", "2026-03-21", "tetanus", adult(), []exam.Visit{noted("2025-03-20", "tetanus", true)}, due.Overdue, "2026-03-20", "2026-03-20", 1, 0, "overdue by 1 day"},
		{"leap day", "2025-01-01", "rabies", adult(), []exam.Visit{given(t, "2024-02-29", "rabies")}, due.Next, "2025-02-28", "2025-02-28", 1, 0, ""},
		{"into a leap year", "2023-06-01", "rabies", adult(), []exam.Visit{given(t, "2023-02-28", "rabies")}, due.Next, "2024-02-28", "2024-02-28", 1, 0, ""},
		{"month end", "2026-09-01", "EHV1_4", foal("2026-04-30", exam.DamVaccine), []exam.Visit{noted("2026-08-31", "EHV1_4", true)}, due.Next, "2027-02-28", "2027-02-28", 3, 0, "every 6 months"},
		{"years late", "2028-05-01", "tetanus", adult(), []exam.Visit{noted("2025-03-20", "tetanus", true)}, due.Overdue, "2026-03-20", "2026-03-20", 1, 0, "whether the series begins again"},
		{"span of repeats opens", "2026-01-05", "strangles", adult(), []exam.Visit{noted("2025-01-31", "strangles", true)}, due.Due, "2026-01-31", "2026-01-31", 1, 0, ""},
		{"six to twelve months", "2026-03-01", "PHF", adult(), []exam.Visit{noted("2025-08-31", "PHF", true)}, due.Due, "2026-02-28", "2026-08-31", 1, 0, "every 6-12 months"},

		// First series of a grown horse.
		{"nothing in the record", "2026-03-01", "tetanus", adult(), nil, due.Due, "2026-03-01", "2026-03-01", 0, 2, "No dose recorded; check the passport. First"},
		{"second dose", "2026-03-20", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus")}, due.Next, "2026-03-29", "2026-04-12", 1, 2, "series incomplete: 1 of 2 given; dose 2 4-6 weeks after"},
		{"second dose due", "2026-03-29", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus")}, due.Due, "2026-03-29", "2026-04-12", 1, 2, ""},
		{"second dose missed", "2026-04-13", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus")}, due.Overdue, "2026-03-29", "2026-04-12", 1, 2, "overdue by 1 day"},
		{"second dose a day early", "2026-03-28", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus"), given(t, "2026-03-28", "tetanus")}, due.Next, "2026-03-29", "2026-04-12", 1, 2, "does not count as dose 2: it was 1 day too early"},
		{"second dose late", "2026-05-01", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus"), given(t, "2026-04-20", "tetanus")}, due.Next, "2027-04-20", "2027-04-20", 1, 0, "dose 2 of 20 Apr 2026 was 8 days late"},
		{"on the last day", "2026-05-01", "tetanus", adult(), []exam.Visit{given(t, "2026-03-01", "tetanus"), given(t, "2026-04-12", "tetanus")}, due.Next, "2027-04-12", "2027-04-12", 1, 0, "last dose 12 Apr 2026"},
		{"rabies needs one", "2026-05-01", "rabies", adult(), []exam.Visit{given(t, "2026-03-31", "rabies")}, due.Next, "2027-03-31", "2027-03-31", 1, 0, ""},
		{"third of three", "2026-03-01", "EHV1_4", adult(), []exam.Visit{given(t, "2026-01-01", "EHV1_4"), given(t, "2026-02-01", "EHV1_4")}, due.Due, "2026-03-01", "2026-03-15", 2, 3, ""},

		// Foals.
		{"too young", "2026-06-01", "tetanus", foal("2026-04-30", exam.DamVaccine), nil, due.Next, "2026-08-30", "2026-10-30", 0, 3, "at 4-6 months of age"},
		{"mare not vaccinated", "2026-06-01", "tetanus", foal("2026-04-30", exam.DamUnvaccinated), nil, due.Next, "2026-07-30", "2026-08-30", 0, 3, "at 3-4 months"},
		{"born on 31 October", "2027-01-01", "tetanus", foal("2026-10-31", exam.DamVaccine), nil, due.Next, "2027-02-28", "2027-04-30", 0, 3, ""},
		{"old enough", "2026-09-15", "tetanus", foal("2026-04-30", exam.DamVaccine), nil, due.Due, "2026-08-30", "2026-10-30", 0, 3, ""},
		{"missed", "2026-11-15", "tetanus", foal("2026-04-30", exam.DamVaccine), nil, due.Overdue, "2026-08-30", "2026-10-30", 0, 3, ""},
		{"given too young", "2026-07-15", "tetanus", foal("2026-04-30", exam.DamVaccine), []exam.Visit{given(t, "2026-07-01", "tetanus")}, due.Next, "2026-08-30", "2026-10-30", 0, 3, "does not count as dose 1: it was 60 days too early"},
		{"third at ten months", "2026-12-01", "tetanus", foal("2026-04-30", exam.DamVaccine), []exam.Visit{given(t, "2026-09-01", "tetanus"), given(t, "2026-10-01", "tetanus")}, due.Next, "2027-02-28", "2027-04-30", 2, 3, "dose 3 at 10-12 months of age"},
		{"third late, no foal any more", "2027-06-01", "tetanus", foal("2026-04-30", exam.DamVaccine), []exam.Visit{given(t, "2026-09-01", "tetanus"), given(t, "2026-10-01", "tetanus")}, due.Overdue, "2027-02-28", "2027-04-30", 2, 3, "series incomplete: 2 of 3"},
		{"second dose a year late: the third keeps its gap", "2027-06-20", "tetanus", foal("2026-04-30", exam.DamVaccine), []exam.Visit{given(t, "2026-09-01", "tetanus"), given(t, "2027-06-01", "tetanus")}, due.Next, "2027-06-29", "2027-07-13", 2, 3, ""},
		{"third too soon after the second", "2027-03-20", "tetanus", foal("2026-04-30", exam.DamVaccine), []exam.Visit{given(t, "2026-09-01", "tetanus"), given(t, "2027-02-20", "tetanus"), given(t, "2027-03-10", "tetanus")}, due.Due, "2027-03-20", "2027-04-30", 2, 3, "does not count as dose 3"},
		{"eight weeks after the second", "2026-10-01", "WNV", foal("2026-04-30", exam.DamUnvaccinated), []exam.Visit{given(t, "2026-08-01", "WNV"), given(t, "2026-08-29", "WNV")}, due.Next, "2026-10-24", "2026-10-24", 2, 3, ""},
		{"rabies from six months", "2026-06-01", "rabies", foal("2026-04-30", exam.DamVaccine), nil, due.Next, "2026-10-30", "2026-10-30", 0, 2, "6 months or more"},
		{"month of birth only", "2026-06-01", "tetanus", foal("2026-04", exam.DamVaccine), nil, due.Next, "2026-08-30", "2026-10-01", 0, 3, ""},

		// Mares in foal.
		{"before foaling", "2026-03-01", "tetanus", mare, []exam.Visit{noted("2025-06-01", "tetanus", true)}, due.Next, "2026-03-29", "2026-04-12", 1, 0, "4-6 weeks before foaling"},
		{"in the window", "2026-04-01", "tetanus", mare, []exam.Visit{noted("2025-06-01", "tetanus", true)}, due.Due, "2026-03-29", "2026-04-12", 1, 0, ""},
		{"window over", "2026-04-20", "tetanus", mare, []exam.Visit{noted("2025-06-01", "tetanus", true)}, due.Overdue, "2026-03-29", "2026-04-12", 1, 0, ""},
		{"given in the window", "2026-04-20", "tetanus", mare, []exam.Visit{noted("2025-06-01", "tetanus", true), given(t, "2026-04-02", "tetanus")}, due.Next, "2027-04-02", "2027-04-02", 1, 0, "the dose before this foaling is given"},
		{"yearly first", "2025-12-01", "tetanus", mare, []exam.Visit{noted("2025-01-10", "tetanus", true)}, due.Next, "2026-01-10", "2026-01-10", 1, 0, "ask the veterinarian whether to wait"},
		{"never vaccinated", "2026-03-01", "tetanus", mare, nil, due.Due, "2026-03-01", "2026-03-01", 0, 2, ""},
		{"rabies, an earlier dose counts", "2026-03-01", "rabies", mare, []exam.Visit{given(t, "2025-06-01", "rabies")}, due.Next, "2026-03-29", "2026-04-12", 1, 0, ""},
		{"months of gestation", "2025-11-01", "EHV1_4", mare, []exam.Visit{given(t, "2024-11-01", "EHV1_4")}, due.Next, "2025-11-04", "2025-12-03", 0, 3, "0 of 3 given in this pregnancy"},
	} {
		l := table(t).For(c.horse, c.visits, on(t, c.today))
		i := item(t, l, c.disease)
		got := []string{string(i.Status), day(i.From), day(i.By)}
		assert.Equal(t, []string{string(c.status), c.from, c.by}, got, "%s: %v", c.name, i.Why)
		assert.Equal(t, c.of, i.Of, c.name)
		if c.of > 0 {
			assert.Equal(t, c.given, i.Given, c.name)
		}
		assert.Contains(t, strings.Join(i.Why, "; "), c.why, c.name)
	}
}

func TestWhatIsNotKnownIsSaid(t *testing.T) {
	now := on(t, "2026-06-01")
	for text, want := range map[string]struct {
		status due.Status
		note   string
	}{
		"foal": {due.NotKnown, "the birth date of this foal is not"},
		"2026": {due.NotKnown, "only the year of birth"},
		"":     {due.Due, "the birth date is not recorded: treated as an adult"},
	} {
		l := table(t).For(exam.Horse{Name: "X", Birth: born(text)}, nil, now)
		assert.Equal(t, want.status, item(t, l, "tetanus").Status, text)
		assert.Contains(t, strings.Join(l.Notes, "; "), want.note)
	}
	l := table(t).For(foal("2026-04-30", exam.DamNotKnown), nil, now)
	assert.Contains(t, strings.Join(l.Notes, "; "), "the dam's vaccination is not recorded:")
	assert.Equal(t, "2026-07-30", day(item(t, l, "tetanus").From))
	// A gap from a dose can be reckoned without a birth date.
	l = table(t).For(exam.Horse{Name: "X", Birth: born("foal"), Dam: exam.DamVaccine}, []exam.Visit{given(t, "2026-05-20", "tetanus")}, now)
	assert.Equal(t, "2026-06-17", day(item(t, l, "tetanus").From))
	// A day known to the month counts from its first day, and it says so.
	l = table(t).For(adult(), []exam.Visit{noted("2025-06", "tetanus", true)}, now)
	i := item(t, l, "tetanus")
	assert.Equal(t, "2026-06-01", day(i.By))
	assert.Contains(t, strings.Join(i.Why, "; "), "the exact day of the last dose is not")
	mare := exam.Horse{Name: "M", Sex: exam.Mare, InFoal: true, Birth: born("2015")}
	l = table(t).For(mare, nil, now)
	assert.Contains(t, strings.Join(l.Notes, "; "), "the foaling date is not recorded, so times")
	mare.FoalDue = "2026-01-01"
	l = table(t).For(mare, nil, now)
	assert.Contains(t, strings.Join(l.Notes, "; "), "whether the mare has foaled")
}

func TestRiskIsFollowedOnceADoseIsKnown(t *testing.T) {
	now := on(t, "2026-06-01")
	l := table(t).For(adult(), nil, now)
	assert.Len(t, l.Items, 4, "core only")
	l = table(t).For(adult(), []exam.Visit{noted("2026-01-01", "influenza", true)}, now)
	assert.Len(t, l.Items, 5)
	own, err := table(t).With(strings.NewReader("disease,class,group,doses,first,second,third,again,note\n"+
		"influenza,core,adult_unvaccinated_inactivated,2,now,after 4wk,,every 6mo,\ntetanus,off,adult_unvaccinated,2,now,after 4wk,,every 12mo,\n"), "own")
	require.NoError(t, err)
	l = own.For(adult(), nil, now)
	assert.Len(t, l.Items, 4, "influenza asked, tetanus off")
	assert.True(t, item(t, l, "influenza").Row.Practice())
	// A dose of something the schedule has no row for is not dropped in silence.
	l = table(t).For(adult(), []exam.Visit{noted("2026-01-01", "rotavirus", false)}, now)
	assert.Equal(t, due.NotKnown, item(t, l, "rotavirus").Status)
}

func TestTheVeterinariansDayOverrides(t *testing.T) {
	v := given(t, "2026-03-01", "rabies")
	v.Injections[0].Order.NextDue = "2029-03-01"
	i := item(t, table(t).For(adult(), []exam.Visit{v}, on(t, "2027-06-01")), "rabies")
	assert.Equal(t, "2029-03-01", day(i.By))
	assert.Equal(t, due.Next, i.Status)
	assert.Contains(t, strings.Join(i.Why, "; "), "overrides the schedule")
}

func TestWhatWasStoppedOrIsOpenIsNoDose(t *testing.T) {
	v := given(t, "2026-03-01", "tetanus")
	for _, state := range []exam.InjectionPhase{exam.InjectionStopped, exam.InjectionNeedleIn, exam.InjectionClear, exam.InjectionReady} {
		v.Injections[0].State = state
		assert.Empty(t, due.Doses([]exam.Visit{v}, "tetanus"), state)
	}
	twice := []exam.Visit{noted("2026-03-01", "tetanus", false), given(t, "2026-03-01", "tetanus")}
	list := due.Doses(twice, "Tetanus")
	require.Len(t, list, 1, "the passport repeats what the record has")
	assert.False(t, list[0].Noted)
	month := []exam.Visit{noted("2026-03", "tetanus", false), given(t, "2026-03-15", "tetanus"), noted("2026", "tetanus", false)}
	assert.Len(t, due.Doses(month, "tetanus"), 1, "known to the month, it may be the same one")
	assert.Len(t, due.Doses([]exam.Visit{noted("2024", "tetanus", false), noted("2024", "tetanus", false)}, "tetanus"), 2)
}

func TestRechecksAndTheQuestionOfTetanus(t *testing.T) {
	set := exam.Visit{ID: "a", OpenedAt: on(t, "2026-03-01"), Rechecks: []exam.Recheck{
		{RecheckLine: exam.RecheckLine{On: "2026-03-08", What: "leg"}, Signed: exam.Signed{At: on(t, "2026-03-01"), By: "Ann"}},
	}}
	status := func(today string, more ...exam.Visit) []due.Recheck {
		return table(t).For(adult(), append([]exam.Visit{set}, more...), on(t, today)).Rechecks
	}
	assert.Equal(t, due.Next, status("2026-03-07")[0].Status)
	assert.Equal(t, due.Due, status("2026-03-08")[0].Status)
	assert.Equal(t, due.Overdue, status("2026-03-09")[0].Status)
	assert.Empty(t, status("2026-03-09", exam.Visit{ID: "b", OpenedAt: on(t, "2026-03-08")}), "a visit on the day meets it")
	assert.Len(t, status("2026-03-09", exam.Visit{ID: "b", OpenedAt: on(t, "2026-03-05")}), 1, "an earlier one does not")
	evening := exam.Visit{ID: "b", OpenedAt: time.Date(2026, 3, 8, 1, 0, 0, 0, time.FixedZone("", 2*60*60))}
	assert.Len(t, status("2026-03-09", evening), 1, "by the clock of now it was the day before")

	wound := exam.Visit{ID: "w", OpenedAt: on(t, "2026-03-01"), Findings: []exam.Finding{{Step: "limb.look", Value: exam.Value{Kind: exam.KindMarks, Words: []string{"wound"}}}}}
	ask := func(visits ...exam.Visit) []string {
		return table(t).For(adult(), visits, on(t, "2026-03-02")).Questions
	}
	require.Len(t, ask(wound), 1)
	assert.Contains(t, ask(wound)[0], "A wound or surgery, and no tetanus dose is")
	assert.Empty(t, ask(wound, given(t, "2025-09-02", "tetanus")), "six months to the day")
	assert.Contains(t, ask(wound, given(t, "2025-09-01", "tetanus"))[0], "over six months old")
	assert.True(t, due.Wounded(exam.Visit{Reason: "Castration on Friday"}))
	assert.Empty(t, ask(exam.Visit{OpenedAt: on(t, "2026-03-01"), Reason: "yearly check"}))
}

// Whatever the horse and its doses: every status follows from its days, and where
// a dose is given today nothing is overdue (but in a pregnancy, whose months go by).
func TestProperties(t *testing.T) {
	built := table(t)
	rapid.Check(t, func(rt *rapid.T) {
		now := on(rt, "2026-01-01").AddDate(0, 0, rapid.IntRange(0, 2000).Draw(rt, "today"))
		h := exam.Horse{Name: "X", Sex: rapid.SampledFrom(exam.Sexes()).Draw(rt, "sex"), InFoal: rapid.Bool().Draw(rt, "in foal")}
		h.Birth = exam.Birth{
			At:        now.AddDate(0, 0, -rapid.IntRange(-5, 4000).Draw(rt, "age")),
			Precision: rapid.SampledFrom([]exam.BirthPrecision{exam.BornDay, exam.BornMonth, exam.BornYear, exam.BornUnknown, exam.BornFoal, exam.BornAdult}).Draw(rt, "known"),
		}
		h.FoalDue = now.AddDate(0, 0, rapid.IntRange(-60, 340).Draw(rt, "foaling")).Format("2006-01-02")
		h.Dam = rapid.SampledFrom([]exam.DamVaccinated{exam.DamNotKnown, exam.DamVaccine, exam.DamUnvaccinated}).Draw(rt, "dam")
		disease := rapid.SampledFrom(built.Diseases()).Draw(rt, "disease")
		var visits []exam.Visit
		for range rapid.IntRange(0, 5).Draw(rt, "doses") {
			at := now.AddDate(0, 0, -rapid.IntRange(0, 1500).Draw(rt, "ago"))
			visits = append(visits, given(rt, at.Format("2006-01-02"), disease))
		}
		l := built.For(h, visits, now)
		for _, i := range l.Items {
			today := now.Format("2006-01-02")
			switch i.Status {
			case due.Overdue:
				require.Less(rt, day(i.By), today)
			case due.Due, due.Next:
				require.GreaterOrEqual(rt, day(i.By), today)
			case due.NotKnown:
				require.True(rt, i.By.IsZero())
			}
			require.False(rt, i.By.Before(i.From))
			require.NotEmpty(rt, i.Why, "%s %s", i.Disease, i.Row.Group)
			require.LessOrEqual(rt, i.Given, max(i.Of, i.Row.Doses))
		}
		after := built.For(h, append(visits, given(rt, now.Format("2006-01-02"), disease)), now)
		for _, i := range after.Items {
			if i.Disease == disease && i.Row.Again.Base != due.Pregnancy && !strings.HasPrefix(i.Row.Group, "broodmare") {
				require.NotEqual(rt, due.Overdue, i.Status, "%s %v", i.Row.Group, i.Why)
			}
		}
		require.NotEmpty(rt, l.Line().Due)
	})
}
