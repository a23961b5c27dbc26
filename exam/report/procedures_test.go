package report_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/report"
	"loosebox/ranges/words"
)

func whole(t *testing.T) report.Page {
	t.Helper()
	until := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
	order := &exam.Order{
		Product: "Vaccine R", Active: "invented virus", Strength: "1 dose/mL", Maker: "Maker & Co", Lot: "R123", Dose: "1 dose", VolumeML: 1,
		Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Route: exam.RouteIM, Against: []string{"rabies"}, Decision: 6, SupervisedBy: "Dr Vale",
		NextDue: "2027-03-02", WeightKg: 542, WeightFrom: "weight tape", TagNumber: "T-9", Witness: "Bo",
	}
	inject := func(l exam.InjectionLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
	}
	draw := func(l exam.DrawLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryDraw, Draw: &l}
	}
	weight := &exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 542, Unit: notation.Kilograms}, Weight: &exam.Weight{Method: exam.WeightTape}}
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(37.8)},
		exam.Entry{Kind: exam.EntryFinding, Step: "weight.body", Value: weight},
		exam.Entry{Kind: exam.EntryFinding, Step: "weight.body", Value: weight, Corrects: 3, Reason: "wrong horse"},
		exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, Asked: "May I give it?", ReadBack: true}},
		exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
			Words: "give the rabies vaccine", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Until: &until,
			Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Vaccine R", Route: exam.RouteIM, Dose: "1 dose"}, {Kind: exam.Drawing}},
		}, Recheck: &exam.RecheckLine{On: "2026-03-09", What: "look at the neck"}},
		inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: order, Checks: []exam.Checked{{Key: "food", OK: false, Words: "told to the vet"}}}),
		inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}, Needle: "20 G 1.5 in"}),
		inject(exam.InjectionLine{Phase: exam.InjectionBlood}),
		inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Right}, Needle: "20 G 1.5 in"}),
		inject(exam.InjectionLine{Phase: exam.InjectionClear}),
		inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1, Disposal: "sharps box"}),
		exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}},
		exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchLeftEarly, Why: "emergency next door"}},
		draw(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "blood count"}}),
		draw(exam.DrawLine{Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}),
		draw(exam.DrawLine{Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3, Inversions: 6, Label: "Bracken / J. Marlowe"}}),
		draw(exam.DrawLine{Phase: exam.DrawDone, VolumeML: 3}),
	)
	h := &p.Visit.Horse
	h.Sex, h.Breed, h.Colour, h.Markings, h.Chip = exam.Mare, "warmblood", "bay", "star", "001164000123456"
	h.OwnerAddress, h.OwnerPhone = "1 Mill Lane", "555 0100"
	h.Birth = exam.Birth{At: time.Date(2017, 1, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay}
	return p
}

// Every item of the record rules (calculations and procedures, 8.1: Maryland,
// Texas, Ohio, Virginia, Pennsylvania, RCVS) has its place on the page.
func TestTheRecordHoldsWhatTheRulesAsk(t *testing.T) {
	text := report.Text(whole(t), 100)
	flat := strings.Join(strings.Fields(text), " ")
	for item, want := range map[string][]string{
		"client":             {"J. Marlowe, 1 Mill Lane, 555 0100"},
		"patient":            {"Bracken", "horse, 9 years, mare, warmblood, bay, star", "001164000123456"},
		"weight, said how":   {"542 kg (weight tape)"},
		"temperature":        {"37.8 C"},
		"reason":             {"off feed"},
		"findings with date": {"2 March 2026"},
		"tests":              {"blood count", "tube EDTA, 3 mL", "6 inversions", "label Bracken / J. Marlowe", "drawn, 3 mL"},
		"diagnosis":          {"Diagnosis and treatment are left empty here", "the veterinarian decides"},
		"treatment":          {"Vaccine R, invented virus, 1 dose/mL, Maker & Co, lot R123, expiry 28 Feb 2027", "ordered 1 dose", "volume 1 mL", "route IM", "given, 1 mL"},
		"site and attempts":  {"needle in: neck triangle, left, 20 G 1.5 in, aspirated, blood", "needle in: neck triangle, right, 20 G 1.5 in, aspirated, clear"},
		"who":                {"by Ann", "supervised by Dr Vale", "witness Bo"},
		"veterinarian":       {"Dr Vale, by telephone: go ahead for injection of Vaccine R, IM, 1 dose; blood draw", `"give the rabies vaccine"`},
		"advice, telephone":  {`to Dr Vale, by telephone, "May I give it?", read back`},
		"amendment":          {"before: 542 kg, by Ann at 2 Mar 2026 09:02:00; corrected by Ann"},
		"watch":              {"injection 1, 20 minutes: stopped early; emergency next door"},
		"recheck":            {"9 Mar 2026 look at the neck"},
		"check list":         {"check food: not in order, told to the vet"},
		"disposal, next":     {"disposal sharps box, next due 2 Mar 2027"},
	} {
		for _, w := range want {
			assert.Contains(t, flat, w, item)
		}
	}
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 100, line)
	}
}

// NASPHV Form 51 (rev. 2007), the items read; and who gave it, route, site, expiry.
func TestARabiesCertificateHasEveryField(t *testing.T) {
	d := report.JSON(whole(t))
	require.Len(t, d.Certificates, 1)
	got := map[string]report.Field{}
	for _, f := range d.Certificates[0].Fields {
		got[f.Name] = f
	}
	for name, want := range map[string]string{
		"tag number": "T-9", "microchip": "001164000123456", "owner: last, first and middle name": "J. Marlowe", "owner: telephone": "555 0100",
		"owner: address": "1 Mill Lane", "species": "horse", "age": "9 years", "size": "542 kg (weight tape)", "predominant breed": "warmblood",
		"colors and markings": "bay, star", "sex": "mare", "neutered": "", "animal control license": "", "product": "Vaccine R",
		"manufacturer": "Maker & Co", "serial (lot) number": "R123", "date vaccinated": "2 Mar 2026", "next due": "2 Mar 2027", "license duration of the vaccine": "",
		"veterinarian: name": "Dr Vale", "veterinarian: license number": "", "veterinarian: address": "", "veterinarian: signature": "",
		"animal's name": "Bracken", "first or booster": "", "given by": "Ann", "route": "IM", "site": "neck triangle, right", "expiry": "28 Feb 2027",
	} {
		f, ok := got[name]
		require.True(t, ok, name)
		assert.Equal(t, want, f.Value, name)
	}
	assert.True(t, got["veterinarian: signature"].ByVet)

	// What was stopped has no certificate, and neither has another vaccine.
	p := whole(t)
	p.Visit.Injections[0].State = exam.InjectionStopped
	assert.Empty(t, report.Certificates(p.Visit))
}

func TestAnOpenNeedleIsShown(t *testing.T) {
	p := page(t,
		exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{Product: "P"}}},
		exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle"}}},
	)
	text := strings.Join(strings.Fields(report.Text(p, 80)), " ")
	assert.Contains(t, text, "OPEN: the needle was inserted and is not")
	assert.NotContains(t, text, "given,")
}

// Every field of an injection entry (calculations and procedures, 8.6, the union of
// the rules read) is on the page and in the JSON of show.
func TestAnInjectionHasEveryFieldOfItsRecord(t *testing.T) {
	p := whole(t)
	i := &p.Visit.Injections[0]
	i.Checks = append(i.Checks, exam.Checked{Key: "horse", OK: true, Words: "chip read"}, exam.Checked{Key: "dose", OK: true},
		exam.Checked{Key: procedure.SecondPerson, OK: true, Words: "Eva Lind"})
	i.Order.VolumeFrom, i.Order.Certificate, i.Order.NotForFoodTo, i.Order.Decision = "as ordered", "C-77", "2026-04-01", 6
	flat := strings.Join(strings.Fields(report.Text(p, 100)), " ")
	data, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	for field, want := range map[string]struct{ text, key string }{
		"date":                          {"2 March 2026", `"opened_at":"2026-03-02`},
		"time":                          {"given, 1 mL, 09:11:00 by Ann", `"end_at":"2026-03-02T09:11:00+01:00"`},
		"patient id confirmed how":      {"check horse: in order, chip read", `"words":"chip read"`},
		"second person, by name":        {"arithmetic checked by a second person: Eva Lind", `{"key":"second person","ok":true,"words":"Eva Lind"}`},
		"weight and method":             {"weight 542 kg, weight tape", `"weight_kg":542,"weight_from":"weight tape"`},
		"order: who, when, words":       {`by the decision of Dr Vale, by telephone, 09:05 (entry 6): "give the rabies vaccine"`, `"decision":6`},
		"product":                       {"Vaccine R", `"product":"Vaccine R"`},
		"active ingredient":             {"invented virus", `"active_ingredient":"invented virus"`},
		"strength":                      {"1 dose/mL", `"strength":"1 dose/mL"`},
		"manufacturer":                  {"Maker & Co", `"maker":"Maker`},
		"serial or lot":                 {"lot R123", `"lot":"R123"`},
		"expiry":                        {"expiry 28 Feb 2027", `"last":"2027-02-28"`},
		"dose ordered":                  {"ordered 1 dose", `"dose":"1 dose"`},
		"volume calculated":             {"volume 1 mL, as ordered", `"volume_ml":1,"volume_from":"as ordered"`},
		"volume given":                  {"given, 1 mL", `"given_ml":1`},
		"route":                         {"route IM", `"route":"IM"`},
		"site and side":                 {"neck triangle, right", `"site":"neck triangle","side":"right"`},
		"needle":                        {"20 G 1.5 in", `"needle":"20 G 1.5 in"`},
		"aspirated clear":               {"aspirated, clear", `"seen":"clear"`},
		"given by":                      {"by Ann", `"end_by":"Ann"`},
		"supervised by":                 {"supervised by Dr Vale", `"supervised_by":"Dr Vale"`},
		"witness":                       {"witness Bo", `"witness":"Bo"`},
		"observation end time":          {"stopped early; emergency next door; begun by Ann; 09:13:00 by Ann", `"state":"left early"`},
		"disposal":                      {"disposal sharps box", `"disposal":"sharps box"`},
		"next due":                      {"next due 2 Mar 2027", `"next_due":"2027-03-02"`},
		"certificate number":            {"certificate C-77", `"certificate":"C-77"`},
		"withdrawal":                    {"withdrawal until 1 Apr 2026", `"not_for_food_to":"2026-04-01"`},
		"check list, who went through":  {"checked, 09:06 by Ann: horse, dose", `"key":"dose","ok":true`},
		"decision, how long it holds":   {"until 2 Mar 2026 18:00", `"until":"2026-03-02T18:00:00Z"`},
		"hand-off, read back":           {"read back (by Ann)", `"read_back":true`},
		"recheck, set by whom and when": {"look at the neck (set 09:05 by Ann)", `"rechecks":[{"on":"2026-03-09"`},
		"draw":                          {"09:15:00 needle in: jugular, left, by Ann", `"draws":[{"number":1,"order":{"for":"blood count"}`},
	} {
		assert.Contains(t, flat, want.text, field)
		assert.Contains(t, string(data), want.key, field)
	}
}

// Where nobody else was there the page says so, and lists no second check.
func TestNobodyElseCheckedTheArithmetic(t *testing.T) {
	p := whole(t)
	p.Visit.Injections[0].Checks = []exam.Checked{{Key: "dose", OK: true}, {Key: procedure.SecondPerson, Words: exam.NobodyElse}}
	flat := strings.Join(strings.Fields(report.Text(p, 100)), " ")
	assert.Contains(t, flat, "arithmetic checked by no second person: nobody else here")
	assert.Contains(t, flat, "by Ann: dose arithmetic", "it is none of what was checked")
	assert.NotContains(t, flat, "not in order")
	data, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	assert.Contains(t, string(data), `{"key":"second person","ok":false,"words":"nobody else here"}`)
}

// The page takes its words from the tables: of the answers of a check list, of why something was stopped, of why
// a line came late, and of a formality.
func TestThePageOfAProcedureInAnotherLanguage(t *testing.T) {
	words.Use(examtest.MarkedWords())
	defer words.Use(nil)
	p := whole(t)
	v := &p.Visit
	v.Injections[0].Checks = []exam.Checked{{Key: "horse", OK: true, Words: exam.MarkingsCompared}, {Key: "food", OK: true, Words: exam.CompetesTold}}
	v.Injections[0].State, v.Injections[0].Why = exam.InjectionStopped, exam.StopNeedleOut
	v.Draws[0].State, v.Draws[0].Why = exam.DrawStopped, exam.StopVeinSwelling
	v.Notes = []exam.VisitNote{{
		Text: "For the record: written in English", Added: true, Why: exam.AmendForRecord, At: v.OpenedAt, By: "Ann",
		Formality: &exam.Formality{Consent: &exam.Consent{By: "J. Marlowe", For: "sedation", How: exam.ConsentWritten}},
	}}
	flat := strings.Join(strings.Fields(report.Text(p, 100)), " ")
	for _, want := range []string{
		exam.MarkingsCompared.String(), exam.CompetesTold.String(), exam.StopNeedleOut.String(), exam.StopVeinSwelling.String(), exam.AmendForRecord.String(),
		"check " + procedure.PointName("food") + ": in order", "consent to sedation given by J. Marlowe, " + exam.ConsentWritten.String(),
	} {
		assert.Contains(t, flat, want)
	}
	assert.NotContains(t, flat, "written in English", "a formality is told from its fields")
}

// A correction is dated, signed and gives its reason (calculations and procedures,
// 8.2), in a visit that is still open too; what it corrects stays on the page.
func TestACorrectedDecisionSaysByWhomAndWhy(t *testing.T) {
	d := func(vet string) *exam.Decision {
		return &exam.Decision{Words: "wait", Vet: vet, How: exam.Here, Ruling: exam.Wait}
	}
	p := page(t,
		exam.Entry{Kind: exam.EntryDecision, Decision: d("Dr Quist")},
		exam.Entry{Kind: exam.EntryDecision, Decision: d("Dr Vale"), Corrects: 2, Reason: "the name"},
	)
	flat := strings.Join(strings.Fields(report.Text(p, 100)), " ")
	assert.Contains(t, flat, `Dr Quist, here: wait for everything; "wait"; recorded by Ann; no longer valid; entry 2 corrected by entry 3, by Ann at 2 Mar 2026 09:02:00: the name`)
	assert.Contains(t, flat, `Dr Vale, here: wait for everything; "wait"; recorded by Ann`)
	data, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	assert.Contains(t, string(data), `"corrected":true`)
	assert.Contains(t, string(data), `"first":{"at":"2026-03-02T09:01:00+01:00","by":"Ann","seq":2}`)
}
